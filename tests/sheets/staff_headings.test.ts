import { describe, expect, it } from 'vitest';
import { rejectMessage } from '../../src/problems/rejects.ts';
import { headingWords } from '../../src/sheets/headings.ts';
import type { ColumnPlan, SheetPlan } from '../../src/sheets/plan.ts';
import { recognise } from '../../src/sheets/recognise.ts';
import { type EntryGiven, entryOf, ingestText, protocolOf, shorts } from './ingest_text.ts';

const protocol = protocolOf();
const words = headingWords(protocol);
const found = (lines: readonly string[], entry: EntryGiven = {}) =>
  recognise(lines.join('\n'), { protocol, words, entry: entryOf(entry) });

function planOf(lines: readonly string[], entry: EntryGiven = {}): SheetPlan {
  const made = found(lines, entry);
  if ('code' in made) throw new Error(rejectMessage(made.code, made.args));
  return made;
}

/** `hop left t1 cm by protocol`, `athlete_id`, `(remark)`, `! heading_unknown: Ht (seated)`. */
function told(column: ColumnPlan): string {
  if (column.kind === 'role') return column.role;
  if (column.kind === 'ignored') return `(${column.reason})`;
  if (column.kind === 'rejected') return `! ${column.code}: ${column.heading}`;
  const { measure, side, trial, unit, unitFrom } = column;
  const said = [measure?.name ?? '·', side, trial === undefined ? undefined : `t${trial}`, unit?.code, unitFrom];
  return said.filter((part) => part !== undefined).join(' ');
}

const columns = (lines: readonly string[], entry: EntryGiven = {}): string[] =>
  planOf(lines, entry).tables.flatMap((table) => table.columns.map(told));

function messages(lines: readonly string[]): string[] {
  return planOf(lines).tables.flatMap((table) =>
    table.columns.flatMap((column) =>
      column.kind === 'rejected' ? [rejectMessage(column.code, { heading: column.heading, ...column.args })] : [],
    ),
  );
}

describe('group headings over the middle of their columns', () => {
  it('refuses what stands below them: 47 was the right side of another test', async () => {
    const sheet = [',,,Hip IR,,,Lunge,', 'ID,Date,L,R,Comment,L,R,Comment', 'K001,2026-08-17,38,41,,47,9,stiff'];
    expect(columns(sheet)).toEqual([
      'athlete_id',
      'date',
      '! heading_unknown: L',
      '! heading_ambiguous: Hip IR R',
      '(remark)',
      '! heading_ambiguous: Hip IR L',
      '! heading_ambiguous: Lunge R',
      '(remark)',
    ]);
    expect(messages(sheet)).toContain(
      'Heading "Hip IR R" can mean hip_ir, right or the test beside it: a side stands under no test.',
    );
    const { observations, ledger } = await ingestText(sheet.join('\n'));
    expect(observations).toEqual([]);
    // four readings, and the six cells of their headings
    expect(ledger[0]).toMatchObject({ measured: 0, rejected: 10 });
  });

  it.each([
    [
      'pairs',
      ',,,Hip Add (kg),,Hip Abd (kg)',
      'ID,Date,L,R,L,R',
      ['Hip Add (kg) R', 'Hip Add (kg) L', 'Hip Abd (kg) R'],
    ],
    ['headings above', 'ID,Date,,Hop,,Lunge', ',,L,R,L,R', ['Hop R', 'Hop L', 'Lunge R']],
    ['a whole heading before them', 'ID,Ht,,Hop,,Lunge', ',,L,R,L,R', ['Ht L', 'Hop R', 'Hop L', 'Lunge R']],
    ['trials', ',,Hop,,,Lunge,', 'ID,1,2,3,1,2,3', ['Hop 2', 'Hop 3', 'Hop 1', 'Lunge 2', 'Lunge 3']],
    [
      'trials behind a whole heading',
      'ID,Ht,,Hop,,,Lunge,',
      ',,1,2,3,1,2,3',
      ['Ht 1', 'Hop 2', 'Hop 3', 'Hop 1', 'Lunge 2', 'Lunge 3'],
    ],
    [
      'trials behind a unit',
      'ID,Ht,,Hop,,,Lunge,',
      ',cm,1,2,3,1,2,3',
      ['Ht 1', 'Hop 2', 'Hop 3', 'Hop 1', 'Lunge 2', 'Lunge 3'],
    ],
    ['behind a comment', ',Hop,,,,Lunge,', 'ID,L,R,Comment,L,R,Comment', ['Hop L', 'Hop R', 'Hop L', 'Lunge R']],
    ['behind a date', ',Hop,,,,Lunge,', 'ID,L,R,Date,L,R,', ['Hop L', 'Hop R', 'Hop L', 'Lunge R']],
  ])('%s', (_, top, below, refused) => {
    const sheet = [top, below, 'K001,1,2,3,4,5,6', 'K002,1,2,3,4,5,6'];
    expect(columns(sheet).filter((column) => column.startsWith('! heading_ambiguous'))).toEqual(
      refused.map((heading) => `! heading_ambiguous: ${heading}`),
    );
    expect(columns(sheet).filter((column) => /left|right|t\d/.test(column))).toEqual([]);
  });

  it.each([
    [
      'each over its first',
      ',,Hop,,,Lunge,,',
      'ID,Date,L,R,Comment,L,R,Comment',
      'hop left,hop right,lunge left,lunge right',
    ],
    ['right before left', ',Hop,,Lunge,', 'ID,R,L,R,L', 'hop right,hop left,lunge right,lunge left'],
    ['notes between trials', ',Hop,,,', 'ID,1,Note,2,Note', 'hop t1,hop t2'],
    ['the best before its trials', ',Hop,,', 'ID,Best,1,2', 'hop t1,hop t2'],
    ['written again', ',Hop,Hop,Lunge,Lunge', 'ID,L,R,L,R', 'hop left,hop right,lunge left,lunge right'],
    [
      'a whole heading before them',
      'ID,Ht,Hop,,Lunge,',
      ',,L,R,L,R',
      'height,hop left,hop right,lunge left,lunge right',
    ],
    ['a whole heading behind them', 'ID,Hop,,Ht', ',L,R,', 'hop left,hop right,height'],
  ])('reads what stands right: %s', (_, top, below, expected) => {
    const read = columns([top, below, 'K001,1,2,3,4,5,6', 'K002,1,2,3,4,5,6']);
    const readings = read.filter((column) => column.includes(' by ') || /\b(?:cm|deg)\b/.test(column));
    expect(readings.map((column) => column.replace(/ cm.*/, '')).join(',')).toBe(expected);
    expect(read.filter((column) => column.startsWith('!'))).toEqual([]);
  });

  it('looks past units below the sides', () => {
    const sheet = [',,,Hip IR,,Lunge', 'ID,Date,L,R,L,R', ',,deg,deg,cm,cm', 'K001,2026-08-17,38,41,8,9'];
    expect(columns(sheet).slice(3)).toEqual([
      '! heading_ambiguous: Hip IR R deg',
      '! heading_ambiguous: Hip IR L cm',
      '! heading_ambiguous: Lunge R cm',
    ]);
  });

  it('leaves alone what has its own heading and unit', () => {
    const read = columns(['ID,Ht,Wt,,Hop', ',cm,kg,L,R', 'K001,180,70,150,151']);
    expect(read.slice(1, 3)).toEqual(['height cm heading', 'body_mass kg heading']);
    expect(read.slice(3)).toEqual(['! heading_ambiguous: Wt L', '! heading_ambiguous: Hop R']);
  });

  it('lets columns: settle each of them', () => {
    const sheet = [',,Hop,,Lunge', 'ID,L,R,L,R', 'K001,1,2,3,4'];
    const settled = columns(sheet, { columns: { 'Hop L': { measure: 'lunge', side: 'left' } } });
    expect(settled).toContain('lunge left cm protocol');
    expect(settled).toContain('! heading_ambiguous: Lunge R');
  });
});

describe('a strange word in a line of units', () => {
  it.each([
    [
      'feet and inches',
      'Name,Date,Ht,Wt',
      ',,ft/in,lbs',
      ['name', 'date', 'height [in_i] heading', 'body_mass [lb_av] heading'],
    ],
    [
      'brackets',
      'Name,Ht,Wt,BP',
      ',(cm),(lbs),(seated)',
      ['name', 'height cm heading', 'body_mass [lb_av] heading', '! heading_unknown: BP (seated)'],
    ],
    ['repeats', 'Name,Wt,Hop', ',lbs,(x4)', ['name', 'body_mass [lb_av] heading', '! heading_unknown: Hop (x4)']],
    ['a date', 'Name,Date,Wt', ',(m/d/y),lbs', ['name', 'date', 'body_mass [lb_av] heading']],
    ['a date without brackets', 'Name,Date,Wt', ',mm/dd/yyyy,lbs', ['name', 'date', 'body_mass [lb_av] heading']],
    [
      'a word under a role',
      'Name,Team,Wt,Notes',
      ',(sport),lbs,(pain)',
      ['name', 'team', 'body_mass [lb_av] heading', '(remark)'],
    ],
    [
      'a word in front',
      'Name,Ht,Wt',
      'Please print,ft/in,lbs',
      ['name', 'height [in_i] heading', 'body_mass [lb_av] heading'],
    ],
    ['a word under the athlete', 'Name,Wt', '(print),lbs', ['name', 'body_mass [lb_av] heading']],
    [
      'no unit at all',
      'Name,Wt,Hop',
      ',lbs,shoes off',
      ['name', 'body_mass [lb_av] heading', '! heading_unknown: Hop shoes off'],
    ],
  ])('%s', (_, top, below, expected) => {
    expect(columns([top, below, 'Bo Reed,1,2,3', 'Kim Moss,1,2,3'])).toEqual(expected);
  });

  it.each([
    ['a status', 'Name,Hop,Wt', ',refused,lbs'],
    ['a number', 'Name,Hop,Wt', ',150 ok,lbs'],
    ['a name', 'Name,Hop,Wt', 'Bo Reed,slow,lbs'],
    ['a name and one unit', 'Name,Hop,Wt', 'Bo Reed,,lbs'],
    ['a name and sides', 'Name,Hop,Lunge', 'Bo Reed,L,R'],
    ['an id', 'ID,Hop,Wt', 'K001,cm,lbs'],
    ['a team', 'Name,Team,Wt', ',Rowing,lbs'],
    ['a remark', 'Name,Wt,Notes', ',lbs,came late'],
    ['no qualifier', 'Name,Hop,Wt', ',fast,heavy'],
  ])('a row with %s is no heading line', (_, top, below) => {
    expect(planOf([top, below, 'Kim Moss,1,2']).headingRows).toEqual([0, 0]);
  });

  it('reads pounds as pounds', async () => {
    const read = await ingestText('ID,Date,Ht,Wt\n,,ft/in,lbs\nK001,2026-08-17,"5\'11""",150\n');
    // 71 in × 2.54 = 180.34 cm; 150 lb × 0.45359237 = 68.0388555 kg
    expect(shorts(read)).toEqual(['height 1 = 180.34', 'body_mass 1 = 68.0388555']);
  });
});

describe('lines that speak of a unit', () => {
  const held = (lines: readonly string[], entry: EntryGiven = {}): string[] =>
    columns(lines, entry).filter((column) => column.startsWith('! unit_unknown'));

  it('holds back a column of the same kind whose unit nobody says', async () => {
    const sheet = ['Weigh in - all weights in pounds', 'ID,Date,Ht,Wt', 'K001,2026-08-17,180,150'];
    expect(columns(sheet)).toEqual(['athlete_id', 'date', 'height cm protocol', '! unit_unknown: Wt']);
    expect(messages(sheet)).toEqual([
      '"Wt" says no unit, and a line of the sheet speaks of "lb": a unit is never guessed.',
    ]);
    expect(shorts(await ingestText(sheet.join('\n')))).toEqual(['height 1 = 180']);
  });

  it.each([
    [
      'below the rows',
      ['ID,Ht,Wt', 'K001,71,150', 'K002,70,140', 'all weights in lbs and heights in inches'],
      ['Ht', 'Wt'],
    ],
    ['in brackets', ['Weights (lb)', 'ID,Wt', 'K001,150'], ['Wt']],
    ['beside a date', ['Weigh in (lbs),17 Aug 2026', 'ID,Wt', 'K001,150'], ['Wt']],
    ['against written_in', ['All forces in N', 'ID,Grip L', 'K001,40'], ['Grip L']],
    ['as "in in"', ['heights in in', 'ID,Ht', 'K001,71'], ['Ht']],
    ['units above their headings', [',ft/in,lbs,in', 'ID,Ht,Wt,Hop L', 'K001,180,150,60'], ['Ht', 'Wt', 'Hop L']],
    ['two of a kind', ['hops in inches, heights in cm', 'ID,Hop L,Ht', 'K001,71,180'], ['Hop L', 'Ht']],
    ['athletes across', ['Weights in pounds', ',K001,K002', 'Wt,150,140'], ['Wt']],
  ])('%s', (_, sheet, expected) => {
    expect(held(sheet)).toEqual(expected.map((heading) => `! unit_unknown: ${heading}`));
  });

  it.each([
    ['the unit it is read in', ['All weights in kg', 'ID,Wt', 'K001,70']],
    ['another kind', ['All weights in pounds', 'ID,Ht', 'K001,180']],
    ['a column that names its unit', ['All weights in pounds', 'ID,Wt (kg)', 'K001,70']],
    ['a quantity', ['Drop from a 20 inch box', 'ID,Hop L', 'K001,150']],
    ['feet', ['Bare feet, both feet on the line', 'ID,Ht', 'K001,180']],
    ['a preposition', ['Weigh in', 'ID,Hop L', 'K001,150']],
    ['a preposition inside', ['Measured in the gym', 'ID,Ht', 'K001,180']],
    ['a number of athletes', ['N = 24', 'ID,Grip L', 'K001,40']],
    ['another unit that holds its letter', ['Torque in N.m and N/kg', 'ID,Grip L', 'K001,40']],
    ['words that hold its letters', ['Left, after lifting: pinches', 'ID,Hop L', 'K001,40']],
    ['a name', ['ID,Name,Grip L', 'K001,Bo Reed,40', ',Kim Newton,']],
    ['a longer row', ['ID,Name,Wt', 'K001,Bo Reed,40', ',in lbs,heavy']],
  ])('leaves alone %s', (_, sheet) => {
    expect(held(sheet)).toEqual([]);
  });

  it.each([
    ['tests', 'ID,Date,Test,Value', 'K001,2026-08-17,Weight,150', 'K002,2026-08-17,Weight,70 kg'],
    ['units', 'ID,Date,Wt,Unit', 'K001,2026-08-17,150,', 'K002,2026-08-17,70,kg'],
  ])('refuses row by row where rows are %s', async (_, headings, open, clear) => {
    const read = await ingestText(['All weights in pounds', headings, open, clear].join('\n'));
    expect(shorts(read)).toEqual(['body_mass 1 = 70']);
    expect(read.rejects.map(({ code, line }) => `${code} @${line}`)).toEqual(['unit_unknown @3']);
  });

  it('keeps the pain of what is held back', async () => {
    const read = await ingestText('Jump distances in inches\nID,Date,Hop L\nK001,2026-08-17,60 pain\n');
    expect(shorts(read)).toEqual(['hop left 1 pain']);
  });

  it('lets screening.yaml settle it, and cells that name their unit', async () => {
    const sheet = ['All weights in pounds', 'ID,Date,Wt', 'K001,2026-08-17,150', 'K002,2026-08-17,70 kg'];
    expect(held(sheet, { units: { body_mass: 'kg' } })).toEqual([]);
    const read = await ingestText(sheet.join('\n'));
    expect(shorts(read)).toEqual(['body_mass 1 = 70']);
    expect(read.rejects.map(({ code, line }) => `${code} @${line}`)).toEqual(['unit_unknown @3']);
  });
});

describe('sides above tests', () => {
  it('are the first line of the headings', () => {
    const sheet = [',,Left,,Right,', 'ID,Date,Hip Add 1 (kg),Hop,Hip Add 1 (kg),Hop', 'K001,2026-08-17,20,150,21,151'];
    expect(columns(sheet)).toEqual([
      'athlete_id',
      'date',
      'hip_add left t1 kgf heading',
      'hop left cm protocol',
      'hip_add right t1 kgf heading',
      'hop right cm protocol',
    ]);
  });

  it('may have units below the tests', () => {
    const sheet = [',,Left,,Right,', 'ID,Date,Grip,Hop,Grip,Hop', ',,lbs,in,lbs,in', 'K001,2026-08-17,90,60,91,61'];
    expect(columns(sheet).slice(2)).toEqual([
      'grip left [lbf_av] heading',
      'hop left [in_i] heading',
      'grip right [lbf_av] heading',
      'hop right [in_i] heading',
    ]);
  });

  it('say nothing of what has no sides', () => {
    const sheet = [',,Left,Right,,', 'ID,Ht,Hop,Hop,Wt,Notes', 'K001,180,150,151,70,'];
    expect(columns(sheet)).toEqual([
      'athlete_id',
      'height cm protocol',
      'hop left cm protocol',
      'hop right cm protocol',
      'body_mass kg protocol',
      '(remark)',
    ]);
  });

  it.each([
    ['over the middle of their columns', ',,Left,,Right,', 'ID,Hop,Lunge,Hop,Lunge'],
    ['before their columns', ',Left,,Right,,,', 'ID,Hop,Lunge,Grip,Hop,Lunge,Grip'],
  ])('are refused %s', (_, top, below) => {
    const read = columns([top, below, 'K001,1,2,3,4,5,6']);
    expect(read.filter((column) => /left|right/.test(column))).toEqual([]);
    expect(read.filter((column) => column.startsWith('! heading_ambiguous')).length).toBeGreaterThan(2);
  });

  it.each([
    ['one side only', ',Left,,', 'ID,Hop,Lunge'],
    ['other words among them', 'Sheet,Left,Right', 'ID,Hop,Lunge'],
  ])('%s is a title', (_, top, below) => {
    expect(planOf([top, below, 'K001,1,2']).headingRows).toEqual([1, 1]);
  });
});

describe('athletes across under an empty corner', () => {
  it('may be one word or have an initial', () => {
    const { direction, tables } = planOf([',Corvin W,Hespa Yarrowholm,Bo', 'Hop L,143,118,120']);
    expect(direction).toBe('across');
    expect(tables[0].columns.map(told)).toEqual(['name', 'hop left cm protocol']);
  });

  it.each([
    ['mostly single words', ',Corvin,Bo Reed,Kim', 'Hop L,143,118,120'],
    ['a word in small letters', ',Corvin W,Peak force,Kim Moss', 'Hop L,143,118,120'],
    ['a status', ',Corvin W,Bo Reed,Refused', 'Hop L,143,118,120'],
    ['a side', ',Corvin W,Bo Reed,Left', 'Hop,143,118,120'],
    ['a unit', ',Corvin W,Bo Reed,Pounds', 'Hop L,143,118,120'],
    ['a heading', ',Corvin W,Bo Reed,Lunge', 'Hop L,143,118,120'],
    ['a role', ',Corvin W,Bo Reed,Tester', 'Hop L,143,118,120'],
    ['a digit', ',Corvin W,Bo Reed,Kim 2', 'Hop L,143,118,120'],
  ])('%s leaves it open who they are', (_, top, below) => {
    expect(found([top, below])).toMatchObject({ code: 'header_missing' });
  });
});

describe('a sheet without a heading line', () => {
  it('names what shares a word with a known heading', () => {
    const problem = found(['Name,Hop links,Hop rechts,Corvin Wade', 'Bo Reed,150,151,1']);
    expect(problem).toMatchObject({
      code: 'header_missing',
      args: { found: '"Name" is there and nothing that is measured ("Hop links" and "Hop rechts" are not understood)' },
    });
  });

  it('names nothing else', () => {
    expect(found(['Name,Corvin Wade,Left', 'Bo Reed,150,151'])).toMatchObject({
      args: { found: '"Name" is there and nothing that is measured' },
    });
  });
});
