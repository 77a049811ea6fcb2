import { describe, expect, test } from 'vitest';
import { atStation, inSeasons, seasonsRead, stationWanted } from '../../src/cli/recheck_wanted.ts';
import { CAUTIONS } from '../../src/cli/render/cautions.ts';
import { type RecheckView, recheckText } from '../../src/cli/render/recheck.ts';
import type { RecheckTally } from '../../src/findings/recheck.ts';
import { RECHECK, REJECTS, type Recheck, type Rejects } from '../../src/tables/schemas.ts';
import { type RowOf, Table } from '../../src/tables/table.ts';
import { parseUnit } from '../../src/units/unit.ts';
import { measureOf, protocolOf } from '../findings/build.ts';
import { readingsOf } from '../findings/readings_of.ts';

const MMHG = parseUnit('mm[Hg]')!;
const PROTOCOL = protocolOf({
  measures: [
    measureOf('hip', { label: 'Hip strength', trials: { keep: 'best', expect: 2 } }),
    measureOf('systolic', { label: 'Systolic pressure', sides: 'none', unit: MMHG }),
  ],
});

type Given = Partial<RowOf<typeof RECHECK>>;

function listOf(...rows: readonly Given[]): Recheck {
  const table: Recheck = new Table(RECHECK);
  for (const row of rows) {
    const full: Readonly<Record<string, string | number | null>> = {
      athlete_id: 'K1',
      season: 2026,
      measure: 'hip',
      side: 'left',
      unit: 'N',
      kind: 'digit_slip',
      suggestion: 'Look.',
      file: 'sheets/a.csv',
      line: 4,
      column: 2,
      ...row,
    };
    for (const { name } of RECHECK) {
      (table.column(name) as { push(value: string | number | null): void }).push(full[name] ?? null);
    }
  }
  return table;
}

const TALLY: RecheckTally = {
  season: 2026,
  measure: 'hip',
  stations: ['Hip'],
  scores: 300,
  expected: 1.17,
  comparisons: 10,
};

const text = (table: Recheck, view: Partial<RecheckView> = {}, width = 100): string =>
  recheckText(
    {
      table,
      tallies: [TALLY],
      seasons: [2026],
      others: new Map(),
      hasRejects: true,
      protocol: PROTOCOL,
      names: new Map(),
      ...view,
    },
    { width, color: false },
  );

describe('text of the recheck list', () => {
  test('entry errors, outliers and testers apart, each with what was expected and where it stands', () => {
    const shown = text(
      listOf(
        { trial: 2, value: 1433, low: 120, high: 180, suggestion: 'May be 143.' },
        { kind: 'outlier', athlete_id: 'K2', value: 320, low: 90, high: 250, line: 9, suggestion: 'Far.' },
        {
          kind: 'outlier',
          athlete_id: null,
          side: null,
          value: 12.4,
          unit: '%',
          low: -6,
          high: 6,
          line: null,
          column: null,
          suggestion: 'Tester Vale.',
        },
      ),
    );
    expect(shown.slice(0, shown.indexOf('\nTo settle them'))).toBe(`Season 2026: 3 lines to look at again

Likely entry errors: 1
K1, Hip strength, left, trial 2: 1433 N; expected 120 to 180 N
  sheets/a.csv:4:2, digit_slip
  May be 143.

Real outliers: 1
About 1.2 of 300 scores would stand out by chance alone, were all in order.
K2, Hip strength, left: 320 N; expected 90 to 250 N
  sheets/a.csv:9:2
  Far.

Testers and devices that read apart: 1
10 comparisons: by chance alone about 0.5 would lie outside the 95 % interval; small differences are
not listed.
Hip strength: 12.4 %; expected -6 to 6 %
  sheets/a.csv
  Tester Vale.
`);
    for (const caution of CAUTIONS) expect(shown.replace(/\s+/g, ' ')).toContain(caution);
    expect(shown).toContain('Nothing is changed.');
    expect(shown).toContain('file,line,column,raw,action,value,by,date');
  });

  test('vital signs stand first', () => {
    const shown = text(
      listOf(
        {},
        { athlete_id: 'K9', measure: 'systolic', side: 'none', unit: 'mm[Hg]', value: null, low: 70, high: 260 },
      ),
    );
    expect(shown).toContain(`Likely entry errors: 2
Vital signs first:
K9, Systolic pressure: expected 70 to 260 mmHg
  sheets/a.csv:4:2, digit_slip
  Look.
Then:
K1, Hip strength, left
`);
  });

  test('what could not be read is shown as it was written', () => {
    const written = {
      measure: 'systolic',
      side: null,
      unit: 'mm[Hg]',
      value: null,
      low: 60,
      high: 260,
      kind: 'implausible',
    };
    expect(text(listOf({ ...written, raw: '12' }))).toContain('K1, Systolic pressure: "12"; expected 60 to 260 mmHg\n');
    expect(text(listOf({ ...written, raw: '1\u001b[2J' }))).toContain('"1\ufffd[2J"; expected');
  });

  test('a whole column or sheet is named so', () => {
    const whole = { athlete_id: null, line: null, kind: 'column_unit_slip' };
    expect(text(listOf({ ...whole, column: 5 }))).toContain(
      'the whole column, Hip strength, left\n  sheets/a.csv:5, column_unit_slip\n',
    );
    expect(text(listOf({ ...whole, column: null, side: null }))).toContain(
      '\nHip strength\n  sheets/a.csv, column_unit_slip\n',
    );
    expect(text(listOf({ athlete_id: null }))).toContain('athlete not known, Hip strength, left\n');
  });

  test('a limit is never written as if the reading lay within it', () => {
    expect(text(listOf({ value: 98.3, low: 60.9, high: 98.28, kind: 'outlier' }))).toContain(
      '98.3 N; expected 60.9 to 98.28 N',
    );
  });

  test('names stand beside ids only where they are given, and steer nothing', () => {
    expect(text(listOf({}), { names: new Map([['K1', 'Ada\u001b[2J Moor']]) })).toContain('K1 Ada\ufffd[2J Moor, Hip');
    expect(text(listOf({ suggestion: 'a\u202eb' }))).toContain('a\ufffdb');
  });

  test('several seasons, what belongs to none with the newest, and what is not shown', () => {
    const shown = text(listOf({}, { season: 2025, athlete_id: 'K2' }, { season: null, athlete_id: 'K3' }), {
      seasons: [2026, 2025],
      others: new Map([
        [2024, 3],
        [2023, 0],
      ]),
      hasRejects: false,
    });
    expect(shown).toContain('Season 2026: 2 lines to look at again');
    expect(shown).toContain('Season 2025: 1 line to look at again');
    expect(shown.indexOf('K3')).toBeLessThan(shown.indexOf('Season 2025'));
    expect(shown).toContain('Lines of other seasons: 2024 (3); --season shows them.');
    expect(shown).toContain('Only tables were read');
    // Nothing of 2025 was looked at for outliers.
    expect(shown).toContain('Not looked for: no 20 athletes of one sex and sport group have a score of one measure.');
    expect(shown).toContain('Not compared: no two testers or devices have 10 athletes each at one measure.');
  });

  test('nothing to look at is said, and so is a season without readings', () => {
    expect(text(listOf())).toContain('Season 2026: 0 lines to look at again\n\nLikely entry errors: 0\nNone.\n');
    expect(text(listOf(), { seasons: [], tallies: [] })).toMatch(/^No readings\.\n/);
  });

  test('an archive is cut and says where the rest is', () => {
    const many = listOf(...Array.from({ length: 103 }, (_, at) => ({ athlete_id: `K${at}` })));
    expect(text(many)).toContain('and 3 more lines: --format csv or -o FILE has them');
    expect(text(many)).not.toContain('K100,');
  });

  test.each([40, 60, 80, 120])('no line is wider than %d', (width) => {
    const table = listOf(
      {
        value: 1433,
        low: 120,
        high: 180,
        suggestion: 'May be 143 N. Look at the paper, and test again while the athlete is here.',
      },
      { kind: 'outlier', measure: 'systolic', value: 170, low: 80, high: 150, unit: 'mm[Hg]' },
    );
    for (const line of text(table, {}, width).split('\n')) expect(line.length).toBeLessThanOrEqual(width);
  });
});

describe('what a command line asks of the list', () => {
  const READINGS = readingsOf(PROTOCOL, [
    { athlete_id: 'K1', measure: 'hip', side: 'left', value: 3, station: 'Hip bench' },
    { athlete_id: 'K1', measure: 'systolic', value: 120, season: 2025, date: '2025-08-12' },
  ]);

  test('a station by any spelling, those of unread cells too', () => {
    const rejects: Rejects = new Table(REJECTS);
    rejects.extend(1);
    rejects.columns.station.codes[0] = rejects.columns.station.dictionary.code('Intake');
    expect(stationWanted(undefined, READINGS, rejects)).toBeUndefined();
    expect(stationWanted('HIP BENCH', READINGS, rejects)).toBe('Hip bench');
    expect(stationWanted('intake', READINGS, rejects)).toBe('Intake');
    expect(() => stationWanted('Intake', READINGS, undefined)).toThrow(
      '--station: nothing was read at a station Intake. Known: Hip bench.',
    );
    expect(() => stationWanted('hip banch', READINGS, undefined)).toThrow('Did you mean Hip bench?');
    const nowhere = readingsOf(PROTOCOL, [{ athlete_id: 'K1', measure: 'hip', side: 'left', value: 3 }]);
    expect(() => stationWanted('Hip', nowhere, undefined)).toThrow('No sheet names a station');
  });

  test('seasons, the newest first', () => {
    expect(seasonsRead(undefined, READINGS)).toEqual([2026, 2025]);
    expect(() => seasonsRead([2025, 2019], READINGS)).toThrow(
      '--season: nobody was tested in season 2019; seasons with readings: 2025, 2026',
    );
  });

  test('the part of a station, the part of a season', () => {
    const table = listOf(
      { station: 'Hip' },
      { athlete_id: 'K2', station: null },
      { athlete_id: 'K3', station: 'Hip', season: 2025 },
    );
    const all = { table, tallies: [TALLY, { ...TALLY, stations: [] }, { ...TALLY, season: 2025 }] };
    const ids = ({ table: part }: { table: Recheck }): (string | null)[] =>
      [...part.rows()].map(({ athlete_id }) => athlete_id);
    expect(ids(atStation(all, undefined))).toEqual(['K1', 'K2', 'K3']);
    expect(ids(atStation(all, 'Hip'))).toEqual(['K1', 'K3']);
    expect(atStation(all, 'Hip').tallies).toEqual([TALLY, { ...TALLY, season: 2025 }]);
    expect(ids(inSeasons(all, [2025]))).toEqual(['K3']);
    expect(inSeasons(all, [2025]).tallies).toEqual([{ ...TALLY, season: 2025 }]);
  });
});
