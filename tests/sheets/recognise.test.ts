import { describe, expect, it } from 'vitest';
import { rejectMessage } from '../../src/problems/rejects.ts';
import { headingWords } from '../../src/sheets/headings.ts';
import type { ColumnPlan, SheetPlan } from '../../src/sheets/plan.ts';
import { recognise } from '../../src/sheets/recognise.ts';
import { type EntryGiven, entryOf, protocolOf } from './ingest_text.ts';

const protocol = protocolOf();
const words = headingWords(protocol);
const found = (head: string, entry: EntryGiven = {}) => recognise(head, { protocol, words, entry: entryOf(entry) });

function plan(head: string, entry: EntryGiven = {}): SheetPlan {
  const made = found(head, entry);
  if ('code' in made) throw new Error(`${made.code}: ${rejectMessage(made.code, made.args)}`);
  return made;
}

function told(column: ColumnPlan): string {
  if (column.kind === 'role') return column.role;
  if (column.kind === 'ignored') return `(${column.reason})`;
  if (column.kind === 'rejected') return column.code;
  const { measure, compound, side, trial, unit, unitFrom, reversed } = column;
  return [
    measure?.name ?? compound?.name ?? '·',
    side,
    trial === undefined ? undefined : `t${trial}`,
    unit && `${unit.code} by ${unitFrom}`,
    reversed ? 'reversed' : undefined,
  ]
    .filter((part) => part !== undefined)
    .join(' ');
}

const columns = (head: string, entry: EntryGiven = {}): string[] => plan(head, entry).tables[0].columns.map(told);

describe('the four layouts', () => {
  it('wide: a row an athlete', () => {
    const head = 'ID,Date,Hip Add L (kg),Hip Add R (kg),Ht\nK001,2026-08-17,20,21,180\n';
    expect(plan(head)).toMatchObject({ tables: [{ layout: 'wide' }], delimiter: ',', headingRows: [0, 0] });
    expect(columns(head)).toEqual([
      'athlete_id',
      'date',
      'hip_add left kgf by heading',
      'hip_add right kgf by heading',
      'height cm by protocol',
    ]);
  });

  it('two heading lines: the test once over its sides', () => {
    const head = 'ID,Hip Add (kg),,Hop,\n,L,R,L,R\nK001,20,21,150,152\n';
    expect(plan(head)).toMatchObject({ tables: [{ layout: 'two_heading_lines' }], headingRows: [0, 1] });
    expect(columns(head)).toEqual([
      'athlete_id',
      'hip_add left kgf by heading',
      'hip_add right kgf by heading',
      'hop left cm by protocol',
      'hop right cm by protocol',
    ]);
  });

  it('two heading lines with the athlete on the lower one', () => {
    expect(columns(',,Hip Add (kg),\nID,Date,L,R\nK001,2026-08-17,20,21\n')).toEqual([
      'athlete_id',
      'date',
      'hip_add left kgf by heading',
      'hip_add right kgf by heading',
    ]);
  });

  it('trials under a heading that spans them', () => {
    expect(columns('ID,Hop L,,Hop R,\n,1,2,1,2\nK001,150,151,152,153\n')).toEqual([
      'athlete_id',
      'hop left t1 cm by protocol',
      'hop left t2 cm by protocol',
      'hop right t1 cm by protocol',
      'hop right t2 cm by protocol',
    ]);
  });

  it('a row a side', () => {
    const head = 'ID,Side,Hip Add 1 (lbs),Hip Add 2 (lbs)\nK001,L,50,51\n';
    expect(plan(head).tables[0].layout).toBe('row_a_side');
    expect(columns(head)).toEqual([
      'athlete_id',
      'side',
      'hip_add t1 [lbf_av] by heading',
      'hip_add t2 [lbf_av] by heading',
    ]);
  });

  it('a row a test', () => {
    const head = 'athlete_id,date,test,side,trial,value,unit,status\nK001,2026-08-17,Hop,L,1,150,cm,ok\n';
    expect(plan(head).tables[0].layout).toBe('row_a_test');
    expect(columns(head)).toEqual(['athlete_id', 'date', 'test', 'side', 'trial', '·', 'unit', 'status']);
  });

  it('a row a test with sides or trials beside each other', () => {
    expect(columns('ID,Test,L,R\nK001,Hop,150,152\n')).toEqual(['athlete_id', 'test', '· left', '· right']);
    expect(columns('ID,Test,Side,Trial 1,Trial 2\nK001,Hop,L,1,2\n')).toEqual([
      'athlete_id',
      'test',
      'side',
      '· t1',
      '· t2',
    ]);
  });
});

describe('where the headings are', () => {
  it('below title lines, blank lines among them', () => {
    const made = plan('Hip station\n\nTester,J. Mill\nDate,17 August\n\nID,Hop L,Hop R\nK001,150,151\n');
    expect(made.headingRows).toEqual([5, 5]);
  });

  it('with units on a line of their own', () => {
    const made = plan('ID,Hip Add L,Hip Add R,Hop L\n,kg,(kg),cm\nK001,20,21,150\n');
    expect(made.headingRows).toEqual([0, 1]);
    expect(made.tables[0].columns.map(told)).toEqual([
      'athlete_id',
      'hip_add left kgf by heading',
      'hip_add right kgf by heading',
      'hop left cm by heading',
    ]);
  });

  it('with the word units before the units', () => {
    const made = plan('ID,Date,Hip Add L,Hip Add R\nunits,,kg,kg\nK001,2026-08-17,20,21\n');
    expect(made.headingRows).toEqual([0, 1]);
    expect(made.tables[0].columns.map(told)).toEqual([
      'athlete_id',
      'date',
      'hip_add left kgf by heading',
      'hip_add right kgf by heading',
    ]);
  });

  it('on three lines: test, side, unit', () => {
    const made = plan('ID,Hip Add,,Hop,\n,L,R,L,R\n,kg,kg,cm,cm\nK001,20,21,150,151\n');
    expect(made.headingRows).toEqual([0, 2]);
    expect(made.tables[0].columns.map(told)).toEqual([
      'athlete_id',
      'hip_add left kgf by heading',
      'hip_add right kgf by heading',
      'hop left cm by heading',
      'hop right cm by heading',
    ]);
  });

  it('a name parted in two under one heading', () => {
    expect(columns('Name,,Hop,\nFirst,Last,L,R\nBo,Reed,150,151\n')).toEqual([
      'first_name',
      'last_name',
      'hop left cm by protocol',
      'hop right cm by protocol',
    ]);
  });

  it('a first row of readings without its athlete is no heading line', () => {
    expect(plan('ID,Squat,Sprint\n,2,3\nK001,2,3\n').headingRows).toEqual([0, 0]);
    expect(plan('ID,Hop L,Hop R\n,12,14\nK001,2,3\n').headingRows).toEqual([0, 0]);
  });

  it('a sheet of headings only', () => {
    expect(columns('ID,Hop L,Hop R')).toEqual(['athlete_id', 'hop left cm by protocol', 'hop right cm by protocol']);
  });
});

describe('sheets without headings', () => {
  it.each([
    ['rows at once', 'K001,20,21\nK002,22,23\n', 'No line with headings was found.'],
    [
      'no athlete column',
      'Hop L,Hop R\n150,151\n',
      'No line with headings was found: "Hop L" is there and nothing that says who the athlete is.',
    ],
    [
      'nothing measured',
      'ID,Date,Remarks\nK001,2026-08-17,fine\n',
      'No line with headings was found: "ID" is there and nothing that is measured.',
    ],
    [
      'headings apart',
      'ID,Team\nK001,Rowing\nHop L,Hop R\n150,151\n',
      'No line with headings was found: "ID" and "Hop L" stand in no line together.',
    ],
  ])('%s', (_, head, message) => {
    const problem = found(head);
    expect(problem).toMatchObject({ code: 'header_missing' });
    if ('code' in problem) expect(rejectMessage(problem.code, problem.args)).toBe(message);
  });

  it('repeats no cell that may be a name', () => {
    expect(JSON.stringify(found('Reed,Bo,20,21\nMoss,Kim,22,23\n'))).not.toMatch(/Reed|Bo|Moss|Kim/);
  });

  it.each(['', '\n', '\n\n  \n\t\n', ' , , \n,,,\n', '\u00a0\n'])('%j holds nothing', (head) => {
    expect(found(head)).toMatchObject({ code: 'file_empty' });
  });
});

describe('a quote that opens in the headings and is never closed', () => {
  it.each<readonly [head: string, line: number]>([
    ['ID,"Hop L\nK001,150\n', 1],
    ['Hip station\n"ID,Hop L\nK001,150\n', 2],
    ['"Hip\nstation",x\n,"ID,Hop L\nK001,150\n', 3],
    ['"', 1],
  ])('%j: line %s', (head, line) => {
    const problem = found(head);
    expect(problem).toMatchObject({ code: 'quote_unclosed', args: { found: `on line ${line}` } });
  });
});

describe('delimiters', () => {
  it.each([
    [',', 'ID,Hop L,Hop R\nK001,150,151\n'],
    [';', 'ID;Hop L;Hop R\nK001;150;151\n'],
    ['\t', 'ID\tHop L\tHop R\nK001\t150\t151\n'],
    [';', 'ID;Hop L, Trial 1;Hop R\nK001;1,5;2,5\n'],
    [',', 'ID,"Hop; L",Hop R\nK001,150,151\n'],
    [';', 'Station Hip, 17 August, J. Mill\nID;Hop L;Hop R\nK001;150;151\n'],
  ])('%j is found', (delimiter, head) => {
    expect(plan(head).delimiter).toBe(delimiter);
  });

  it('is unknown where two make the same sense', () => {
    expect(found('ID;Hop L\nID,Hop R\nK001,150\n')).toMatchObject({
      code: 'delimiter_unknown',
      args: { choices: ['commas', 'semicolons'] },
    });
  });

  it('is taken as declared', () => {
    expect(plan('ID;Hop L\nID,Hop R\nK001,150\n', { delimiter: ';' }).delimiter).toBe(';');
    expect(found('ID,Hop L\nK001,150\n', { delimiter: ';' })).toMatchObject({ code: 'header_missing' });
  });
});

describe('the decimal mark, by the cells', () => {
  it.each<readonly [head: string, decimal: string | undefined]>([
    ['ID;Hop L\nK001;150,5\n', ','],
    ['ID;Hop L\nK001;150.5\n', '.'],
    ['ID,Hop L\nK001,150.5\n', '.'],
    ['ID;Hop L\nK001;150\n', undefined],
    ['ID;Hop L\nK001;150,5\nK002;150.5\n', undefined],
    // Three digits after the mark may be thousands.
    ['ID;Hop L\nK001;1,500\n', undefined],
    // With commas between cells a quoted comma may as well part two trials.
    ['ID,Hop L\nK001,"35,40"\n', undefined],
    // Only readings count: an id or a remark shows nothing.
    ['ID;Hop L;Notes\n1,5;150;7,5\n', undefined],
  ])('%j: %s', (head, decimal) => {
    expect(plan(head).decimal).toBe(decimal);
  });

  it('is taken as declared', () => {
    expect(plan('ID;Hop L\nK001;150.5\n', { decimal: ',' }).decimal).toBe(',');
  });
});

describe('the order of dates, by the cells', () => {
  it.each<readonly [dates: string, order: string | undefined]>([
    ['03/04/2026\n17/08/2026', 'dmy'],
    ['03/04/2026\n08/17/2026', 'mdy'],
    ['03/04/2026\n05/06/2026', undefined],
    ['17/08/2026\n08/17/2026', undefined],
    ['2026-08-17\n2026-08-18', undefined],
  ])('%j: %s', (dates, order) => {
    const rows = dates.split('\n').map((date) => `K001,${date},150`);
    expect(plan(`ID,Date,Hop L\n${rows.join('\n')}\n`).dates).toBe(order);
  });

  it('is taken as declared', () => {
    expect(plan('ID,Date,Hop L\nK001,17/08/2026,150\n', { dates: 'mdy' }).dates).toBe('mdy');
  });
});

describe('headings that cannot be taken', () => {
  it('the second of two for one thing', () => {
    expect(columns('ID,Hop L,Hop L (cm),Single hop left,Hop L 2\n')).toEqual([
      'athlete_id',
      'hop left cm by protocol',
      'heading_duplicate',
      'heading_duplicate',
      'hop left t2 cm by protocol',
    ]);
    expect(columns('ID,Student no,Hop L\n')).toEqual(['athlete_id', 'heading_duplicate', 'hop left cm by protocol']);
  });

  it('a blank one', () => {
    expect(columns('ID,,Hop L,\n')).toEqual([
      'athlete_id',
      'heading_unknown',
      'hop left cm by protocol',
      'heading_unknown',
    ]);
  });

  it('one that names two measures', () => {
    const [, column] = plan('ID,Reach L\n').tables[0].columns;
    expect(column).toMatchObject({
      code: 'heading_ambiguous',
      args: { choices: ['reach_a, left', 'reach_b, left'] },
    });
  });

  it('a force or torque without a unit, as a whole', () => {
    expect(columns('ID,Hip Add L,Knee Ext R,Grip L\n')).toEqual([
      'athlete_id',
      'unit_unknown',
      'unit_unknown',
      'grip left kgf by written_in',
    ]);
  });

  it('a unit of another kind', () => {
    expect(columns('ID,Hip Add L (cm),Ht (kg)\n')).toEqual(['athlete_id', 'unit_mismatch', 'unit_mismatch']);
  });

  it('a misspelt one, with the nearest that is known', () => {
    const [, column] = plan('ID,Hip Adction L,Hop R\n').tables[0].columns;
    expect(column).toMatchObject({ code: 'heading_unknown' });
    const [, near] = plan('ID,Heigth,Hop R\n').tables[0].columns;
    expect(near).toMatchObject({ code: 'heading_unknown', args: { choices: ['height'] } });
  });

  it.each(['__proto__', 'constructor', 'toString', 'x'.repeat(100_000)])('%.20s names nothing', (heading) => {
    expect(columns(`ID,${heading},Hop L\n`)).toEqual(['athlete_id', 'heading_unknown', 'hop left cm by protocol']);
  });
});

describe('columns that are left aside', () => {
  it('remarks, ages, what a spreadsheet worked out, a status over a whole wide row', () => {
    expect(columns('ID,Age,Hop L,Hop L best,Hop avg,Remarks,Status,DOB\n')).toEqual([
      'athlete_id',
      '(not_needed)',
      'hop left cm by protocol',
      '(worked_out)',
      '(worked_out)',
      '(remark)',
      '(status_of_wide_sheet)',
      '(not_needed)',
    ]);
  });
});

describe('what screening.yaml says of a column', () => {
  it('overrules recognition, whatever the case', () => {
    const entry: EntryGiven = {
      columns: {
        'Hop L': 'ignore',
        'THING L': { measure: 'grip', side: 'left', trial: 2, unit: '[lbf_av]', sign: 'reversed' },
        nr: { role: 'athlete_id' },
        Reach: { measure: 'reach_b', side: 'right' },
        Druck: { measure: 'blood_pressure' },
      },
    };
    expect(columns('Nr,hop l,Thing L,Reach,druck\n', entry)).toEqual([
      'athlete_id',
      '(declared)',
      'grip left t2 [lbf_av] by screening reversed',
      'reach_b right cm by protocol',
      'blood_pressure mm[Hg] by protocol',
    ]);
  });

  it('lets a status govern a wide row', () => {
    expect(columns('ID,Hop L,Status\n', { columns: { Status: { role: 'status' } } })).toEqual([
      'athlete_id',
      'hop left cm by protocol',
      'status',
    ]);
  });

  it('names a whole heading over two lines, or a part of it', () => {
    const head = 'ID,Thing,,Hop,\n,L,R,L,R\nK001,1,2,150,151\n';
    const whole: EntryGiven = { columns: { 'thing l': { measure: 'grip', side: 'left' }, 'thing r': 'ignore' } };
    expect(columns(head, whole).slice(1, 3)).toEqual(['grip left kgf by written_in', '(declared)']);
  });

  it('gives a force its unit by measure', () => {
    expect(columns('ID,Hip Add L,Hip Add R (N)\n', { units: { hip_add: '[lbf_av]' } })).toEqual([
      'athlete_id',
      'hip_add left [lbf_av] by screening',
      'hip_add right N by heading',
    ]);
  });
});

describe('large and hostile heads', () => {
  it.each([
    ['a row of 30 000 commas', `${','.repeat(30_000)}\nID,Hop L\n`],
    ['60 wide title rows', `${`${'a,'.repeat(500)}\n`.repeat(60)}ID,Hop L\n`],
    ['30 000 headings', `ID,${'Hop L,'.repeat(10_000)}`],
    ['nothing but quotes', '"'.repeat(65_536)],
    ['nothing but line ends', '\n'.repeat(65_536)],
    ['rows of trials', `ID,Hop L\n${',1\n'.repeat(20_000)}`],
  ])('%s take no time', (_, head) => {
    const started = performance.now();
    found(head);
    expect(performance.now() - started).toBeLessThan(5_000);
  });
});
