import { describe, expect, it } from 'vitest';
import { ROSTER } from './battery.ts';
import { codes, type IngestGiven, ingestText, shorts } from './ingest_text.ts';

const entry = { date: '2026-08-17' };
const withRoster: IngestGiven = { entry, roster: ROSTER };

describe('a row that has slipped by a column', () => {
  it('is not read where a name with a comma stands in two cells', async () => {
    const ingested = await ingestText(
      'ID,Name,Pulse,Wt (kg),Notes\nK001,Reed, Bo,62,84.5\nK005,"O\'Hara, Lee",60,70,\n',
      withRoster,
    );
    expect(shorts(ingested)).toEqual(['pulse 1 = 60', 'body_mass 1 = 70']);
    expect(codes(ingested)).toEqual(['row_too_long @2:3']);
    expect(JSON.stringify(ingested)).not.toMatch(/Reed|Bo\b/);
  });

  it('is not read where a decimal comma was not quoted', async () => {
    const ingested = await ingestText('ID,Grip R,Grip L\nK001,54,5,51\nK002,50,49\n', { entry });
    expect(shorts(ingested)).toEqual(['grip right 1 = 50', 'grip left 1 = 49']);
    expect(codes(ingested)).toEqual(['row_too_long @2:4']);
    expect(ingested.ledger[0]).toMatchObject({ cells: 10, measured: 2, context: 4, rejected: 4 });
  });

  it('is read where only words stand beyond the last heading', async () => {
    const ingested = await ingestText('ID,Grip R\nK001,54,see notes\n', { entry });
    expect(shorts(ingested)).toEqual(['grip right 1 = 54']);
    expect(codes(ingested)).toEqual(['row_too_long @2:3']);
  });
});

describe('an id beside the name of somebody else', () => {
  it.each([
    ['the whole name', "K001,Lee,O'Hara"],
    ['a family name alone', "K001,,O'Hara"],
  ])('is refused: %s', async (_, row) => {
    const ingested = await ingestText(`ID,First,Last,Ht\n${row},180\nK005,Lee,O'Hara,170\n`, withRoster);
    expect(shorts(ingested)).toEqual(['height 1 = 170']);
    expect(codes(ingested)).toEqual(['athlete_ambiguous @2:1']);
    expect(ingested.rejects[0].message).toContain(
      'The row names two athletes: the id is that of K001, the name that of K005.',
    );
  });

  it.each(['Reed', 'Bo', 'Bobo', 'B. Reed', 'Reid', 'Robert'])(
    'is taken where the name may be theirs: %s',
    async (name) => {
      const ingested = await ingestText(`ID,Name,Ht\nK001,${name},180\n`, withRoster);
      expect(shorts(ingested)).toEqual(['height 1 = 180']);
    },
  );
});

describe('a mistyped year', () => {
  const rows = ['8/17/26', '8/17/26', '8/18/26'].map((date, at) => `K00${at + 1},${date},180\n`).join('');

  it('is refused where it is far from the other dates of the sheet', async () => {
    const ingested = await ingestText(`ID,Date,Ht\n${rows}K005,8/18/62,170\n`);
    expect(codes(ingested)).toEqual(['date_invalid @5:2']);
    expect(ingested.rejects[0].message).toBe(
      'Date "8/18/62" is 2062-08-18, and the other dates of the sheet are of 2026. The row holds Ht 170.',
    );
  });

  it('is no matter of an archive that goes on for years', async () => {
    const ingested = await ingestText(`ID,Date,Ht\n${rows}K005,8/18/36,170\n`);
    expect(codes(ingested)).toEqual([]);
  });
});

describe('a unit column with a blank', () => {
  it('leaves no number to the protocol where it names another unit for its neighbours', async () => {
    const sheet = 'ID,Wt,Unit\nK001,189,lbs\nK002,57.5,kg\nK003,120,\n';
    const ingested = await ingestText(sheet, { entry });
    expect(shorts(ingested)).toEqual(['body_mass 1 = 85.7289579', 'body_mass 1 = 57.5']);
    expect(codes(ingested)).toEqual(['unit_unknown @4:2']);
  });
});

describe('what is said', () => {
  it('a weight whose unit nobody names', async () => {
    const { notes } = await ingestText('ID,Wt,Ht\nK001,84,180\n', { entry });
    expect(notes).toEqual(['sheet.csv: "Wt" names no unit and is read in kg, as the protocol has it']);
  });

  it.each([
    'Tues 18 Aug',
    'Day 2 (18 Aug 2026)',
    'Session 2 2026-08-18',
    'Tues 8/18',
    'Date: next day',
    'Retest 2026-08-18',
  ])('a line between rows that speaks of a day: %s; the day above it holds no longer', async (line) => {
    const sheet = `Date: 2026-08-17\nID,Hop L\nK001,150\n${line},\nK002,151\n`;
    const ingested = await ingestText(sheet);
    const days = ingested.observations.map(({ athlete_id, date }) => `${athlete_id} ${date}`);
    expect(days).not.toContain('K002 2026-08-17');
    expect(ingested.observations.length + ingested.rejects.length).toBe(2);
  });

  it('that such a line is not used, where screening.yaml names the day', async () => {
    const { notes, ignored } = await ingestText('ID,Hop L\nK001,150\nTues 18 Aug,\nK002,151\n', { entry });
    expect(ignored).toMatchObject([{ line: 3, reason: 'footnote' }]);
    expect(notes).toEqual([
      'sheet.csv: line 3 speaks of a day that cannot be settled: write it with its year, or give the rows a column of dates',
    ]);
  });

  it('two rows of one athlete where a row is an athlete', async () => {
    const { notes } = await ingestText('ID,Hop L\nK001,150\nK002,151\nK001,120\nK002,121\n', { entry });
    expect(notes).toEqual([
      'sheet.csv: 2 rows are of an athlete who has one already on that day, first K001 (lines 2 and 4); they are read as further trials: check that no id is wrong',
    ]);
  });

  it('that a measure names no dominance column', async () => {
    const { rejects } = await ingestText('ID,Hop dominant\nK001,150\n', withRoster);
    expect(rejects[0]).toMatchObject({
      message:
        'Side "dominant" needs to know the athlete\'s dominant side, and the protocol names no dominance column for this measure.',
      suggestion: 'Write left or right, or say dominance: in protocol.yaml, with the roster column that holds it.',
    });
  });
});

describe('a best beside trials', () => {
  const head = 'ID,Grip L 1,Grip L 2,Grip L best\n';

  it('is read where the trials of that row were not written down', async () => {
    const ingested = await ingestText(`${head}K001,51,50,51\nK002,,,43\n`, { entry });
    expect(shorts(ingested)).toEqual(['grip left 1 = 51', 'grip left 2 = 50', 'grip left 1 = 43']);
    expect(ingested.ledger[0]).toMatchObject({ cells: 10, measured: 3, context: 5, ignored: 2, rejected: 0 });
  });

  it.each(['0', '#DIV/0!', 'NT'])('is not made of nothing: %s', async (best) => {
    const ingested = await ingestText(`${head}K001,51,50,51\nK002,,,${best}\n`, { entry });
    expect(shorts(ingested)).toEqual(['grip left 1 = 51', 'grip left 2 = 50']);
  });

  it('is not read where a word says why there are no trials', async () => {
    const ingested = await ingestText(`${head}K001,51,50,51\nK002,NT,NT,43\n`, { entry });
    expect(shorts(ingested)).not.toContain('grip left 1 = 43');
  });
});

describe('columns that nobody can read', () => {
  it('are lost with no row: it is rejected, and no footnote', async () => {
    const sheet = 'Name,L (kg),R (kg),,Name,Ht\nUnlisted,45,48,,Bo Reed,181\n';
    const ingested = await ingestText(sheet, withRoster);
    expect(shorts(ingested)).toEqual(['height 1 = 181']);
    expect(ingested.ignored).toEqual([]);
    expect(ingested.ledger[0]).toMatchObject({ ignored: 0, measured: 1 });
  });
});

describe('where two tables stand side by side', () => {
  it('no row is read twice for an athlete called Max', async () => {
    const roster = `${ROSTER}K050,Vale,Max,Max,Fencing,M,,\n`;
    const sheet = 'Athlete,Hop L,,Athlete,Hop R\nK001,150,,Max,151\nK002,140,,K003,141\n';
    const { observations } = await ingestText(sheet, { entry, roster });
    expect(observations.map(({ athlete_id, side, trial, value }) => [athlete_id, side, trial, value])).toEqual([
      ['K001', 'left', 1, 150],
      ['K050', 'right', 1, 151],
      ['K002', 'left', 1, 140],
      ['K003', 'right', 1, 141],
    ]);
  });
});

describe('who belongs where', () => {
  it('is not learnt from a row before the line above it is understood', async () => {
    const { athletes } = await ingestText('Team: Rowing\nID,Hop L\nK001,150\nTeam: Fencing,\nK003,150\n', { entry });
    expect(athletes.map(({ athlete_id, team }) => [athlete_id, team])).toEqual([
      ['K001', 'Rowing'],
      ['K003', 'Fencing'],
    ]);
  });
});

describe('a row whose name was forgotten', () => {
  it.each([
    ['the tester signs SD', 'ID,Tester,Hop L\nK001,CV,150\n,SD,32 P\n'],
    ['the session is called Test', 'ID,Session,Hop L\nK001,Test,150\n,Test,151\n'],
  ])('is no summary because %s', async (_, sheet) => {
    const ingested = await ingestText(sheet, { entry });
    expect(codes(ingested)).toContain('athlete_missing @3:1');
  });

  it('is no page header because it stands above the headings', async () => {
    const sheet = 'ID,Hop L,Hop R\nK001,150,151\nK999,WNL,stopped early\nID,Hop L,Hop R\nK002,150,151\n';
    expect(codes(await ingestText(sheet, withRoster))).toEqual(['athlete_unknown @3:1']);
  });

  it('keeps its pain where the column is held back', async () => {
    const { rejects } = await ingestText('ID,Hip Add L,Ht\nK001,20,180\n,32 P,\n', { entry });
    expect(rejects.find(({ line }) => line === 3)?.message).toContain('Hip Add L 32 P');
  });
});

describe('where rows are tests', () => {
  it('a best without any trial is read, and one beside trials is not', async () => {
    const only = await ingestText('ID,Test,Side,Value\nK001,Hop best,L,150\n', { entry });
    expect(shorts(only)).toEqual(['hop left 1 = 150']);
    const beside = await ingestText('ID,Test,Side,Value\nK001,Hop,L,150\nK001,Hop best,L,150\n', { entry });
    expect(shorts(beside)).toEqual(['hop left 1 = 150']);
  });

  it('pain is never set aside with a best', async () => {
    const ingested = await ingestText('ID,Trial,Hop L\nK001,1,150\nK002,Best,149 P\n', { entry });
    expect(shorts(ingested)).toEqual(['hop left 1 = 150', 'hop left 1 = 149 pain']);
  });

  it('a number among others with units is not taken in the unit of the protocol', async () => {
    const ingested = await ingestText('ID,Test,Value\nK001,Wt,180 lb\nK002,Wt,165\nK003,Wt,150 lb\n', { entry });
    expect(codes(ingested)).toEqual(['unit_unknown @3:3']);
    expect(ingested.observations).toHaveLength(2);
  });
});

describe('a heading that reads well alone and not beside the others', () => {
  it.each([
    ['ID,Hop L,Hop R,Hop D\nK001,150,155,5\n', ['heading_ambiguous @1:4'], 2],
    ['ID,Sprint 10,Sprint 30\nK001,1.9,3.2\n', ['heading_ambiguous @1:2', 'heading_unknown @1:3'], 0],
    ['ID,Hop D,Hop ND\nK001,150,155\n', ['side_needs_roster @2:2', 'side_needs_roster @2:3'], 0],
    ['ID,Hop L 1,Hop L 2,Hop L 3,Hop L 4,Hop L 5,Hop L 6\nK001,1,2,3,4,5,6\n', [], 6],
  ])('%j', async (sheet, rejected, read) => {
    const ingested = await ingestText(sheet, { entry });
    expect(codes(ingested)).toEqual(rejected);
    expect(ingested.observations).toHaveLength(read);
  });
});

it('a ditto mark in words is no name of a tester', async () => {
  const sheet = 'ID,Tester,Hop L\nK001,J. M.,150\nK002,same as above,151\n';
  const { observations } = await ingestText(sheet, { entry });
  expect(observations.map(({ tester }) => tester)).toEqual(['J. M.', 'J. M.']);
});
