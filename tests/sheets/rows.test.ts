import { describe, expect, it } from 'vitest';
import { codes, type EntryGiven, ingestText, shorts } from './ingest_text.ts';

const entry: EntryGiven = { date: '2026-08-17' };
const read = (text: string, more: EntryGiven = {}) => ingestText(text, { entry: { ...entry, ...more } });

describe('what the entry of a sheet says', () => {
  it('stands with every reading, and the sheet’s own cells come first', async () => {
    const { observations } = await read(
      'ID,Date,Team,Tester,Device,Hop L\nK001,,,,,150\nK002,2026-09-01,Fencing,JM,tape,151\n',
      {
        team: 'Rowing',
        tester: 'AB',
        device: 'mat',
        station: 'Hop',
        purpose: 'makeup',
      },
    );
    expect(observations).toMatchObject([
      {
        date: '2026-08-17',
        team: 'Rowing',
        tester: 'AB',
        device: 'mat',
        station: 'Hop',
        purpose: 'makeup',
        season: 2026,
      },
      {
        date: '2026-09-01',
        team: 'Fencing',
        tester: 'JM',
        device: 'tape',
        station: 'Hop',
        purpose: 'makeup',
        season: 2026,
      },
    ]);
  });

  it('has its season, or the day has one', async () => {
    const sheet = 'ID,Date,Hop L\nK001,2026-06-30,150\nK001,2026-07-01,151\nK001,2027-03-02,152\n';
    expect((await read(sheet)).observations.map(({ season }) => season)).toEqual([2025, 2026, 2026]);
    expect((await read(sheet, { season: 2020 })).observations.map(({ season }) => season)).toEqual([2020, 2020, 2020]);
    const late = await ingestText(sheet, { seasonStarts: '03-02' });
    expect(late.observations.map(({ season }) => season)).toEqual([2026, 2026, 2027]);
  });

  it.each(['test', 'makeup', 'retest', 'return'] as const)('can be a %s', async (purpose) => {
    expect((await read('ID,Hop L\nK001,150\n', { purpose })).observations[0].purpose).toBe(purpose);
  });

  it('gives units, and the reading says where its unit was found', async () => {
    const sheet = 'ID,Hip Add L,Hip Add R (N),Grip L,Hop L,Ht\nK001,20,200,40,150,180 cm\n';
    const { observations } = await read(sheet, { units: { hip_add: '[lbf_av]' } });
    expect(
      observations.map(({ measure, side, written_in, unit, unit_from }) => [
        measure,
        side,
        written_in,
        unit,
        unit_from,
      ]),
    ).toEqual([
      ['hip_add', 'left', '[lbf_av]', 'N', 'screening'],
      ['hip_add', 'right', 'N', 'N', 'heading'],
      ['grip', 'left', 'kgf', 'kgf', 'written_in'],
      ['hop', 'left', 'cm', 'cm', 'protocol'],
      ['height', 'none', 'cm', 'cm', 'cell'],
    ]);
    // NIST SP 811: 20 lbf × 4.4482216152605 N
    expect(observations[0].value).toBeCloseTo(88.96443230521, 9);
  });

  it('turns a sign', async () => {
    const { observations, rejects } = await read('ID,Reach wall L,Reach wall R\nK001,3,-40\n', {
      columns: {
        'reach wall l': { measure: 'lunge', side: 'left', sign: 'reversed' },
        'reach wall r': { measure: 'lunge', side: 'right', sign: 'reversed' },
      },
    });
    expect(observations).toMatchObject([{ measure: 'lunge', value: -3, raw: '3' }]);
    expect(rejects).toMatchObject([{ code: 'implausible', raw: '-40' }]);
  });
});

describe('dates of a sheet', () => {
  const sheet = (...dates: string[]) => `ID,Date,Hop L\n${dates.map((date, at) => `K${at},${date},150\n`).join('')}`;
  const days = async (text: string, more: EntryGiven = {}) => {
    const { observations, rejects } = await ingestText(text, { entry: more });
    return [observations.map(({ date }) => date), rejects.map(({ code, raw }) => `${code} ${raw}`)];
  };

  it('are read as one of them shows', async () => {
    expect(await days(sheet('03/04/2026', '17/08/2026'))).toEqual([['2026-04-03', '2026-08-17'], []]);
    expect(await days(sheet('03/04/2026', '08/17/2026'))).toEqual([['2026-03-04', '2026-08-17'], []]);
    expect(await days(sheet('03.04.26', '17.08.26'))).toEqual([['2026-04-03', '2026-08-17'], []]);
  });

  it('are left open where none shows it, or two contradict', async () => {
    expect(await days(sheet('03/04/2026', '04/04/2026'))).toEqual([['2026-04-04'], ['date_ambiguous 03/04/2026']]);
    expect(await days(sheet('03/04/2026', '17/08/2026', '08/17/2026'))).toEqual([
      ['2026-08-17', '2026-08-17'],
      ['date_ambiguous 03/04/2026'],
    ]);
  });

  it('are read as declared', async () => {
    expect(await days(sheet('03/04/2026'), { dates: 'dmy' })).toEqual([['2026-04-03'], []]);
    expect(await days(sheet('03/04/2026'), { dates: 'mdy' })).toEqual([['2026-03-04'], []]);
    expect(await days(sheet('26/04/03'), { dates: 'ymd' })).toEqual([['2026-04-03'], []]);
    expect(await days(sheet('17/08/2026'), { dates: 'mdy' })).toEqual([[], ['date_invalid 17/08/2026']]);
  });

  it('show their order from the very end of a long sheet', async () => {
    const dates = Array.from({ length: 20_000 }, () => '03/04/2026');
    const [read, rejected] = await days(sheet(...dates, '17/08/2026'));
    expect([read.length, rejected.length, read[0]]).toEqual([20_001, 0, '2026-04-03']);
    const [none, open] = await days(sheet(...dates, '17/08/2026', '08/17/2026'));
    expect([none.length, open.length]).toEqual([2, 20_000]);
  });

  it('may carry the time of day, and show their order all the same', async () => {
    expect(await days(sheet('03/04/2026', '17/08/2026 10:30'))).toEqual([['2026-04-03', '2026-08-17'], []]);
  });
});

describe('trials', () => {
  it('count in order of appearance where nothing numbers them', async () => {
    const ingested = await read(
      'ID,Test,Side,Value\nK001,Hop,L,150\nK002,Hop,L,140\nK001,Hop,L,151\nK001,Hop,R,149\nK001,Hop,L,NT\n',
    );
    expect(shorts(ingested)).toEqual([
      'hop left 1 = 150',
      'hop left 1 = 140',
      'hop left 2 = 151',
      'hop right 1 = 149',
      'hop left 3 not_tested',
    ]);
  });

  it.each(['2', ' 2 ', '2.0', 'T2', 'trial 2', 'Attempt 2', 'rep. 2'])('%j is the second', async (trial) => {
    expect(shorts(await read(`ID,Trial,Hop L\nK001,${trial},150\n`))).toEqual(['hop left 2 = 150']);
  });

  it('a row that stands twice gives its readings the same numbers', async () => {
    const ingested = await read('ID,Hop L,Hop R\nK001,150,151\nK001,150,151\nK001,150,152\n');
    expect(shorts(ingested)).toEqual([
      'hop left 1 = 150',
      'hop right 1 = 151',
      'hop left 1 = 150',
      'hop right 1 = 151',
      'hop left 2 = 150',
      'hop right 2 = 152',
    ]);
  });

  it('start anew on another day', async () => {
    const ingested = await read('ID,Date,Hop L\nK001,2026-08-17,150\nK001,2026-08-18,151\n');
    expect(shorts(ingested)).toEqual(['hop left 1 = 150', 'hop left 1 = 151']);
  });
});

describe('sides', () => {
  it('of both limbs at once have their own limits', async () => {
    const ingested = await read('ID,Grip both,Grip L\nK001,200,200\n');
    expect(shorts(ingested)).toEqual(['grip both 1 = 200']);
    expect(codes(ingested)).toEqual(['implausible @2:3']);
  });

  it('do not matter to a measure that has none', async () => {
    expect(shorts(await read('ID,Side,Ht,Hop\nK001,L,180,150\n'))).toEqual(['height 1 = 180', 'hop left 1 = 150']);
  });

  it('of heading and row that contradict each other are not chosen between', async () => {
    const { rejects, observations } = await read('ID,Test,Side,Value\nK001,Hop R,L,150\nK001,Hop R,R,151\n');
    expect(observations.map(({ value }) => value)).toEqual([151]);
    expect(rejects.map(({ code, message }) => [code, message])).toEqual([
      ['side_unknown', 'Two sides are named: the heading or test says right, the row left.'],
    ]);
  });

  it('of a measure without sides are passed over, whatever they say', async () => {
    expect(shorts(await read('ID,Test,Side,Value\nK001,Ht,sitting,180\nK002,Ht,-,181\n'))).toEqual([
      'height 1 = 180',
      'height 1 = 181',
    ]);
  });
});

describe('a status column', () => {
  it('governs its row where rows are tests', async () => {
    const ingested = await read(
      'ID,Test,Side,Value,Status\nK001,Hop,L,150,ok\nK001,Hop,R,151,pain\nK001,Ht,,,refused\nK001,Hop,L,,unable\nK001,Hop,R,149,void\nK001,Hop,L,32 P,\nK001,Hop,L,NT,ok\n',
    );
    expect(shorts(ingested)).toEqual([
      'hop left 1 = 150',
      'hop right 1 = 151 pain',
      'height 1 refused',
      'hop left 2 unable',
      'hop right 2 void',
      'hop left 3 = 32 pain',
      'hop left 4 not_tested',
    ]);
    expect(codes(ingested)).toEqual([]);
  });

  it('is left aside in a wide sheet', async () => {
    const ingested = await read('ID,Hop L,Status\nK001,150,pain\n');
    expect(shorts(ingested)).toEqual(['hop left 1 = 150']);
    expect(ingested.ignored).toMatchObject([{ column: 3, reason: 'status_of_wide_sheet', cells: 2 }]);
  });

  it('governs a wide row where screening.yaml says so', async () => {
    const ingested = await read('ID,Hop L,Hop R,Day\nK001,150,151,pain\nK002,,,inj\n', {
      columns: { day: { role: 'status' } },
    });
    expect(shorts(ingested)).toEqual([
      'hop left 1 = 150 pain',
      'hop right 1 = 151 pain',
      'hop left 1 held',
      'hop right 1 held',
    ]);
  });

  it('without a side to put it to is a reject, not lost', async () => {
    const ingested = await read('ID,Test,Value,Status\nK001,Hop,,unable\nK001,Hop L,,unable\n');
    expect(shorts(ingested)).toEqual(['hop left 1 unable']);
    expect(codes(ingested)).toEqual(['side_missing @2:4']);
  });

  it('needs no unit where there is no number', async () => {
    const ingested = await read('ID,Test,Side,Value,Status\nK001,Hip Add,L,,unable\nK001,Hip Add,R,20,refused\n');
    expect(shorts(ingested)).toEqual(['hip_add left 1 unable', 'hip_add right 1 refused']);
  });
});

describe('words in a force column of a row that names no unit', () => {
  it('are statuses all the same', async () => {
    const ingested = await read('ID,Test,Side,Value\nK001,Hip Add,L,NT\nK001,Hip Add,R,20\n');
    expect(shorts(ingested)).toEqual(['hip_add left 1 not_tested']);
    expect(codes(ingested)).toEqual(['unit_unknown @3:4']);
  });
});

describe('rows that are not readings', () => {
  it('headings that come again at a page break are left aside', async () => {
    const ingested = await read('Hip\nID,Hop L\nK001,150\nID,Hop L\nK002,151\n ID , Hop L \nK003,152\n');
    expect(shorts(ingested)).toEqual(['hop left 1 = 150', 'hop left 1 = 151', 'hop left 1 = 152']);
    expect(
      ingested.ignored.filter(({ reason }) => reason === 'repeated_header').map(({ line, cells }) => [line, cells]),
    ).toEqual([
      [4, 2],
      [6, 2],
    ]);
    expect(codes(ingested)).toEqual([]);
  });

  it('and so are two heading lines that come again', async () => {
    const two = 'ID,Hop,\n,L,R\n';
    const ingested = await read(`${two}K001,150,151\n${two}K002,152,153\n`);
    expect(ingested.observations).toHaveLength(4);
    expect(ingested.ignored.map(({ line, reason }) => [line, reason])).toEqual([
      [4, 'repeated_header'],
      [5, 'repeated_header'],
    ]);
  });

  it('a row that holds no reading loses none, and is left aside', async () => {
    const ingested = await read('ID,Date,Hop L\nRowing,,\nK001,2026-08-17,150\n,2026-08-17,\n');
    expect(codes(ingested)).toEqual([]);
    expect(ingested.ledger[0]).toMatchObject({ cells: 8, measured: 1, context: 5, ignored: 2, rejected: 0 });
    expect(ingested.ignored.map(({ line, reason }) => [line, reason])).toEqual([
      [2, 'footnote'],
      [4, 'footnote'],
    ]);
  });
});

describe('an impossible reading', () => {
  it('comes with its place in corrections.csv, and what it may have been', async () => {
    const { rejects } = await read('ID,Ht\nK001,71\n');
    expect(rejects[0].message).toBe('Standing height "71" lies outside 120 to 240 cm.');
    expect(rejects[0].suggestion).toBe(
      'Looks like 180.3 cm (centimetres and inches). Take it again if the athlete is still there; else mend the sheet, or settle it in corrections.csv (sheet.csv,2,2,71 …) with the action value, void or confirmed.',
    );
  });

  it('is written in that line as a CSV cell', async () => {
    const { rejects } = await read('ID;Hop L\nK001;1,5\nK002;999,5\n');
    expect(rejects[0].suggestion).toContain('sheet.csv,3,2,"999,5" …');
  });
});

describe('a best or mean beside the trials', () => {
  it('is left aside', async () => {
    const ingested = await read('ID,Hop L 1,Hop L 2,Hop L best,Mean Hop L\nK001,150,151,151,150.5\n');
    expect(shorts(ingested)).toEqual(['hop left 1 = 150', 'hop left 2 = 151']);
    expect(ingested.ignored.map(({ column, reason, cells }) => [column, reason, cells])).toEqual([
      [4, 'worked_out', 2],
      [5, 'worked_out', 2],
    ]);
  });
});

describe('batches', () => {
  it('hold at most 8192 observations, and nothing is lost between them', async () => {
    const rows = Array.from({ length: 9_000 }, (_, at) => `K${at},${100 + (at % 90)},118/${60 + (at % 30)}`);
    const { observations, ledger } = await read(`ID,Hop L,BP\n${rows.join('\n')}\n`);
    expect(observations).toHaveLength(27_000);
    expect(ledger).toMatchObject([{ measured: 18_000, context: 9_003 }]);
    expect(observations.slice(-3)).toMatchObject([
      { athlete_id: 'K8999', measure: 'hop', value: 189 },
      { athlete_id: 'K8999', measure: 'systolic', value: 118 },
      { athlete_id: 'K8999', measure: 'diastolic', value: 89 },
    ]);
  });
});
