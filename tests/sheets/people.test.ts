import { describe, expect, it } from 'vitest';
import { ROSTER } from './battery.ts';
import { codes, type IngestGiven, ingestText } from './ingest_text.ts';

const entry = { date: '2026-08-17' };
const people = new Map([['Bo the rower', 'K001']]);
const withRoster: IngestGiven = { entry, roster: ROSTER, people };

const ids = async (text: string, given: IngestGiven = withRoster) =>
  (await ingestText(text, given)).observations.map(({ athlete_id }) => athlete_id);

describe('who a row is about', () => {
  it('is said by id, by name in one column or in two', async () => {
    expect(await ids('ID,Ht\nK001,180\nk 002,181\nK3,182\n')).toEqual(['K001', 'K002', 'K003']);
    expect(await ids('Name,Ht\nBo Reed,180\n"ØDEGÅRD, Zoë",181\nKimmy,182\nBo the rower,183\n')).toEqual([
      'K001',
      'K002',
      'K004',
      'K001',
    ]);
    expect(await ids('First,Last,Ht\nBo,Reed,180\nZoe,Odegard,181\n')).toEqual(['K001', 'K002']);
    expect(await ids('Last name,First name,Ht\nQuill,Ada,180\n')).toEqual(['K014']);
  });

  it('is said by the name where a row has no id', async () => {
    expect(await ids('ID,Name,Ht\nK001,Bo Reed,180\n,Ada Quill,181\n')).toEqual(['K001', 'K014']);
  });

  it('is noted where leading zeros, case or blanks differ', async () => {
    const { notes } = await ingestText('ID,Ht\nK001,180\nK2,181\nk003,182\nk003,183\n', withRoster);
    expect(notes).toEqual([
      'sheet.csv: athlete "K2" is taken as K002 of the roster (leading zeros are missing or added)',
      'sheet.csv: athlete "k003" is taken as K003 of the roster (case or spaces differ)',
      'sheet.csv: a row is of an athlete who has one already on that day, first K003 (lines 4 and 5); they are read as further trials: check that no id is wrong',
    ]);
  });

  it('is never guessed: the row is rejected with the nearest ids', async () => {
    const ingested = await ingestText('Name,Ht,Wt\nBo Read,180,80\nKim Moss,181,81\nPat Vane,182,\n', withRoster);
    expect(ingested.observations).toEqual([]);
    expect(ingested.rejects).toMatchObject([
      { code: 'athlete_unknown', line: 2, column: 1, cells: 3, suggestion: expect.stringContaining('Nearest: K001.') },
      { code: 'athlete_ambiguous', line: 3, column: 1, cells: 3, message: expect.stringContaining('K003 or K004') },
      { code: 'athlete_unknown', line: 4, column: 1, cells: 2, suggestion: expect.not.stringContaining('Nearest') },
    ]);
  });

  it('is kept by id where unlisted athletes are kept', async () => {
    expect(await ids('ID,Ht\nK900,180\n', { ...withRoster, unlisted: 'keep' })).toEqual(['K900']);
  });
});

describe('names', () => {
  const SHEET =
    'Name,Remarks,Ht\nBo Reed,asked Bo Reed,180\nBo Read,,181\nKim Moss,,182\nPat Vane,,5.11\n"Vane, Pat",,1O\n';

  it('are in no table and no note', async () => {
    for (const given of [withRoster, { entry }, { ...withRoster, unlisted: 'keep' as const }]) {
      const ingested = await ingestText(SHEET, given);
      expect(JSON.stringify(ingested)).not.toMatch(/Bo|Reed|Read|Kim|Moss|Pat|Vane/);
      for (const { raw, code } of ingested.rejects) if (code?.startsWith('athlete_')) expect(raw).toBeNull();
    }
  });

  it('are in no table where the sheet has no headings', async () => {
    const ingested = await ingestText('Reed,Bo,180\nMoss,Kim,181\n', withRoster);
    expect(codes(ingested)).toEqual(['header_missing @-:-']);
    expect(JSON.stringify(ingested)).not.toMatch(/Bo|Reed|Kim|Moss/);
  });

  it('with a digit in them are names all the same', async () => {
    const ingested = await ingestText('Name,Ht\nPat Vane 2,180\nVane (14),181\n', withRoster);
    expect(JSON.stringify(ingested)).not.toMatch(/Pat|Vane/);
  });

  it('are shown if they may be', async () => {
    const ingested = await ingestText(SHEET, { ...withRoster, showNames: true });
    expect(ingested.rejects.map(({ raw }) => raw)).toEqual(['Bo Read', 'Kim Moss', 'Pat Vane', 'Vane, Pat']);
    expect(ingested.rejects[2].message).toBe('Athlete "Pat Vane" is not on the roster. The row holds Ht 5.11.');
  });

  it('stand for ids without a roster, if they may be shown', async () => {
    expect(await ids('Name,Ht\nPat Vane,180\n', { entry, showNames: true })).toEqual(['Pat Vane']);
  });
});

describe('teams and sex', () => {
  it('come from the roster, and a disagreement is said', async () => {
    const { observations, notes, athletes } = await ingestText(
      'ID,Team,Sex,Ht\nK001,Fencing,M,180\nK002,fencing,F,181\n',
      withRoster,
    );
    expect(observations.map(({ team }) => team)).toEqual(['Rowing', 'Rowing;Fencing']);
    expect(notes).toEqual([
      'sheet.csv: athlete K001 stands under team "Fencing", the roster says Rowing; the roster holds',
      'sheet.csv: athlete K001 stands under sex "M", the roster says F; the roster holds',
    ]);
    expect(athletes.find(({ athlete_id }) => athlete_id === 'K001')).toMatchObject({
      team: 'Rowing',
      sex: 'F',
      from: 'roster',
    });
  });

  it('come from the sheet, or its entry, where there is no roster', async () => {
    const { observations, athletes } = await ingestText(
      'ID,Team,Sex,Ht\nK001,Rowing,f,180\nK002,,,181\nK003,W Row,,182\n',
      {
        entry: { ...entry, team: 'Fencing' },
        teamAliases: new Map([['w row', 'Rowing']]),
      },
    );
    expect(observations.map(({ team }) => team)).toEqual(['Rowing', 'Fencing', 'Rowing']);
    expect(athletes.map(({ athlete_id, team, sex, from }) => [athlete_id, team, sex, from])).toEqual([
      ['K001', 'Rowing', 'F', 'sheets'],
      ['K002', 'Fencing', null, 'sheets'],
      ['K003', 'Rowing', null, 'sheets'],
    ]);
  });
});

describe('the dominant and the other side', () => {
  it('are settled through the roster, measure by measure', async () => {
    // K002 kicks with the left, K003 throws with the left and has no foot on the roster.
    const { observations, rejects } = await ingestText(
      'ID,Hip Add D (N),Hip Add ND (N),Grip D,Grip other\nK001,200,190,40,39\nK002,201,191,41,38\nK003,202,192,42,37\nK004,203,193,43,36\n',
      withRoster,
    );
    expect(observations.map(({ athlete_id, measure, side, value }) => [athlete_id, measure, side, value])).toEqual([
      ['K001', 'hip_add', 'right', 200],
      ['K001', 'hip_add', 'left', 190],
      ['K001', 'grip', 'right', 40],
      ['K001', 'grip', 'left', 39],
      ['K002', 'hip_add', 'left', 201],
      ['K002', 'hip_add', 'right', 191],
      ['K002', 'grip', 'right', 41],
      ['K002', 'grip', 'left', 38],
      ['K003', 'grip', 'left', 42],
      ['K003', 'grip', 'right', 37],
      ['K004', 'grip', 'left', 43],
      ['K004', 'grip', 'right', 36],
    ]);
    expect(rejects.map(({ line, column, code }) => [line, column, code])).toEqual([
      [4, 2, 'side_needs_roster'],
      [4, 3, 'side_needs_roster'],
      // both feet: there is no dominant one
      [5, 2, 'side_needs_roster'],
      [5, 3, 'side_needs_roster'],
    ]);
    expect(rejects[0].message).toContain('kicking_foot');
  });

  it('are settled from a side column, too', async () => {
    const { observations } = await ingestText('ID,Side,Grip\nK001,throwing,40\nK001,non-dominant,39\n', withRoster);
    expect(observations.map(({ side }) => side)).toEqual(['right', 'left']);
  });
});
