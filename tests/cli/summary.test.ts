import { describe, expect, test } from 'vitest';
import { CAUTIONS } from '../../src/cli/render/cautions.ts';
import { summaryText } from '../../src/cli/render/summary.ts';
import { toCall } from '../../src/groups/to_call.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import type { Summary, ToRetake, Unread } from '../../src/screening/summary.ts';
import type { SuspectReading } from '../../src/screening/suspect_readings.ts';
import type { ToSee } from '../../src/screening/to_see.ts';
import { NO_WORK } from '../../src/screening/work_to_do.ts';
import { COVERAGE } from '../../src/tables/schemas.ts';
import { Table } from '../../src/tables/table.ts';
import { PROTOCOL } from '../cases/small.ts';

const NOTHING: Summary = {
  on: null,
  season: null,
  earlierSeasons: [],
  athletes: 0,
  sheets: 1,
  observations: 0,
  toSee: [],
  earlierReferrals: [],
  unjudged: [],
  toRetake: [],
  settled: 0,
  knowsClearance: true,
  withoutClearance: [],
  thin: null,
  suspects: [],
  work: NO_WORK,
  toCall: toCall(new Table(COVERAGE), loadProtocol(PROTOCOL, 'protocol.yaml')),
  tallies: [],
  unread: [],
  cells: 0,
  rejectedCells: 0,
  ignoredCells: 0,
  notes: [],
  remarks: 0,
  warnings: [],
};

const text = (summary: Partial<Summary>): string =>
  summaryText({ ...NOTHING, ...summary }, 'out', { width: 110, color: false });

const unread = (entry: Partial<Unread>): Unread => ({
  file: 'sheets/a.csv',
  line: 2,
  column: 3,
  heading: null,
  code: 'number_unreadable',
  cells: 1,
  message: 'Message.',
  suggestion: 'Suggestion.',
  ...entry,
});

/** A1, who was in pain. */
const seen = (given: Partial<ToSee>, finding: Partial<ToSee['findings'][number]> = {}): ToSee => ({
  athlete_id: 'A1',
  team: null,
  date: '2026-08-17',
  urgency: 'before_training',
  findings: [
    {
      rule: 'pain',
      measure: 'grip',
      date: '2026-08-17',
      last_day: '2026-08-17',
      message: 'Pain.',
      programme: null,
      has_newer_reading: false,
      testers: [],
      referral: null,
      ...finding,
    },
  ],
  ...given,
});

test('of a run that has read nothing', () => {
  expect(text({})).toBe(`No season: 0 athletes tested; 1 sheet and 0 observations in all.

To see medical staff: 0 athletes
Nobody. No finding is not clearance.

To take again while the athlete is in the building: 0 readings
None.

What whole teams do: 0 programmes
None.

Who does what alone: 0 athletes
Nobody.
Reasons, dates and the order in which to act: plan.csv (bilat plan).

Findings by rule (athletes beyond the limit, of those tested)
None.

Who is missing: 0 of 0 tests are done
Nobody.
What they lack: coverage.csv (bilat coverage).

Not read: 0 cells of 0
Nothing else: every cell is accounted for.

Cautions
${summaryText(NOTHING, 'out', { width: 110, color: false }).split('Cautions\n')[1]}`);
});

test('every caution stands at its foot, whatever was found', () => {
  const words = text({}).replace(/\s+/g, ' ');
  for (const caution of CAUTIONS) expect(words).toContain(caution);
});

test('the order: to see, to take again, what is done, by rule, missing, not read, also noticed, cautions', () => {
  const headings = [
    'To see medical',
    'To take again',
    'What whole teams',
    'Who does what alone',
    'Findings by',
    'Who is missing',
    'Not read',
    'Also noticed',
    'Cautions',
    'Tables are in',
  ];
  const places = headings.map((words) => text({ notes: ['note'] }).indexOf(`\n${words}`));
  expect(places).not.toContain(-1);
  expect(places).toEqual(places.toSorted((a, b) => a - b));
});

describe('lists that are too long', () => {
  const toSee = Array.from({ length: 103 }, (_, at) => seen({ athlete_id: `A${at}` }));

  test('say how many are left out, and where they stand', () => {
    const said = text({ toSee });
    expect(said).toContain('\nTo see medical staff: 103 athletes\nBefore training: 103\n');
    expect(said).toContain(
      '\nA99, no team, tested 2026-08-17\n  - Pain. [pain]\nand 3 more athletes: see findings.csv, grade refer\n',
    );
  });

  test('of places in one file', () => {
    const said = text({ unread: Array.from({ length: 10 }, (_, at) => unread({ line: at + 2 })) });
    expect(said).toContain(
      '\nsheets/a.csv: 10 cells in 10 places\n  sheets/a.csv:2:3 not a number: Message. Suggestion.\n',
    );
    expect(said).toContain('\nand 2 more places: see rejects.csv\n');
  });

  test('of rows with one cure: the first stands for all', () => {
    const noDate = (line: number, cells: number) =>
      unread({ line, column: null, code: 'date_missing', cells, message: `Row ${line}.` });
    const said = text({ unread: [noDate(2, 7), unread({ line: 2 }), noDate(3, 6), noDate(4, 6), unread({ line: 9 })] });
    expect(said).toContain(`
sheets/a.csv: 21 cells in 5 places
  sheets/a.csv:2 no date (7 cells), and so in 2 more rows (12 cells): Row 2. Suggestion.
  sheets/a.csv:2:3 not a number: Message. Suggestion.
  sheets/a.csv:9:3 not a number: Message. Suggestion.
`);
  });
});

test('vital signs come before other readings to take again', () => {
  const reading = (measure: string, vital: boolean): ToRetake => ({
    vital,
    code: 'implausible',
    athlete_id: 'A1',
    measure,
    station: 'Intake',
    file: 'sheets/a.csv',
    line: 2,
    column: 3,
    message: `${measure} is off.`,
    suggestion: 'Again.',
  });
  expect(text({ toRetake: [reading('Pulse', true), reading('Mass', false)] })).toContain(`: 2 readings
Vital signs first:
A1, station Intake: Pulse is off. Again. (sheets/a.csv:2:3)
Then:
A1, station Intake: Mass is off. Again. (sheets/a.csv:2:3)
`);
});

test('columns that are held back for their unit stand before all else that is not read', () => {
  const said = text({
    unread: [unread({}), unread({ line: 1, column: 4, code: 'unit_unknown', cells: 38, message: 'No unit.' })],
    cells: 100,
    rejectedCells: 39,
  });
  expect(said).toContain(`
Not read: 39 cells of 100
sheets/a.csv:1:4 held back (38 cells): No unit. Suggestion.
sheets/a.csv: 1 cell in 1 place
`);
});

const suspect = (given: Partial<SuspectReading>): SuspectReading => ({
  vital: false,
  kind: 'digit_slip',
  athlete_id: 'A1',
  measure: 'Grip strength',
  side: 'left',
  value: 430.25,
  unit: 'N',
  suggestion: 'Look at the paper.',
  file: 'sheets/a.csv',
  line: 2,
  column: 3,
  ...given,
});

describe('readings to look at', () => {
  test('stand behind those to take again, vital signs before all', () => {
    const suspects = [
      suspect({ vital: true, measure: 'Resting pulse', side: null, value: 25, unit: '/min' }),
      suspect({}),
    ];
    expect(text({ suspects })).toContain(`: 0 readings, and 2 to look at
Vital signs first:
A1, Resting pulse 25 /min: Look at the paper. (sheets/a.csv:2:3)
Then:
A1, Grip strength left 430.25 N: Look at the paper. (sheets/a.csv:2:3)
`);
  });

  test('a whole column has no athlete; of many the first are told', () => {
    const column = suspect({ athlete_id: null, side: null, value: null, line: 1 });
    const said = text({ suspects: [column, ...Array.from({ length: 13 }, () => suspect({}))] });
    expect(said).toContain('\nGrip strength: Look at the paper. (sheets/a.csv:1:3)\n');
    expect(said).toContain('\nand 2 more to look at: bilat outliers\n');
  });
});

test('medical staff see the most urgent first, with since when a referral is open', () => {
  const referral = { since: '2026-08-18', seen_on: null, closed_before: false };
  const said = text({
    toSee: [
      seen({ athlete_id: 'A2', urgency: 'now' }, { testers: ['Kim'], referral }),
      seen({ urgency: 'routine' }, { referral: { since: null, seen_on: '2026-08-19', closed_before: false } }),
    ],
    settled: 2,
  });
  expect(said).toContain(`
To see medical staff: 2 athletes
Now: 1
A2, no team, tested 2026-08-17
  - Pain. Referred 2026-08-18, not seen yet. Tester: Kim. [pain]
Routinely: 1
A1, no team, tested 2026-08-17
  - Pain. Referred on a day that cannot be read, seen 2026-08-19, not closed. [pain]
2 more athletes of this season: referred, seen and closed.
`);
});

test('text of a sheet cannot steer the terminal', () => {
  const bad = '\u001b[2J\n\u202e';
  const said = text({
    season: 2026,
    toSee: [
      seen(
        { athlete_id: bad, name: bad, team: bad },
        { rule: bad, measure: bad, message: bad, programme: bad, testers: [bad] },
      ),
    ],
    suspects: [suspect({ athlete_id: bad, name: bad, measure: bad, suggestion: bad, file: bad })],
    work: {
      referred: [],
      held: [{ athlete_id: bad, name: bad, side: null, reason: bad, instruction: bad }],
      repeat: [{ measure: bad, athletes: [{ athlete_id: bad, side: null, after_medical: true, stopped: false }] }],
      teams: [
        {
          team: bad,
          programme: bad,
          owner: 'strength',
          reason: bad,
          instruction: bad,
          start: null,
          retest_by: null,
          left_out: [{ athlete_id: bad, reason: bad }],
        },
      ],
      alone: [
        {
          programme: bad,
          owner: null,
          athletes: [{ athlete_id: bad, side: 'left', after_medical: true, stopped: true }],
          retest_by: null,
        },
      ],
    },
    tallies: [{ rule: bad, grade: 'act', tested: 9, flagged: 9, questioned: true }],
    unread: [
      unread({ file: bad, message: bad, suggestion: bad }),
      unread({ file: `2${bad}`, line: null, message: bad }),
    ],
    notes: [bad],
    warnings: [{ file: bad, message: bad, hint: bad }],
  });
  expect(said.replaceAll('\n', '')).not.toMatch(/[\p{Cc}\u202e]/u);
});

describe('what nobody was judged by stands below those whom medical staff must see', () => {
  test('vital signs without a reading, whole sheets and columns', () => {
    const said = text({
      athletes: 40,
      unjudged: [
        { label: 'Systolic pressure', athletes: ['A1', 'A2'] },
        { label: 'Resting pulse', athletes: Array.from({ length: 40 }, (_, at) => `A${at}`) },
      ],
      unread: [
        unread({ line: null, column: null, code: 'file_not_text' }),
        unread({ code: 'heading_unknown', cells: 40 }),
        unread({ code: 'unit_unknown', cells: 40 }),
        unread({ code: 'unit_unknown', line: 9 }),
        unread({ code: 'date_missing', column: null, line: 4 }),
        unread({}),
      ],
    });
    expect(said).toContain(`
To see medical staff: 0 athletes
Nobody. No finding is not clearance.
Not judged: Systolic pressure of 2 of 40 athletes: A1, A2. There is no reading.
Not judged: Resting pulse of anybody. There is no reading.
Not judged: 1 sheet, not read at all; see below.
Not judged: 1 column held back for want of a unit; see below.
Not judged: 1 row without a day that can be read; see below.
Not judged: 1 column of sheets, not understood; see below.
`);
  });

  test('many are counted, not named', () => {
    const athletes = Array.from({ length: 13 }, (_, at) => `A${at}`);
    expect(text({ athletes: 40, unjudged: [{ label: 'Resting pulse', athletes }] })).toContain(
      '\nNot judged: Resting pulse of 13 of 40 athletes. There is no reading.\n',
    );
  });
});

test('of many rows with one cure one stands for all among the readings to take again', () => {
  const reading = (line: number, message: string): ToRetake => ({
    vital: true,
    code: 'date_missing',
    athlete_id: `A${line}`,
    measure: 'systolic',
    station: null,
    file: 'sheets/a.csv',
    line,
    column: 2,
    message,
    suggestion: 'Say the day.',
  });
  const many = Array.from({ length: 7 }, (_, at) => reading(at + 2, 'No date.'));
  expect(text({ toRetake: [...many, reading(9, 'No date. The row holds Pulse pain.')] })).toContain(`: 8 readings
Vital signs first:
A2: No date. Say the day. (sheets/a.csv:2:2)
  So in 6 more rows of this sheet, of which nothing is judged until that is settled.
A9: No date. The row holds Pulse pain. Say the day. (sheets/a.csv:9:2)
`);
});

test('lines to be copied stand below what was noticed, as they are', () => {
  const paste = ['roster:', '  columns:', '    "Sport": team'];
  const warnings = [{ file: 'roster.csv', message: 'column "Sport" not used', hint: 'Is it one of these?', paste }];
  expect(text({ warnings })).toContain(`
Also noticed
- roster.csv: column "Sport" not used. Is it one of these?
    roster:
      columns:
        "Sport": team
`);
});
