import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type TitleFacts, titleFacts } from '../../src/sheets/title_lines.ts';
import type { DateOrder } from '../../src/units/dates.ts';
import { dayOf, isoDay } from '../../src/units/days.ts';

const TEAMS = new Set(['rowing', 'soccer', "women's rowing"]);
const isTeam = (text: string): boolean => TEAMS.has(text.toLowerCase());

/** Rows written with `|` between cells. */
function read(lines: readonly string[], dates?: DateOrder): TitleFacts {
  return titleFacts(
    lines.map((line) => line.split('|')),
    dates,
    isTeam,
  );
}

/** The facts in one line: `date 2026-08-17, team Rowing`. */
function said(lines: readonly string[], dates?: DateOrder): string {
  const { date, team, tester, device, station, problems } = read(lines, dates);
  const told = [
    date && `date ${isoDay(date.day)}`,
    team && `team ${team.text}`,
    tester && `tester ${tester.text}`,
    device && `device ${device.text}`,
    station && `station ${station.text}`,
    ...problems.map((problem) => `! ${problem}`),
  ];
  return told.filter((one) => one !== undefined).join(', ') || 'nothing';
}

describe('facts behind their labels', () => {
  it.each([
    ['Date: 17 Aug 2026', 'date 2026-08-17'],
    ['Date:17 Aug 2026', 'date 2026-08-17'],
    ['DATE = 2026-08-17', 'date 2026-08-17'],
    ['Date|17/08/2026', 'date 2026-08-17'],
    ['Date:||17/08/2026', 'date 2026-08-17'],
    ['Date - 17/08/2026', 'date 2026-08-17'],
    ['Date – 17 August 2026', 'date 2026-08-17'],
    ['Date 17/08/2026', 'date 2026-08-17'],
    ['Test date 17 August 2026', 'date 2026-08-17'],
    ['Date of testing: Mon, 17 Aug 2026', 'date 2026-08-17'],
    ['Test date: August 17, 2026', 'date 2026-08-17'],
    ['Date August 17, 2026', 'date 2026-08-17'],
    ['Tested on 17.08.2026', 'date 2026-08-17'],
    ['Tested: 17.08.2026 10:30', 'date 2026-08-17'],
    ['Date:|46251', 'date 2026-08-17'],
    ['Date:|20260817', 'date 2026-08-17'],
    ['Date (dd/mm/yyyy): 03/04/2026', 'date 2026-04-03'],
    ['Date (MM/DD/YY):|03/04/26', 'date 2026-03-04'],
    ['Team: Rowing', 'team Rowing'],
    ['Team: Fencing', 'team Fencing'],
    ['Team|Rowing', 'team Rowing'],
    ['Sport - Rowing', 'team Rowing'],
    ['Squad = Rowing', 'team Rowing'],
    ['Tester: J. M.', 'tester J. M.'],
    ['Testers: J. M., K. L.', 'tester J. M., K. L.'],
    ['Tested by J. M.', 'tester J. M.'],
    ['Taken by: D. P.', 'tester D. P.'],
    ['Taken by D. P.', 'tester D. P.'],
    ['tester M. P.', 'tester M. P.'],
    ['Tester MP', 'tester MP'],
    ['Tester M. Pell', 'tester M. Pell'],
    ['Tested by:|J. M.', 'tester J. M.'],
    ['Examiner|JM', 'tester JM'],
    ['Assessor: Reed, Bo', 'tester Reed, Bo'],
    ['Device: dynamometer 2', 'device dynamometer 2'],
    ['Instrument|D-12', 'device D-12'],
    ['Dynamometer: no. 3', 'device no. 3'],
    ['Station: Hip', 'station Hip'],
    ['Station 3: Hip', 'station Hip'],
    ['Station|Hip', 'station Hip'],
  ])('%s', (line, expected) => {
    expect(said([line])).toBe(expected);
  });

  it.each([
    ['Team: Rowing   Date: 17/08/2026', 'date 2026-08-17, team Rowing'],
    ['Team: Rowing, Date: 17/08/2026, Tester: J. M.', 'date 2026-08-17, team Rowing, tester J. M.'],
    ['Tester: J. M., Team: Rowing', 'team Rowing, tester J. M.'],
    ['Tester: J. M., 17 August 2026', 'date 2026-08-17, tester J. M.'],
    ['Tester: J. M., Hip station', 'tester J. M., station Hip'],
    ['Team:|Rowing|Date:|17/08/2026|Station:|Hip', 'date 2026-08-17, team Rowing, station Hip'],
    ['Team: Rowing\nDate: 17/08/2026', 'date 2026-08-17, team Rowing'],
    ['Date: 17\u00a0August\u00a02026', 'date 2026-08-17'],
    ['Date: 17/08/2026, Rowing', 'date 2026-08-17, team Rowing'],
  ])('several in one line: %s', (line, expected) => {
    expect(said([line])).toBe(expected);
  });

  it.each([
    'Date: ________',
    'Date:',
    'Date: TBC',
    'Team: ____|Date: ____|Tester: -',
    'Team|Name|Date',
    'Team:|Tester:|Date:',
    'Unit: kg',
    'All values in kg',
    'Values in kg, sitting',
    'Tester notes',
    'Team average',
    'Device check',
    'Screening station',
    'Venue: Main gym',
  ])('%s says nothing', (line) => {
    expect(said([line])).toBe('nothing');
  });
});

describe('facts without labels', () => {
  it.each([
    ['17 August 2026', 'date 2026-08-17'],
    ['Monday, 17 August 2026', 'date 2026-08-17'],
    ['Hip station, 17 August 2026', 'date 2026-08-17, station Hip'],
    ['Preseason screening - Rowing - 17 August 2026', 'date 2026-08-17, team Rowing'],
    ['Preseason screening: 17/08/2026', 'date 2026-08-17'],
    ['Preseason screening: Rowing', 'team Rowing'],
    ['Pre-season screening||17/08/2026', 'date 2026-08-17'],
    ['Season 2026/27, 17 August 2026', 'date 2026-08-17'],
    ['Rowing', 'team Rowing'],
    ['ROWING team', 'team ROWING'],
    ["Women's Rowing", "team Women's Rowing"],
    ['Group: Rowing', 'team Rowing'],
    ['Rowing  Hip station', 'team Rowing, station Hip'],
    ['Station 3', 'station 3'],
    ['Session: preseason, 17 August 2026', 'date 2026-08-17'],
    // nothing of it is a whole part
    ['Rowing screening 17 August 2026', 'date 2026-08-17'],
    ['Intake 17 Aug 2026', 'date 2026-08-17'],
    ['Hips 17/08/2026', 'date 2026-08-17'],
    ['Hips 03/04/2026', '! the date above the headings, "03/04/2026", may be 2026-04-03 or 2026-03-04'],
    ['Landing / Handball / Aug 18 2026', 'date 2026-08-18'],
    ['Landing / Handball / August 18, 2026', 'date 2026-08-18'],
    ['Hips Mon 17 Aug 2026', 'date 2026-08-17'],
    ['Rowing 17 Aug 2026', 'date 2026-08-17, team Rowing'],
    ['Intake 17 Aug 2026, Hips', 'date 2026-08-17'],
    ['Intake 17 Aug', 'nothing'],
    ['Intake August 2026', 'nothing'],
    ['Intake 20260817', 'nothing'],
    ['Intake 17 Aug 2026 and after', 'nothing'],
    ['Intake 17 to 18 Aug 2026', 'nothing'],
    ['Intake 17 & 18 Aug 2026', 'nothing'],
    ['Intake 17-18 Aug 2026', 'nothing'],
    ['Sheet printed 17 Aug 2026', 'nothing'],
    ['Season start 17 Aug 2026', 'nothing'],
    ['Version of 17/08/2026', 'nothing'],
    ['Screening of Rowing', 'nothing'],
    ['17 August', 'nothing'],
    ['August 2026', 'nothing'],
    ['2026', 'nothing'],
    ['46251', 'nothing'],
    ['20260817', 'nothing'],
    ['Group: A', 'nothing'],
    ['Tester training day', 'nothing'],
    ['tester sheet', 'nothing'],
  ])('%s', (line, expected) => {
    expect(said([line])).toBe(expected);
  });

  it.each([
    'Printed 17/08/2026',
    'Printed: 17/08/2026',
    'Printed|17/08/2026',
    'Print date: Mon, 17 Aug 2026',
    'Printed by J. M., 17/08/2026',
    'Updated 17/08/2026',
    'Last updated:|17/08/2026',
    'Created|17/08/2026',
    'Version 3, 17/08/2026',
    'Page 1 of 3   17/08/2026',
    'DOB: 17/08/2006',
    'DOB|17/08/2006',
    'Date of birth|17/08/2006',
    'Date of birth: 17/08/2006',
    'Date printed: 17/08/2026',
    'Next test: 17/08/2027',
    'Calibrated|01/08/2026',
    'Due|17/08/2026',
    'Season start: 17/08/2026',
    'Season 2026/27',
    'First match: 12/09/2026',
  ])('%s is another day', (line) => {
    expect(said([line], 'dmy')).toBe('nothing');
  });

  it('the day of printing does not hide the day of the test', () => {
    expect(said(['Printed 18/08/2026', 'Rowing, 17/08/2026'])).toBe('date 2026-08-17, team Rowing');
    expect(said(['Printed 18/08/2026, Rowing|17/08/2026'])).toBe('date 2026-08-17, team Rowing');
    expect(said(['Date: 17/08/2026   Printed: 18/08/2026'])).toBe('date 2026-08-17');
  });

  it('several teams without a label are a title in words', () => {
    expect(said(['Rowing, Soccer'])).toBe('nothing');
    expect(said(['Rowing', 'rowing team'])).toBe('team Rowing');
  });
});

describe('what contradicts itself or is open', () => {
  it.each([
    [
      ['17 August 2026', '18 August 2026'],
      'different dates stand above the headings: "17 August 2026", "18 August 2026"',
    ],
    [['17/08/2026|||24/08/2026'], 'different dates stand above the headings: "17/08/2026", "24/08/2026"'],
    [
      ['Date: 17/08/2026', 'Test date: 18/08/2026'],
      'different dates stand above the headings: "17/08/2026", "18/08/2026"',
    ],
    [['Date:|17/08/2026|18/08/2026'], 'different dates stand above the headings: "17/08/2026", "18/08/2026"'],
    [
      ['Date: 17 August 2026 - 18 August 2026'],
      'different dates stand above the headings: "17 August 2026", "18 August 2026"',
    ],
    [
      ['17/08/2026', '18/08/2026', '19/08/2026', '20/08/2026', '21/08/2026'],
      'different dates stand above the headings: "17/08/2026", "18/08/2026", "19/08/2026" and 2 more',
    ],
    [['Date: 17 August 2026 - 18 Aug'], 'different dates stand above the headings: "17 August 2026", "18 Aug"'],
    [['17 - 18 August 2026'], 'different dates stand above the headings: "17", "18 August 2026"'],
    [['16, 17, 18 August 2026'], 'different dates stand above the headings: "17", "18 August 2026"'],
    [['Aug 17 - Aug 18 2026'], 'different dates stand above the headings: "Aug 17", "Aug 18 2026"'],
    [['Date: 17 - 18 August 2026'], 'the date above the headings, "17 - 18 August 2026", cannot be read as one day'],
    [['Dates: 17-18 August 2026'], 'the date above the headings, "17-18 August 2026", cannot be read as one day'],
    [['Date: 31/02/2026'], 'the date above the headings, "31/02/2026", cannot be read as one day'],
    [['Date: 03/04/2026'], 'the date above the headings, "03/04/2026", may be 2026-04-03 or 2026-03-04'],
    [['Rowing, 03/04/2026'], 'the date above the headings, "03/04/2026", may be 2026-04-03 or 2026-03-04'],
    [['Date: 03/04/2026', '17/08/2026'], 'the date above the headings, "03/04/2026", may be 2026-04-03 or 2026-03-04'],
  ])('%j', (lines, problem) => {
    const { date, problems } = read(lines);
    expect(date).toBeUndefined();
    expect(problems).toEqual([problem]);
  });

  it('the order of the sheet settles an open date, and forbids another', () => {
    expect(said(['Date: 03/04/2026'], 'dmy')).toBe('date 2026-04-03');
    expect(said(['03/04/2026'], 'mdy')).toBe('date 2026-03-04');
    expect(read(['Date: 17/08/2026'], 'mdy').problems).toEqual([
      'the date above the headings, "17/08/2026", cannot be read as one day; with day and month the other way round it is 2026-08-17',
    ]);
  });

  it('one day may stand in several lines and forms', () => {
    expect(said(['Date: 17 August 2026', 'Date: 17/08/2026'])).toBe('date 2026-08-17');
    expect(said(['3 April 2026', '03/04/2026'])).toBe('date 2026-04-03');
  });

  it('a day with a label goes before those without', () => {
    expect(said(['1 August 2026', 'Date: 17 August 2026', '20 August 2026'])).toBe('date 2026-08-17');
  });

  it('a team with a label goes before those without; two with labels are none', () => {
    expect(said(['Soccer', 'Team: Rowing'])).toBe('team Rowing');
    expect(said(['Team: Rowing', 'Team: Soccer'])).toBe(
      '! different teams stand above the headings: "Rowing", "Soccer"',
    );
    expect(said(['Team: Rowing, Soccer'])).toBe('! different teams stand above the headings: "Rowing", "Soccer"');
    expect(said(['Team|Rowing|Soccer'])).toBe('! different teams stand above the headings: "Rowing", "Soccer"');
    expect(said(['Team: Rowing', 'Sport: ROWING'])).toBe('team Rowing');
    expect(said(['Tester: J. M.', 'Tester 2: K. L.'])).toBe(
      '! different testers stand above the headings: "J. M.", "K. L."',
    );
  });
});

describe('where a fact stands', () => {
  it('names row and column from 0, and the column of its label', () => {
    expect(read(['Preseason screening', '|Team: Rowing|Date:||17 August 2026', '||Tester: J. M.'])).toEqual({
      date: { text: '17 August 2026', row: 1, at: 4, labelAt: 2, day: dayOf(2026, 8, 17) },
      team: { text: 'Rowing', row: 1, at: 1 },
      tester: { text: 'J. M.', row: 2, at: 2 },
      problems: [],
    });
  });

  it('a value in the cell of its label has no other cell', () => {
    expect(read(['Date: 17 August 2026']).date).toEqual({
      text: '17 August 2026',
      row: 0,
      at: 0,
      day: dayOf(2026, 8, 17),
    });
  });
});

describe('bounds', () => {
  it('reads 60 rows, 50 cells and cells of 200 characters', () => {
    const blank = Array.from({ length: 59 }, () => '');
    expect(said([...blank, 'Team: Rowing'])).toBe('team Rowing');
    expect(said([...blank, '', 'Team: Rowing'])).toBe('nothing');
    expect(said([`${'|'.repeat(49)}Team: Rowing`])).toBe('team Rowing');
    expect(said([`${'|'.repeat(50)}Team: Rowing`])).toBe('nothing');
    expect(said([`Team: Rowing${' '.repeat(188)}`])).toBe('team Rowing');
    expect(said([`Team: Rowing${' '.repeat(189)}`])).toBe('nothing');
  });

  it('does not cut a date short', () => {
    expect(said([`${'x'.repeat(190)}, 17/08/2026`])).toBe('nothing');
  });

  it.each(['1,', ', ', '  ', ' -', 'a=', 'Date:', '17/08/2026,', 'Tester:a,', '1 August 2026 - '])(
    'takes no longer for many of %j',
    (piece) => {
      const cell = piece.repeat(200 / piece.length);
      const rows = Array.from({ length: 100 }, () => Array.from({ length: 100 }, () => cell));
      const start = performance.now();
      titleFacts(rows, undefined, isTeam);
      // Some 100 ms on two slow cores: bounded, whatever the sheet holds.
      expect(performance.now() - start).toBeLessThan(4000);
    },
  );

  it('takes whatever stands there', () => {
    const pieces = fc.constantFrom(
      'Date',
      'Team',
      ':',
      ' ',
      '-',
      ',',
      '17',
      '/08/2026',
      'August',
      'Rowing',
      'Tested by',
      '\n',
    );
    const cells = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.array(pieces, { maxLength: 12 }).map((all) => all.join('')),
    );
    fc.assert(
      fc.property(fc.array(fc.array(cells, { maxLength: 5 }), { maxLength: 5 }), (rows) => {
        const facts = titleFacts(rows, 'dmy', isTeam);
        for (const fact of [facts.date, facts.team, facts.tester, facts.device, facts.station]) {
          // What is said stands in the very cell that is named for it.
          if (fact) expect(rows[fact.row][fact.at]).toContain(fact.text);
        }
      }),
    );
  });
});
