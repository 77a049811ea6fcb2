import { describe, expect, it } from 'vitest';
import { implausible, isPlausible, readCell } from '../../src/sheets/cells.ts';
import { observationDictionaries } from '../../src/sheets/sheet_tables.ts';
import { Targets } from '../../src/sheets/targets.ts';
import { parseUnit } from '../../src/units/unit.ts';
import { protocolOf } from './ingest_text.ts';

const protocol = protocolOf();
const targets = new Targets(observationDictionaries(protocol));

// NIST SP 811 (2008), appendix B: lbf 4.4482216152605 N, kgf 9.80665 N, lb 0.45359237 kg, inch 2.54 cm, foot 30.48 cm.
const LBF = 4.4482216152605;
const KGF = 9.80665;

/** `value`, `value pain`, a status, `code`, or `code: choices`. Values out of the plausible limits are rejected. */
function cell(measure: string, unit: string, text: string, decimal?: '.' | ','): string {
  const target = targets.of(protocol.byName.get(measure)!, parseUnit(unit)!, 'heading');
  let reading = readCell(text, target, decimal);
  if (reading.kind === 'reading' && !Number.isNaN(reading.value) && !isPlausible(target, reading.value, false)) {
    reading = implausible(target, text, reading.value, false);
  }
  if (reading.kind === 'reject') {
    const choices = reading.args.choices ?? [];
    return choices.length > 0 ? `${reading.code}: ${choices.join(', ')}` : reading.code;
  }
  if (Number.isNaN(reading.value)) return reading.status;
  const value = String(Number(reading.value.toPrecision(12)));
  return reading.status === 'measured' ? value : `${value} ${reading.status}`;
}

type Case = readonly [text: string, expected: string | number];

describe('a cell of a force in kilograms, kept in newtons', () => {
  it.each<Case>([
    ['20', 20 * KGF],
    ['20.5', 20.5 * KGF],
    ['+20', 20 * KGF],
    ['020', 20 * KGF],
    ['20 kg', 20 * KGF],
    ['20kg', 20 * KGF],
    ['20 kgf', 20 * KGF],
    ['120#', 120 * LBF],
    ['45 lbs', 45 * LBF],
    ['45 LB', 45 * LBF],
    ['200 N', 200],
    ['200 newtons', 200],
    ['20 *', 20 * KGF],
    ['２０', 20 * KGF],
    ['17 ½', 17.5 * KGF],
    ['20 cm', 'unit_mismatch'],
    ['20 mmHg', 'unit_mismatch'],
    ['20 xx', 'number_unreadable'],
  ])('%j: %s', (text, expected) => {
    expect(cell('hip_add', 'kgf', text)).toBe(
      typeof expected === 'number' ? String(Number(expected.toPrecision(12))) : expected,
    );
  });
});

describe('a cell that says why there is no number', () => {
  it.each<Case>([
    ['NT', 'not_tested'],
    ['nt', 'not_tested'],
    ['DNT', 'not_tested'],
    ['NA', 'not_tested'],
    ['Not tested', 'not_tested'],
    ['absent', 'not_tested'],
    ['-', 'not_tested'],
    ['—', 'not_tested'],
    ['--', 'not_tested'],
    ['-99', 'not_tested'],
    ['-999', 'not_tested'],
    ['-99.0', 'not_tested'],
    ['N/A', 'not_applicable'],
    ['n/a', 'not_applicable'],
    ['pain', 'pain'],
    ['P', 'pain'],
    ['Painful', 'pain'],
    ['unable', 'unable'],
    ['Unable to hold position', 'unable'],
    ["can't", 'unable'],
    ['DNF', 'unable'],
    ['refused', 'refused'],
    ['declined', 'refused'],
    ['inj', 'held'],
    ['Injured', 'held'],
    ['medical hold', 'held'],
    ['foul', 'void'],
    ['DQ', 'void'],
  ])('%j: %s', (text, expected) => {
    expect(cell('hip_add', 'N', text)).toBe(expected);
  });
});

describe('a painful reading keeps its value', () => {
  it.each<Case>([
    ['32 P', '32 pain'],
    ['32P', '32 pain'],
    ['32 (pain)', '32 pain'],
    ['P 32', '32 pain'],
    ['32 N pain', '32 pain'],
    ['32.5 painful', '32.5 pain'],
    ['32 with pain', '32 pain'],
    ['>32 P', 'number_censored'],
    ['pain 3', 'number_unreadable'],
  ])('%j: %s', (text, expected) => {
    expect(cell('hip_add', 'N', text)).toBe(expected);
  });
});

describe('a reading that did not hurt', () => {
  it.each<Case>([
    ['32 no pain', '32'],
    ['32, no pain', '32'],
    ['32 (pain free)', '32'],
    ['32 without pain', '32'],
    ['32 N; no pain', '32'],
    ['no pain', 'number_unreadable'],
    ['0 no pain', 'number_unreadable'],
    ['>32 no pain', 'number_censored'],
    ['unable (no pain)', 'unable'],
    ['unable, knee hurts', 'pain'],
  ])('%j: %s', (text, expected) => {
    expect(cell('hip_add', 'N', text)).toBe(expected);
  });
});

describe('a cell that is no number has a code of its own and is never 0', () => {
  it.each<Case>([
    ['WNL', 'number_unreadable'],
    ['ok', 'number_unreadable'],
    ['Bo', 'number_unreadable'],
    ['1O', 'number_unreadable'],
    ['l2', 'number_unreadable'],
    ['3.4.5', 'number_unreadable'],
    ['0x10', 'number_unreadable'],
    ['1e', 'number_unreadable'],
    ['?', 'number_unreadable'],
    ['true', 'number_unreadable'],
    ['NaN', 'number_unreadable'],
    ['Infinity', 'number_unreadable'],
    ['__proto__', 'number_unreadable'],
    ['constructor', 'number_unreadable'],
    ['=1+1', 'number_unreadable'],
    ['#DIV/0!', 'spreadsheet_error'],
    ['#N/A', 'spreadsheet_error'],
    ['#REF!', 'spreadsheet_error'],
    ['####', 'spreadsheet_error'],
    ['>30', 'number_censored'],
    ['< 30', 'number_censored'],
    ['≥30', 'number_censored'],
    ['30+', 'number_censored'],
    ['~35', 'number_approximate'],
    ['ca. 35', 'number_approximate'],
    ['35?', 'number_approximate'],
    ['32, 34, 33', 'number_unreadable'],
    ['20/21', 'number_unreadable'],
  ])('%j: %s', (text, expected) => {
    expect(cell('knee_torque', 'N.m', text)).toBe(expected);
  });
});

describe('points and commas, by what the sheet declares or shows', () => {
  it.each<readonly [text: string, open: string, point: string, comma: string]>([
    ['7,5', 'number_ambiguous: 7.5, 7 and 5', 'number_ambiguous: 7.5, 7 and 5', '7.5'],
    ['7.5', '7.5', '7.5', 'number_ambiguous: 7.5'],
    ['1,234', 'number_ambiguous: 1234, 1.234', '1234', '1.234'],
    ['1.234', '1.234', '1.234', '1234'],
    ['1,234.5', '1234.5', '1234.5', 'number_ambiguous: 1234.5'],
    ['1.234,5', '1234.5', 'number_ambiguous: 1234.5', '1234.5'],
    ['12', '12', '12', '12'],
    ['1 234', '1234', '1234', '1234'],
    [
      '98 102',
      'number_ambiguous: 98102, 98 and 102',
      'number_ambiguous: 98102, 98 and 102',
      'number_ambiguous: 98102, 98 and 102',
    ],
    [',5', 'number_ambiguous: 0.5', 'number_ambiguous: 0.5', '0.5'],
    ['.5', '0.5', '0.5', 'number_ambiguous: 0.5'],
    ['-7,5', 'number_ambiguous: -7.5, -7 and 5', 'number_ambiguous: -7.5, -7 and 5', '-7.5'],
  ])('%j: open %s, point %s, comma %s', (text, open, point, comma) => {
    // A side bend has no plausible limits, so nothing but the marks decides.
    expect([undefined, '.', ','].map((decimal) => cell('bend', 'cm', text, decimal as '.' | ',' | undefined))).toEqual([
      open,
      point,
      comma,
    ]);
  });
});

describe('a standing height in centimetres', () => {
  it.each<Case>([
    ['180', '180'],
    ['180.5', '180.5'],
    ['180 cm', '180'],
    ['1.80 m', '180'],
    ['1800 mm', '180'],
    ['71 in', '180.34'],
    ['71"', '180.34'],
    ['5\'11"', '180.34'],
    ['5’11”', '180.34'],
    ["5'11", '180.34'],
    ["6'", '182.88'],
    ['5-11', '180.34'],
    ['5 ft 11 in', '180.34'],
    ['5\'11 1/2"', '181.61'],
    ['5.11', 'height_ambiguous: 5 ft 11 in, 5.11 ft'],
    ['511', 'height_ambiguous: 5 ft 11 in, 511'],
    ['11-May', 'height_as_date: 5\'11"'],
    ['5/11/2026', 'height_as_date: 5\'11"'],
    ['71', 'implausible: 180.3 cm (centimetres and inches)'],
    ['1.80', 'implausible: 180 cm (centimetres and metres)'],
    ['18', 'implausible: 180 cm (a decimal point)'],
    ['0', 'implausible'],
    ['180 kg', 'unit_mismatch'],
  ])('%j: %s', (text, expected) => {
    expect(cell('height', 'cm', text)).toBe(expected);
  });

  it('in inches reads 71 as inches, and feet and inches as such', () => {
    expect(['71', '5-11', '180 cm'].map((text) => cell('height', '[in_i]', text))).toEqual(['180.34', '180.34', '180']);
  });
});

describe('a length that is no standing height', () => {
  it.each<Case>([
    ['150', '150'],
    ['12.5cm', '12.5'],
    ['5\'11"', '180.34'],
    ['5 ft 2 in', '157.48'],
    // Not a notation of heights here: it may be a range, and two trials.
    ['5-11', 'number_unreadable'],
    ['5.11', '5.11'],
    [
      '511',
      'implausible: 201.2 cm (centimetres and inches), 42.58 cm (inches and feet), 5.11 cm (centimetres and metres), 16.77 cm (centimetres and feet), 51.1 cm (a decimal point)',
    ],
    ['1.5 m', '150'],
    ['-2', 'implausible'],
  ])('%j: %s', (text, expected) => {
    expect(cell('hop', 'cm', text)).toBe(expected);
  });

  it('may be below zero where the limits allow it', () => {
    expect(['-2', '−2', '-60'].map((text) => cell('lunge', 'cm', text))).toEqual([
      '-2',
      '-2',
      'implausible: -5 cm (inches and feet), -0.6 cm (centimetres and metres), -1.969 cm (centimetres and feet)',
    ]);
  });
});

describe('a time in seconds', () => {
  it.each<Case>([
    ['1.92', '1.92'],
    ['0:01.92', '1.92'],
    ['1:02.5', '62.5'],
    ['00:01:02', '62'],
    ['1.92 s', '1.92'],
    ['1.92 sec', '1.92'],
    ['1920 ms', '1.92'],
    ['2 min', '120'],
    ['1.92"', 'number_unreadable'],
    ['1:75', 'number_unreadable'],
    ['0.05', 'implausible: 0.5 s (a decimal point)'],
  ])('%j: %s', (text, expected) => {
    expect(cell('sprint', 's', text)).toBe(expected);
  });
});

describe('a mass, an angle, a pulse', () => {
  it.each<readonly [measure: string, unit: string, text: string, expected: string]>([
    ['body_mass', 'kg', '70', '70'],
    ['body_mass', 'kg', '154 lb', '69.85322498'],
    ['body_mass', 'kg', '154#', '69.85322498'],
    ['body_mass', '[lb_av]', '154', '69.85322498'],
    ['body_mass', 'kg', '7', 'implausible: 70 kg (a decimal point)'],
    ['body_mass', 'kg', '700 N', 'unit_mismatch'],
    ['hip_ir', 'deg', '45', '45'],
    ['hip_ir', 'deg', '45°', '45'],
    ['hip_ir', 'deg', '45 deg', '45'],
    ['hip_ir', 'deg', '-5', '-5'],
    ['hip_ir', 'deg', '-99', 'not_tested'],
    ['hip_ir', 'deg', '135', 'implausible: 13.5° (a decimal point)'],
    ['hip_ir', 'deg', '45 %', 'unit_mismatch'],
    ['pulse', '/min', '72', '72'],
    ['pulse', '/min', '72 bpm', '72'],
    ['pulse', '/min', '72/min', '72'],
  ])('%s in %s, %j: %s', (measure, unit, text, expected) => {
    expect(cell(measure, unit, text)).toBe(expected);
  });
});

describe('a score with levels', () => {
  it.each<Case>([
    ['0', '0'],
    ['3', '3'],
    ['3.0', '3'],
    ['2 faults', 'number_unreadable'],
    ['2 points', '2'],
    ['4', 'implausible'],
    ['-1', 'implausible'],
    ['1.5', 'implausible'],
    ['2+', 'number_censored'],
    ['2 P', '2 pain'],
  ])('%j: %s', (text, expected) => {
    expect(cell('squat_faults', '1', text)).toBe(expected);
  });

  it('is told which levels there are', () => {
    const target = targets.of(protocol.byName.get('squat_faults')!, parseUnit('1')!, 'heading');
    const found = implausible(target, '4', 4, false);
    expect(found).toMatchObject({ code: 'implausible', args: { raw: '4', expected: 'the levels 0, 1, 2, 3' } });
  });
});

describe('an impossible reading in another unit than the measure', () => {
  const foundOf = (measure: string, unit: string, text: string): string | undefined => {
    const target = targets.of(protocol.byName.get(measure)!, parseUnit(unit)!, 'heading');
    const reading = readCell(text, target, undefined);
    if (reading.kind === 'reject') return reading.code;
    return implausible(target, text, reading.value, false, reading.cellUnit).args.found;
  };

  it('is told with its converted value', () => {
    // 62 × 0.45359237; 5 in × 2.54; 2 ft 2 in × 2.54 (NIST SP 811).
    expect(foundOf('body_mass', '[lb_av]', '62')).toBe('28.12 kg');
    expect(foundOf('body_mass', 'kg', '62 lb')).toBe('28.12 kg');
    expect(foundOf('height', 'cm', "2'2")).toBe('66.04 cm');
    expect(foundOf('body_mass', 'kg', '28')).toBeUndefined();
    expect(foundOf('body_mass', '[lb_av]', '28 kg')).toBeUndefined();
  });
});

describe('what an impossible force may have been', () => {
  // 2 N: as newtons per kilogram and per pound, 2 × 9.80665 and 2 × 4.4482216152605; ten times 2. Worked out by hand.
  it('names units and decimal points that bring it back within the limits', () => {
    expect(cell('hip_add', 'N', '2')).toBe('implausible: 19.61 N (newtons and kilograms), 20 N (a decimal point)');
    expect(cell('hip_add', 'N', '5000')).toContain('509.9 N (newtons and kilograms)');
  });

  it('judges both limbs at once by their own limits', () => {
    const grip = targets.of(protocol.byName.get('grip')!, parseUnit('kgf')!, 'heading');
    expect([isPlausible(grip, 200, false), isPlausible(grip, 200, true), isPlausible(grip, 301, true)]).toEqual([
      false,
      true,
      false,
    ]);
  });

  it('takes the limits themselves, whatever a double makes of them', () => {
    const hip = targets.of(protocol.byName.get('hip_add')!, parseUnit('kgf')!, 'heading');
    // 1000 N is 101.97162129779283 kgf (1000 / 9.80665).
    expect(isPlausible(hip, hip.convert(1000 / KGF), false)).toBe(true);
  });
});

describe('long and odd cells', () => {
  it.each([
    ['digits', '1'.repeat(100_000)],
    ['letters', 'x'.repeat(100_000)],
    ['commas', '1,'.repeat(50_000)],
    ['blanks between', `1${' '.repeat(100_000)}1`],
    ['pain', 'P '.repeat(50_000)],
    ['question marks', `1${'a?'.repeat(50_000)}`],
    ['plus signs', `1${'+a'.repeat(50_000)}`],
    ['stars', `1${'* '.repeat(50_000)}a`],
    ['feet', "5'".repeat(50_000)],
  ])('100 000 characters of %s are refused at once', (_, text) => {
    const started = performance.now();
    for (const [measure, unit] of [
      ['hip_add', 'N'],
      ['height', 'cm'],
      ['sprint', 's'],
    ] as const) {
      expect(cell(measure, unit, text)).toBe('number_unreadable');
    }
    expect(performance.now() - started).toBeLessThan(500);
  });
});
