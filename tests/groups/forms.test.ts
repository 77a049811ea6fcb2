import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import type { Member } from '../../src/athletes/members.ts';
import { type FormColumn, formHeadings } from '../../src/groups/form_headings.ts';
import { blankSheet, formsFor } from '../../src/groups/forms.ts';
import { heldTestReader } from '../../src/groups/limits.ts';
import { Failure } from '../../src/problems/failure.ts';
import type { Measure, Protocol } from '../../src/protocol/types.ts';
import { converter, parseUnit } from '../../src/units/unit.ts';
import { SEEDED } from '../seeded.ts';
import { BATTERY } from '../sheets/battery.ts';
import { ingestText, protocolOf } from '../sheets/ingest_text.ts';
import { deskOf, hold } from './coverage_build.ts';

const STARTER = readFileSync(new URL('../../src/protocol/starter/protocol.yaml', import.meta.url), 'utf8');
const member = (athleteId: string, team: string | null = 'Rowing'): Member => ({
  athleteId,
  team,
  sex: null,
  leftDay: null,
});
const taken = (protocol: Protocol): Measure[] => protocol.measures.filter(({ derivation }) => derivation === undefined);
const columnsOf = (text: string, unitOf: (measure: Measure) => string | null = () => null): readonly FormColumn[] => {
  const protocol = protocolOf(text);
  return formHeadings(protocol, unitOf)(taken(protocol));
};
const small = (measures: string): string => `bilat: 1\nname: Small\nmeasures:\n${measures}`;
const headingsOf = (measures: string, unitOf?: (measure: Measure) => string | null): string[] =>
  columnsOf(small(measures), unitOf).map(({ heading }) => heading);

describe('headings', () => {
  test('have side, attempt and unit, left before right', () => {
    expect(
      headingsOf('  grip: { label: Grip strength, unit: kgf, sides: each, trials: { expect: 2 }, headings: [grip] }'),
    ).toEqual([
      'Grip strength L 1 (kgf)',
      'Grip strength L 2 (kgf)',
      'Grip strength R 1 (kgf)',
      'Grip strength R 2 (kgf)',
    ]);
  });

  test('name no attempt where one is expected, and no unit of a count', () => {
    expect(headingsOf('  faults: { label: Squat faults, unit: "1", sides: each, compare: none }')).toEqual([
      'Squat faults L',
      'Squat faults R',
    ]);
  });

  test.each([
    ['deg', 'deg'],
    ['mm[Hg]', 'mmHg'],
    ['N.m', 'N.m'],
    ['[in_i]', 'in'],
    ['[lbf_av]', 'lbf'],
    ['/min', '/min'],
    ['%', '%'],
  ])('write the unit %s as %s: plain letters survive every spreadsheet', (unit, written) => {
    expect(headingsOf(`  thing: { label: Thing, unit: "${unit}", sides: none }`)).toEqual([`Thing (${written})`]);
  });

  test('name the unit in which the measure is mostly written, else the one of the protocol', () => {
    const yaml = '  grip: { label: Grip strength, unit: N, written_in: kgf, sides: none }';
    expect(headingsOf(yaml)).toEqual(['Grip strength (kgf)']);
    expect(headingsOf(yaml, () => '[lbf_av]')).toEqual(['Grip strength (lbf)']);
    // Pounds of a height, or feet below which inches would be written, are of no use.
    expect(headingsOf('  height: { label: Height, unit: cm, sides: none }', () => '[lbf_av]')).toEqual(['Height (cm)']);
    expect(headingsOf('  height: { label: Height, unit: cm, sides: none }', () => '[ft_i]')).toEqual(['Height (cm)']);
  });

  test('take the first name of plain letters', () => {
    expect(headingsOf('  rot: { label: Rotation at 90°, unit: deg, sides: none, headings: [rot at 90] }')).toEqual([
      'Rot at 90 (deg)',
    ]);
    expect(headingsOf('  groesse: { label: Größe, unit: cm, sides: none }')).toEqual(['Groesse (cm)']);
  });

  test('pass over a label that two measures share', () => {
    const yaml = `  one: { label: Hop, unit: cm, sides: none, headings: [far hop] }
  two: { label: Hop, unit: cm, sides: none }`;
    expect(headingsOf(yaml)).toEqual(['Far hop (cm)', 'Two (cm)']);
  });

  test('pass over a label that is a role', () => {
    expect(headingsOf('  date: { label: Date, unit: "1", sides: none, headings: [days since] }')).toEqual([
      'Days since',
    ]);
  });

  test('are refused where none would be read back', () => {
    // Each is called what the other is called.
    const yaml = `  one: { label: Two, unit: cm, sides: none }
  two: { label: One, unit: cm, sides: none }`;
    expect(() => headingsOf(yaml)).toThrow(Failure);
    expect(() => headingsOf(yaml)).toThrow('no heading of one would be read back as it');
  });
});

describe('which sheets', () => {
  const protocol =
    protocolOf(`${small('  hip: { label: Hip, unit: N, sides: each }\n  height: { label: Height, unit: cm, sides: none }')}
sport_groups: { groin: { label: Groin, teams: [Rowing], measures: [hip] } }
everyone: [height]
`);
  const [hip, height] = protocol.measures;
  const stations = [
    { name: 'Hall', measures: [hip] },
    { name: 'Door', measures: [height] },
  ];
  const people = [member('A1'), member('A2', 'Rowing;Fencing'), member('A3', 'Chess'), member('A4', null)];
  const options = { team: undefined, isNamed: false, lacks: undefined };
  const brief = (given: Partial<typeof options> | { lacks: (id: string, measure: string) => boolean }): string[] =>
    formsFor(stations, people, protocol, { ...options, ...given }).map(
      ({ station, team, members }) => `${station.name} ${team} ${members.map((one) => one.athleteId).join(',')}`,
    );

  test('one a station and team, with what the team is given there', () => {
    // A2 is a rower among the fencers: the sheet of the fencers has the hip for that one.
    expect(brief({})).toEqual([
      'Hall Fencing A2',
      'Hall Rowing A1,A2',
      'Door Chess A3',
      'Door Fencing A2',
      'Door Rowing A1,A2',
      'Door null A4',
    ]);
  });

  test('of one team alone', () => expect(brief({ team: 'Chess' })).toEqual(['Door Chess A3']));
  test('with measures that are named, whatever the team is given', () =>
    expect(brief({ team: 'Chess', isNamed: true })).toEqual(['Hall Chess A3', 'Door Chess A3']));
  test('of those alone who lack something', () => {
    const lacks = (id: string, measure: string): boolean => id === 'A2' && measure === 'height';
    expect(brief({ lacks })).toEqual(['Door Fencing A2', 'Door Rowing A2']);
  });
});

describe('a blank sheet', () => {
  const columns = columnsOf(small('  grip: { label: Grip, unit: kgf, sides: each }'));
  const rows = [member('A1'), member('=A2')];
  const options = { isHeld: (id: string) => id === 'A1', date: null, names: undefined };
  const form = { team: 'Rowing', members: rows };

  test('has ids and team, and held in every cell of who is held', () => {
    expect(blankSheet(form, columns, options)).toBe(
      "athlete_id,team,date,tester,device,Grip L (kgf),Grip R (kgf)\nA1,Rowing,,,,held,held\n'=A2,Rowing,,,,,\n",
    );
  });

  test('has day and names where they are asked for', () => {
    const names = new Map([['A1', ['Reed, of Ely', 'Bo'] as const]]);
    expect(blankSheet({ ...form, team: null }, columns, { ...options, date: '2026-08-17', names })).toBe(
      'athlete_id,last_name,first_name,team,date,tester,device,Grip L (kgf),Grip R (kgf)\n' +
        'A1,"Reed, of Ely",Bo,,2026-08-17,,,held,held\n' +
        "'=A2,,,,2026-08-17,,,,\n",
    );
  });
});

describe('is read back without any hint', () => {
  /** A value in the unit of the heading that is plausible. */
  const valueFor = ({ measure, unit }: FormColumn, share: number): string => {
    const { plausible = [20, 40], levels } = measure;
    if (levels) return String(levels[Math.floor(share * levels.length) % levels.length]);
    const value = plausible[0] + (0.25 + share / 2) * (plausible[1] - plausible[0]);
    return String(Number(converter(measure.unit, parseUnit(unit)!)(value).toPrecision(4)));
  };
  const WORDS = ['', '', 'pain', 'unable', 'refused', 'held', 'NT', 'void'] as const;
  const STATUS: Readonly<Record<string, string>> = { NT: 'not_tested' };
  const cell = fc.oneof(
    { weight: 4, arbitrary: fc.double({ min: 0, max: 0.999, noNaN: true }) },
    { weight: 1, arbitrary: fc.constantFrom(...WORDS) },
  );
  const IDS = ['K001', 'K002', 'K003', 'K004', 'K005'];
  const ROSTER = `athlete_id,last_name,first_name,team,kicking_foot,throwing_hand\n${IDS.map((id, at) => `${id},Reed${at},Bo,Rowing;Fencing,left,right`).join('\n')}\n`;

  const expectReadBack = async (
    text: string,
    wanted: readonly string[] | undefined,
    unitOf: (measure: Measure) => string | null,
    drawn: readonly (readonly (number | string)[])[],
    isNamed: boolean,
  ): Promise<void> => {
    const protocol = protocolOf(text);
    const measures = taken(protocol).filter(({ name }) => wanted?.includes(name) ?? true);
    const columns = formHeadings(protocol, unitOf)(measures);
    const names = isNamed ? new Map(IDS.map((id, at) => [id, [`Reed${at}`, 'Bo'] as const])) : undefined;
    const members = IDS.map((id) => member(id, 'Rowing;Fencing'));
    const blank = blankSheet({ team: 'Fencing', members }, columns, {
      isHeld: () => false,
      date: '2026-08-17',
      names,
    });
    const { data } = Papa.parse<string[]>(blank, { skipEmptyLines: true });
    const first = data[0].length - columns.length;
    const expected: string[] = [];
    for (const [at, row] of data.slice(1).entries()) {
      for (const [place, column] of columns.entries()) {
        const draw = drawn[at % drawn.length][place % drawn[at % drawn.length].length];
        const written = typeof draw === 'number' ? valueFor(column, draw) : draw;
        row[first + place] = written;
        if (written === '') continue;
        const { measure, side, trial, unit } = column;
        const value =
          typeof draw === 'number' ? converter(parseUnit(unit)!, measure.unit)(Number(written)).toPrecision(9) : '';
        const status = typeof draw === 'number' ? 'measured' : (STATUS[draw] ?? draw);
        expected.push([IDS[at], measure.name, side ?? 'none', trial ?? 1, value, status].join(' '));
      }
    }
    const filled = Papa.unparse(data, { newline: '\n' });
    for (const sheet of [filled, filled.replaceAll(/^(.*)$/gm, '$1\r').replaceAll('\r\r', '\r')]) {
      const read = await ingestText(sheet, { protocol: text, roster: ROSTER });
      expect(read.rejects.map(({ code, heading, raw }) => [code, heading, raw])).toEqual([]);
      const found = read.observations.map((row) =>
        [
          row.athlete_id,
          row.measure,
          row.side,
          row.trial,
          row.value === null ? '' : row.value.toPrecision(9),
          row.status,
        ].join(' '),
      );
      expect(found.sort()).toEqual(expected.sort());
      expect(read.notes).toEqual([]);
    }
  };
  const draws = fc.array(fc.array(cell, { minLength: 1, maxLength: 60 }), { minLength: 1, maxLength: 5 });
  const units = fc.dictionary(
    fc.constantFrom('hip_adduction', 'hip_add', 'hip_abd', 'grip', 'hop', 'single_hop', 'height', 'body_mass'),
    fc.constantFrom('kgf', '[lbf_av]', 'N', 'cm', 'm', '[in_i]', 'kg', '[lb_av]'),
  );

  test.each([
    ['the starter', STARTER],
    ['the battery of the tests', BATTERY],
  ])('%s', async (_, text) => {
    const names = taken(protocolOf(text)).map(({ name }) => name);
    await fc.assert(
      fc.asyncProperty(
        fc.subarray(names, { minLength: 1 }),
        units,
        draws,
        fc.boolean(),
        async (wanted, habits, drawn, isNamed) =>
          expectReadBack(text, wanted, ({ name }) => habits[name] ?? null, drawn, isNamed),
      ),
      { ...SEEDED, numRuns: 25 },
    );
  });

  test('blank, it holds no reading and nothing that is refused', async () => {
    for (const text of [STARTER, BATTERY]) {
      const columns = columnsOf(text);
      for (const date of [null, '2026-08-17']) {
        const blank = blankSheet({ team: 'Rowing', members: IDS.map((id) => member(id)) }, columns, {
          isHeld: () => false,
          date,
          names: undefined,
        });
        const { observations, rejects, ledger } = await ingestText(blank, { protocol: text, roster: ROSTER });
        expect([observations, rejects]).toEqual([[], []]);
        expect(ledger[0].rejected).toBe(0);
      }
    }
  });

  test('holds on it are read as held', async () => {
    const columns = columnsOf(BATTERY);
    const sheet = blankSheet({ team: 'Rowing', members: [member('K001'), member('K002')] }, columns, {
      isHeld: heldTestReader(protocolOf(BATTERY), deskOf({ clearance: [hold('K002')] })),
      date: '2026-08-17',
      names: undefined,
    });
    const { observations, rejects } = await ingestText(sheet, { protocol: BATTERY, roster: ROSTER });
    expect(rejects).toEqual([]);
    expect(new Set(observations.map(({ athlete_id, status, value }) => `${athlete_id} ${status} ${value}`))).toEqual(
      new Set(['K002 held null']),
    );
    expect(observations).toHaveLength(columns.length);
  });
});
