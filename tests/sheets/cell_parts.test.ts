import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { rejectMessage } from '../../src/problems/rejects.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { cellParts, type PartsAsked } from '../../src/sheets/cell_parts.ts';
import { readCell } from '../../src/sheets/cells.ts';
import { observationDictionaries } from '../../src/sheets/sheet_tables.ts';
import { Targets } from '../../src/sheets/targets.ts';
import { parseUnit } from '../../src/units/unit.ts';
import { BATTERY } from './battery.ts';

const GRADED = `
  strength_grade:
    label: Muscle grade
    unit: "1"
    sides: each
    levels: [0, 1, 2, 3, 4, 5]
    headings: [grade]
  knee_flexion:
    label: Knee flexion
    unit: deg
    sides: each
    plausible: [0, 170]
    headings: [knee flexion]
`;
const protocol = loadProtocol(BATTERY.replace('\nderived:', `${GRADED}derived:`), 'protocol.yaml');
const targets = new Targets(observationDictionaries(protocol));

interface Asked {
  readonly measure?: string;
  readonly unit?: string;
  readonly decimal?: '.' | ',';
  readonly sideOpen?: boolean;
  readonly trialGiven?: boolean;
}

function askedOf({ measure: name = 'hop', unit, decimal, sideOpen = false, trialGiven = false }: Asked): PartsAsked {
  const measure = protocol.byName.get(name)!;
  const target = targets.of(measure, unit === undefined ? measure.unit : parseUnit(unit)!, 'heading');
  return { target, decimal, sideOpen, trialGiven };
}

/** `trials a|b`, `sides a|b`, `named a|b`, `one a`, or the words of the problem. */
function parted(text: string, asked: Asked = {}): string {
  const parts = cellParts(text, askedOf(asked));
  if (parts.kind === 'one') return `one ${parts.text}`;
  if (parts.kind === 'problem') return rejectMessage(parts.code, parts.args).replace(/^".*" can be/su, 'can be');
  const kind = parts.kind === 'sides' && parts.named ? 'named' : parts.kind;
  return `${kind} ${parts.texts.join('|')}`;
}

type Case = readonly [text: string, expected: string];

describe('several trials in one cell', () => {
  it.each<Case>([
    ['32, 34, 33', 'trials 32|34|33'],
    ['32, 34', 'trials 32|34'],
    ['32; 34; 33', 'trials 32|34|33'],
    ['32;34;33', 'trials 32|34|33'],
    ['32,34,33', 'trials 32|34|33'],
    ['32 / 34 / 33', 'trials 32|34|33'],
    ['32/34/33', 'trials 32|34|33'],
    ['32 34 33', 'trials 32|34|33'],
    ['32 34', 'trials 32|34'],
    ['32  34  33', 'trials 32|34|33'],
    ['32.5 34.25', 'trials 32.5|34.25'],
    ['32\n34\n33', 'trials 32|34|33'],
    ['32\r\n34', 'trials 32|34'],
    ['148 → 132', 'trials 148|132'],
    ['148 -> 132', 'trials 148|132'],
    ['148->132', 'trials 148|132'],
    ['148 => 132', 'trials 148|132'],
    ['148 –> 132', 'trials 148|132'],
    ['32, 34 P, NT', 'trials 32|34 P|NT'],
    ['32, 34 P', 'trials 32|34 P'],
    ['32 34P 33', 'trials 32|34P|33'],
    ['32, -, 33', 'trials 32|-|33'],
    ['NT/32/33', 'trials NT|32|33'],
    ['N/A, 32', 'trials N/A|32'],
    ['32/N/A/33', 'trials 32|N/A|33'],
    ['NT, NT, NT', 'trials NT|NT|NT'],
    ['32, 34, unable', 'trials 32|34|unable'],
    ['32, 34, pain', 'trials 32|34|pain'],
    ['32kg, 34kg', 'one 32kg, 34kg'],
    ['32cm, 34cm', 'trials 32cm|34cm'],
    ['32 cm 34 cm', 'trials 32 cm|34 cm'],
    ['32cm, 34', 'trials 32cm|34'],
    ['32, 34, 33 in', 'trials 32 in|34 in|33 in'],
    ['32 34 33 in', 'trials 32 in|34 in|33 in'],
    ['32 P, 34, NT, 33 in', 'trials 32 in P|34 in|NT|33 in'],
    ['32, 34 in (P)', 'trials 32 in|34 in (P)'],
    ["6'4, 6'6", "trials 6'4|6'6"],
    ['17 1/2, 18 ¼', 'trials 17 1/2|18 ¼'],
    ['1m80, 1m85', 'trials 1m80|1m85'],
    ['３２，３４，３３', 'trials 32|34|33'],
    ['32\u00a034\u00a033', 'trials 32|34|33'],
    [
      Array.from({ length: 20 }, (_, at) => at + 30).join(', '),
      `trials ${Array.from({ length: 20 }, (_, at) => at + 30).join('|')}`,
    ],
  ])('%j: %s', (text, expected) => {
    expect(parted(text)).toBe(expected);
  });

  it('in a column of forces take a unit of mass, of each or behind the last', () => {
    expect(parted('32kg, 34kg', { measure: 'hip_add' })).toBe('trials 32kg|34kg');
    expect(parted('32, 34, 33 kg', { measure: 'hip_add' })).toBe('trials 32 kg|34 kg|33 kg');
    expect(parted('3.2/3.3/3.1 N.m/kg', { measure: 'knee_torque' })).toBe('one 3.2/3.3/3.1 N.m/kg');
    expect(parted('0:01.92, 1.95', { measure: 'sprint' })).toBe('trials 0:01.92|1.95');
    expect(parted('72 bpm, 70 bpm', { measure: 'pulse' })).toBe('trials 72 bpm|70 bpm');
  });

  it('with a decimal comma are parted by semicolons, by comma and space or by spaces', () => {
    const asked = { decimal: ',' } as const;
    expect(parted('32,5; 33,1', asked)).toBe('trials 32,5|33,1');
    expect(parted('32,5, 33,1', asked)).toBe('trials 32,5|33,1');
    expect(parted('32,5 33,1', asked)).toBe('trials 32,5|33,1');
    expect(parted('32,5/33,1/30', asked)).toBe('trials 32,5|33,1|30');
    expect(parted('32,34,33', asked)).toBe('one 32,34,33');
    expect(parted('12.5; 13.1', asked)).toBe('can be 12.5 and 13.1.');
  });
});

describe('what is one reading, a reject, or no list', () => {
  it.each<Case>([
    ['1,234,567', 'one 1,234,567'],
    ['1,234', 'one 1,234'],
    ['35,40', 'one 35,40'],
    ['98 102', 'one 98 102'],
    ['150 152 149', 'one 150 152 149'],
    ['1 234', 'one 1 234'],
    ['32 cm', 'one 32 cm'],
    ['32 P', 'one 32 P'],
    ['17 1/2', 'one 17 1/2'],
    ["5'11", "one 5'11"],
    ['N/A', 'one N/A'],
    ['n/a', 'one n/a'],
    ['not tested', 'one not tested'],
    ['>32, 34', 'one >32, 34'],
    ['32, >34', 'one 32, >34'],
    ['32, 34, 33+', 'one 32, 34, 33+'],
    ['32, sore', 'one 32, sore'],
    ['32,, 34', 'one 32,, 34'],
    ['32, 34,', 'one 32, 34,'],
    ['32 34 NT', 'one 32 34 NT'],
    ['32 - 34', 'one 32 - 34'],
    ['32 -34', 'one 32 -34'],
    ['32-34', 'one 32-34'],
    ['pain 3', 'one pain 3'],
    ['3/4/2026', 'one 3/4/2026'],
    ['2026/04/03', 'one 2026/04/03'],
    ['32 in, 34', 'one 32 in, 34'],
    ['32 x 3', 'one 32 x 3'],
    ['2 of 3', 'one 2 of 3'],
    ['32 (34)', 'one 32 (34)'],
    ['1O, 32', 'one 1O, 32'],
    ['35 R', 'one 35 R'],
    ['L 35, R 40', 'one L 35, R 40'],
    ['32/34; 33/35', 'one 32/34; 33/35'],
    ['0-135', 'one 0-135'],
    [Array.from({ length: 21 }, () => '32').join(', '), `one ${Array.from({ length: 21 }, () => '32').join(', ')}`],
  ])('%j', (text, expected) => {
    expect(parted(text)).toBe(expected);
    // What is handed back as a list of trials that is none is a reject of readCell, or one reading.
    expect(() => readCell(text, askedOf({}).target, undefined)).not.toThrow();
  });
});

describe('a list that can be read two ways names both', () => {
  it.each<Case>([
    ['32/34', 'can be trials 32, 34 or left 32 and right 34.'],
    ['98,102,99', 'can be trials 98, 102, 99 or trials 98102, 99.'],
    ['98 102 99', 'can be trials 98, 102, 99 or trials 98102, 99.'],
    ['1 234 1 250', 'can be trials 1, 234, 1, 250 or trials 1234, 1250.'],
    ['32,34,33,35', 'can be trials 32, 34, 33, 35 or trials 32.34, 33.35.'],
    ['32,5, 33,1', 'can be 32.5 and 33.1 or 32 and 5 and 33 and 1.'],
    ['32,5/33,1', 'can be 32.5 and 33.1 or 32 and 5 and 33 and 1.'],
    ['1,234, 1,300', 'can be 1234 and 1300 or 1.234 and 1.3.'],
    ['12/10/11', 'can be trials 12, 10, 11 or a date.'],
    ['32, pain', 'can be 32 with pain or trials 32, pain.'],
    ['pain, 3', 'can be 3 with pain or trials pain, 3.'],
    ['5 11', 'can be 5 ft 11 in or trials 5 and 11.'],
    ['1/2', 'can be 0.5 or trials 1, 2.'],
    ['3/4 in', 'can be 0.75 or trials 3, 4 in.'],
    ['1 43', 'can be 143 or trials 1, 43.'],
    ['1 5.2', 'can be 15.2 or trials 1, 5.2.'],
    ['4 8', 'can be 4 ft 8 in or 48 or trials 4 and 8.'],
    ['2 8', 'can be 28 or trials 2, 8.'],
    ['1 5 0', 'can be 150 or trials 1, 5, 0.'],
    ['1 43 cm', 'can be 143 cm or trials 1, 43 cm.'],
    ['1 43 P', 'can be 143 P or trials 1, 43 P.'],
  ])('%j %s', (text, expected) => {
    expect(parted(text)).toBe(expected);
  });

  it('where the sheet declares a decimal point there are four trials', () => {
    expect(parted('32,34,33,35', { decimal: '.' })).toBe('trials 32|34|33|35');
  });

  it('of a measure without sides it can be a choice of one', () => {
    expect(parted('1.92/1.95', { measure: 'sprint' })).toBe('can be trials 1.92, 1.95 or one of the two.');
  });

  it('a space may stand in a number of a measure without limits, in one of both limbs and in a reversed one', () => {
    expect(parted('32 34', { measure: 'bend' })).toBe('can be 3234 or trials 32, 34.');
    expect(parted('20 0', { measure: 'grip' })).toBe('can be 200 or trials 20, 0.');
    expect(parted('1 2', { measure: 'squat_faults' })).toBe('trials 1|2');
    const reversed = { ...askedOf({ measure: 'hip_ir' }), reversed: true };
    // -9.5 is within the limits of -10 to 90 degrees, -95 is not.
    expect(cellParts('0 9.5', reversed)).toMatchObject({
      kind: 'problem',
      args: { choices: ['09.5', 'trials 0, 9.5'] },
    });
    expect(cellParts('9 5', reversed)).toMatchObject({ kind: 'trials' });
  });

  it('says how to write a number with a space in it', () => {
    expect(cellParts('1 43', askedOf({}))).toMatchObject({
      args: { expected: 'the number without the space, or one trial a cell' },
      hurts: false,
    });
  });

  it('8 and 9 of a lunge are no feet and inches, which no ankle reaches', () => {
    expect(parted('8 9', { measure: 'lunge' })).toBe('trials 8|9');
  });

  it('where heading or row numbers the trial a list contradicts it', () => {
    const asked = { trialGiven: true };
    for (const text of ['32, 34, 33', '32/34/33', '32 34 33']) {
      expect(parted(text, asked)).toBe('can be trials 32, 34, 33 or the one trial that heading or row numbers.');
    }
    expect(parted('148 → 132', asked)).toBe('can be trials 148, 132 or the one trial that heading or row numbers.');
    expect(parted('32/34', { ...asked, sideOpen: true })).toBe('sides 32|34');
  });

  it('says how to write it, and whether it hurt', () => {
    expect(cellParts('32/34P', askedOf({}))).toEqual({
      kind: 'problem',
      code: 'number_ambiguous',
      args: {
        raw: '32/34P',
        choices: ['trials 32, 34P', 'left 32 and right 34P'],
        expected: 'one trial a cell',
      },
      hurts: true,
    });
    expect(cellParts('32/34', askedOf({}))).toMatchObject({ hurts: false });
    expect(cellParts('pain/pain', askedOf({}))).toMatchObject({ hurts: true });
    expect(cellParts('32/34 no pain', askedOf({}))).toMatchObject({ kind: 'problem', hurts: false });
  });
});

describe('both sides in one cell where the side is open', () => {
  it.each<Case>([
    ['35/40', 'sides 35|40'],
    ['35 / 40', 'sides 35|40'],
    ['35.5/40', 'sides 35.5|40'],
    ['35/40P', 'sides 35|40P'],
    ['35 (P)/40', 'sides 35 (P)|40'],
    ['P/40', 'sides P|40'],
    ['NT/40', 'sides NT|40'],
    ['-/40', 'sides -|40'],
    ['35/-', 'sides 35|-'],
    ['N/A/40', 'sides N/A|40'],
    ['N/A / 40', 'sides N/A|40'],
    ['35/n/a', 'sides 35|n/a'],
    ['NT/NT', 'sides NT|NT'],
    ['35/40 cm', 'sides 35|40 cm'],
    ['35/40 in', 'sides 35 in|40 in'],
    ['17 1/2 / 18', 'sides 17 1/2|18'],
    ['17½/18', 'sides 17½|18'],
    ['L35 R40', 'named 35|40'],
    ['L 35, R 40', 'named 35|40'],
    ['L: 35; R: 40', 'named 35|40'],
    ['L=35 R=40', 'named 35|40'],
    ['L. 35 R. 40', 'named 35|40'],
    ['R 40, L 35', 'named 35|40'],
    ['R40/L35', 'named 35|40'],
    ['(L) 35 (R) 40', 'named 35|40'],
    ['Left 35 Right 40', 'named 35|40'],
    ['Lt 35 and Rt 40', 'named 35|40'],
    ['L 35\nR 40', 'named 35|40'],
    ['35 L / 40 R', 'named 35|40'],
    ['35L/40R', 'named 35|40'],
    ['40R/35L', 'named 35|40'],
    ['35 (L), 40 (R)', 'named 35|40'],
    ['35 left and 40 right', 'named 35|40'],
    ['L 35 P, R 40', 'named 35 P|40'],
    ['L NT, R 40', 'named NT|40'],
    ['L N/A, R 40', 'named N/A|40'],
    ['L -, R 40', 'named -|40'],
    ['L 35, R 40 in', 'named 35 in|40 in'],
    ['L 35 cm R 40 cm', 'named 35 cm|40 cm'],
    ['L .5 R 1.5', 'named .5|1.5'],
    ['32/34/33', 'trials 32|34|33'],
    ['148 → 132', 'trials 148|132'],
    ['32, 34, 33', 'trials 32|34|33'],
    ['35, 40', 'can be trials 35, 40 or left 35 and right 40.'],
    ['35\n40', 'can be trials 35, 40 or left 35 and right 40.'],
    ['35 40', 'can be trials 35, 40 or left 35 and right 40.'],
    ['1 43', 'can be 143 or trials 1, 43 or left 1 and right 43.'],
    ['1/2', 'can be 0.5 or left 1 and right 2.'],
    ['L 32,5 R 33,1', 'can be 32.5 and 33.1 or 32 and 5 and 33 and 1.'],
    ['N/A', 'one N/A'],
    ['n/a', 'one n/a'],
    ['3/4/2026', 'one 3/4/2026'],
    ['17 1/2', 'one 17 1/2'],
    ['L 35', 'one L 35'],
    ['L 35 L 40', 'one L 35 L 40'],
    ['L 35 R', 'one L 35 R'],
    ['L R', 'one L R'],
    ['L-35 R-40', 'one L-35 R-40'],
    ['35L-40R', 'one 35L-40R'],
    ['L 32, 34 R 30, 31', 'one L 32, 34 R 30, 31'],
    ['35/x', 'one 35/x'],
    ['35/', 'one 35/'],
    ['35-40', 'one 35-40'],
    ['35 kg/40 kg', 'one 35 kg/40 kg'],
  ])('%j: %s', (text, expected) => {
    expect(parted(text, { sideOpen: true })).toBe(expected);
  });

  it('keeps the minus of an angle that is written after a space', () => {
    expect(parted('L -5 R 10', { measure: 'hip_ir', sideOpen: true })).toBe('named -5|10');
  });
});

describe('muscle grades are no pair', () => {
  const grade = { measure: 'strength_grade', sideOpen: true };
  it.each(['4+/5', '4-/5', '4–/5', '3+/5', '4+/5 P', '4+/4'])('%s is unreadable', (text) => {
    for (const asked of [grade, { ...grade, sideOpen: false }, { sideOpen: true }]) {
      expect(parted(text, asked)).toBe(`one ${text}`);
      expect(readCell(text, askedOf(asked).target, undefined)).toMatchObject({ code: 'number_unreadable' });
    }
  });

  it('without a sign are open between the grade and the pair', () => {
    expect(parted('4/5', grade)).toBe('can be grade 4 of 5 or left 4 and right 5.');
    expect(parted('5/5', grade)).toBe('can be grade 5 of 5 or left 5 and right 5.');
    expect(parted('4/5', { ...grade, sideOpen: false })).toBe('can be grade 4 of 5 or trials 4, 5.');
    expect(parted('4/4', grade)).toBe('sides 4|4');
  });

  it('an angle, a length and a force are not graded', () => {
    for (const measure of ['hip_ir', 'hop', 'hip_add']) {
      expect(parted('4/5', { measure, sideOpen: true })).toBe('sides 4|5');
    }
  });
});

describe('ranges of motion by the neutral-zero method', () => {
  const asked = { measure: 'knee_flexion' };
  it.each<Case>([
    ['0-135', 'one 135'],
    ['0–135°', 'one 135°'],
    ['0 - 135 deg', 'one 135 deg'],
    ['0°-135°', 'one 135°'],
    ['0 to 135', 'one 135'],
    ['0-135 P', 'one 135 P'],
    ['0-0', 'one 0'],
    ['0-112.5', 'one 112.5'],
    ['5-135', 'can be 135° at one end or 5° at the other or 130° between them.'],
    ['5-0-135', 'can be 135° at one end or 5° at the other or 140° between them.'],
    ['10-0-50', 'can be 50° at one end or 10° at the other or 60° between them.'],
    ['0-5-135', 'can be 135° at one end or 5° at the other or 130° between them.'],
    ['135-5-0', 'can be 135° at one end or 5° at the other or 130° between them.'],
    ['135/0/5', 'can be trials 135, 0, 5 or 5° at one end or 135° at the other or 140° between them.'],
    ['10-20-30', 'one 10-20-30'],
    ['-5-135', 'one -5-135'],
    ['120, 125, 118', 'trials 120|125|118'],
    ['0-120, 0-125', 'trials 120|125'],
  ])('%j: %s', (text, expected) => {
    expect(parted(text, asked)).toBe(expected);
  });

  it('stand on both sides of a slash', () => {
    expect(parted('0-130/0-135', { ...asked, sideOpen: true })).toBe('sides 130|135');
    expect(parted('L 0-130 R 0-135', { ...asked, sideOpen: true })).toBe('named 130|135');
  });

  it.each(['hop', 'hip_add', 'sprint', 'height'])('are none of %s', (measure) => {
    expect(parted('0-135', { measure })).toBe('one 0-135');
  });
});

describe('a standing height', () => {
  it.each(['5-11', '5 11', '5/11', '5/11/2026', '11-May', "5'11", '5,11', '1 m 80'])('%j is one reading', (text) => {
    expect(parted(text, { measure: 'height' })).toBe(`one ${text}`);
  });

  it('can be taken twice', () => {
    expect(parted('180, 181', { measure: 'height' })).toBe('trials 180|181');
    expect(parted('5\'11", 6\'0"', { measure: 'height' })).toBe('trials 5\'11"|6\'0"');
  });
});

describe('any cell', () => {
  const measures = [...protocol.byName.values()].filter(({ derivation }) => derivation === undefined);
  const asked = fc.record({
    measure: fc.constantFrom(...measures.map(({ name }) => name)),
    decimal: fc.constantFrom('.' as const, ',' as const, undefined),
    sideOpen: fc.boolean(),
    trialGiven: fc.boolean(),
  });
  const cell = fc.string({ unit: fc.constantFrom(...'0123456789,;/ .-+°\'"LRPNT→\n½'), minLength: 1, maxLength: 30 });

  it('falls into parts that all read by themselves, at most twenty, or stays as it is', () => {
    fc.assert(
      fc.property(cell, asked, (written, given) => {
        const text = written.trim();
        if (text === '') return;
        const parts = cellParts(text, askedOf(given));
        if (parts.kind !== 'trials' && parts.kind !== 'sides') return;
        expect(parts.texts.length).toBeGreaterThan(1);
        expect(parts.texts.length).toBeLessThanOrEqual(20);
        for (const part of parts.texts) {
          expect(readCell(part, askedOf(given).target, given.decimal).kind).toBe('reading');
        }
      }),
      { numRuns: 500 },
    );
  });

  it.each(['32, ', '32/', '32 ', 'L 3 ', '0-', '3,', ' ', '→', '- ', '1/2 ', 'P '])(
    'returns at once on %j repeated',
    (piece) => {
      const started = performance.now();
      for (const length of [390, 1_000_000]) {
        const text = piece.repeat(Math.ceil(length / piece.length)).slice(0, length);
        for (const measure of ['hop', 'knee_flexion', 'strength_grade', 'height', 'sprint']) {
          cellParts(text, askedOf({ measure, sideOpen: true }));
        }
      }
      expect(performance.now() - started).toBeLessThan(1000);
    },
  );
});
