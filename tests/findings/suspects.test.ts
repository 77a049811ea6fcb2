import { beforeAll, describe, expect, it } from 'vitest';
import type { Suspect } from '../../src/findings/suspects/types.ts';
import { type College, type MadeSheet, makeCollege, type TestKey } from '../bench/suspects/college.ts';
import { type Checked, cellKey, cellsOf, check } from '../bench/suspects/read.ts';

// Every number here is invented: seeded sheets, in which single cells are then written as a hand would write them wrongly.
const SEED = 7;
const PER_SEASON = 120;
/** An athlete who is in all three seasons, and whose row stands in the middle of the sheets. */
const ROW = 60;

const college = (): College => makeCollege(SEED, PER_SEASON);
const sheetOf = ({ sheets }: College, file: string): MadeSheet => sheets.find((sheet) => sheet.file.endsWith(file))!;
const columnOf = (sheet: MadeSheet, test: TestKey, side?: string, trial = 1): number =>
  sheet.columns.findIndex((column) => column.test === test && column.side === side && column.trial === trial);

/** A row of an athlete who was there in all seasons. */
function rowOfMany({ sheets }: College, sheet: MadeSheet): number {
  const station = sheet.file.slice('sheets/2024/'.length);
  const others = sheets.filter(({ file }) => file.endsWith(station));
  return sheet.rows.findIndex(
    ([id], row) => row >= ROW && others.every(({ rows }) => rows.some((cells) => cells[0] === id)),
  );
}

const listed = (checked: Checked, sheet: MadeSheet, row: number, column: number): Suspect[] =>
  checked.suspects.filter((suspect) => cellsOf(checked, suspect).includes(cellKey(sheet.file, row + 2, column + 1)));

const words = (suspects: readonly Suspect[]): string[] =>
  suspects.map(({ kind, suggestion }) => `${kind}: ${suggestion}`);

/** Writes cells of one row wrongly and returns what is said about the first of them. */
async function afterWriting(
  file: string,
  write: (cells: string[], columns: (test: TestKey, side?: string, trial?: number) => number) => number,
): Promise<{ suspects: Suspect[]; checked: Checked }> {
  const made = college();
  const sheet = sheetOf(made, file);
  const row = rowOfMany(made, sheet);
  const column = write(sheet.rows[row], (test, side, trial) => columnOf(sheet, test, side, trial));
  const checked = await check(made);
  return { suspects: listed(checked, sheet, row, column), checked };
}

const times = (cell: string, factor: number, digits: number): string => (Number(cell) * factor).toFixed(digits);

describe('a reading in another unit', () => {
  it('body mass of one season in pounds', async () => {
    let pounds = '';
    const { suspects } = await afterWriting('2025/intake.csv', (cells, at) => {
      pounds = times(cells[at('mass')], 2.2046226, 1);
      cells[at('mass')] = pounds;
      return at('mass');
    });
    // NIST SP 811: 1 lb is 0.45359237 kg.
    const kilograms = Number((Number(pounds) * 0.45359237).toPrecision(4));
    expect(suspects).toHaveLength(1);
    const [{ kind, suggestion, low, high, score, extent }] = suspects;
    expect(kind).toBe('unit_slip');
    expect(extent).toBe('reading');
    expect(suggestion).toContain(`Looks like ${kilograms} kg (pounds and kilograms).`);
    expect(low).toBeLessThan(kilograms);
    expect(high).toBeGreaterThan(kilograms);
    expect(score).toBeGreaterThan(3);
  });

  it('one hand in pounds and the other in kilograms', async () => {
    const { suspects, checked } = await afterWriting('2026/intake.csv', (cells, at) => {
      for (const trial of [1, 2])
        cells[at('grip', 'left', trial)] = times(cells[at('grip', 'left', trial)], 2.2046226, 1);
      return at('grip', 'left', 1);
    });
    expect(suspects.map(({ kind }) => kind)).toEqual(['unit_slip']);
    // Each attempt has its line and its own number.
    const sameHand = checked.suspects.filter(({ at, kind }) => {
      const { readings } = checked;
      return kind === 'unit_slip' && at >= 0 && readings.line[at] === readings.line[suspects[0].at];
    });
    expect(sameHand.map(({ at }) => checked.readings.trial[at])).toEqual([1, 2]);
    for (const { at, suggestion } of sameHand) {
      const kilograms = Number((checked.readings.value[at] / 2.20462262).toPrecision(4));
      expect(suggestion).toContain(`Looks like ${kilograms} kgf (pounds and kilograms).`);
    }
  });

  it('a jump in metres is a reject, and so told with its only slip', async () => {
    const { suspects, checked } = await afterWriting('2025/power.csv', (cells, at) => {
      cells[at('jump', undefined, 2)] = times(cells[at('jump', undefined, 2)], 0.01, 3);
      return at('jump', undefined, 2);
    });
    expect(suspects).toHaveLength(1);
    expect(suspects[0]).toMatchObject({ at: -1, kind: 'implausible', low: 5, high: 130, covers: [] });
    expect(suspects[0].suggestion).toBe(checked.rejects.columns.suggestion.get(suspects[0].reject));
  });

  it('is told of a painful reading only where the factor fits closely, and says so', async () => {
    const write = (factor: number) =>
      afterWriting('2026/hip.csv', (cells, at) => {
        const column = at('adduction', 'left', 1);
        cells[column] = `${times(cells[at('adduction', 'left', 2)], factor, 0)} P`;
        return column;
      });
    const exact = await write(1 / 4.4482216);
    expect(exact.suspects.map(({ kind }) => kind)).toEqual(['unit_slip']);
    expect(exact.suspects[0].suggestion).toContain('The reading is painful and may well be low');
    // A third of what the other attempts are: no unit, and pain lets athletes stop early.
    expect((await write(0.33)).suspects).toEqual([]);
  });

  it('whole columns: one line says what the station should be asked', async () => {
    const made = college();
    const sheet = sheetOf(made, '2026/hip.csv');
    const columns = sheet.columns.flatMap(({ test }, at) => (test === 'abduction' ? [at] : []));
    for (const cells of sheet.rows) for (const at of columns) cells[at] = times(cells[at], 1 / 4.4482216, 1);
    const checked = await check(made);
    const wide = checked.suspects.filter(({ kind }) => kind === 'column_unit_slip');
    expect(wide).toHaveLength(1);
    expect(wide[0].extent).toBe('sheet');
    expect(wide[0].covers).toHaveLength(sheet.rows.length * columns.length);
    expect(wide[0].suggestion).toMatch(
      /^The whole sheet read about 4\.[345] times too low, by \d+ athletes: probably newtons and pounds are mixed up, and [\d.]+ N may be [\d.]+ N\. Ask the station, and state the unit under units in screening\.yaml\.$/,
    );
    expect(checked.readings.measureOf(wide[0].at).name).toBe('hip_abduction');
    expect(listed(checked, sheet, ROW, columns[0])).toEqual(wide);
  });

  it('a column that was rejected whole is one line too', async () => {
    const made = college();
    const sheet = sheetOf(made, '2024/intake.csv');
    const column = columnOf(sheet, 'height');
    for (const cells of sheet.rows) cells[column] = times(cells[column], 1 / 2.54, 1);
    const checked = await check(made);
    const about = listed(checked, sheet, ROW, column);
    expect(about.map(({ kind, extent, at }) => [kind, extent, at])).toEqual([['column_unit_slip', 'column', -1]]);
    expect(about[0].suggestion).toBe(
      `${sheet.rows.length} readings of the column cannot be, and would be usual ones if centimetres and inches are mixed up. Ask the station, and state the unit under units in screening.yaml.`,
    );
    expect(checked.suspects.filter(({ reject }) => reject >= 0)).toHaveLength(1);
  });

  it('what the slip of the column does not explain is a line of its own', async () => {
    const made = college();
    const sheet = sheetOf(made, '2024/intake.csv');
    const column = columnOf(sheet, 'height');
    for (const cells of sheet.rows) cells[column] = times(cells[column], 1 / 2.54, 1);
    sheet.rows[ROW][column] = '900';
    const checked = await check(made);
    const told = checked.suspects.filter(({ reject }) => reject >= 0).map(({ kind, extent }) => [kind, extent]);
    expect(told).toContainEqual(['column_unit_slip', 'column']);
    expect(told.filter(([, extent]) => extent === 'reading')).toHaveLength(1);
  });
});

describe('digits', () => {
  it.each([
    ['dropped', (text: string) => text[0] + text.slice(2), 'a digit was left out'],
    ['doubled', (text: string) => text[0] + text, 'a digit was typed twice'],
  ])('%s', async (_, slip, how) => {
    const { suspects } = await afterWriting('2025/landing.csv', (cells, at) => {
      const column = at('hop', 'left', 2);
      // Plausible are 1 to 350 cm, so a hop of three digits with one more is a reject.
      cells[column] = slip(cells[at('hop', 'left', 1)]);
      return column;
    });
    expect(suspects).toHaveLength(1);
    const [{ kind, suggestion }] = suspects;
    if (kind === 'implausible') expect(suggestion).toContain('Take it again');
    else expect(suggestion).toContain(how);
  });
});

describe('exchanged', () => {
  it('systolic and diastolic pressure of a row', async () => {
    const { suspects, checked } = await afterWriting('2026/intake.csv', (cells, at) => {
      const [systolic, diastolic] = [at('systolic'), at('diastolic')];
      cells[systolic] = '74';
      cells[diastolic] = '126';
      return systolic;
    });
    expect(words(suspects)).toEqual([
      'columns_swapped: Systolic pressure 74 mmHg and Diastolic pressure 126 mmHg fit once they are exchanged.',
    ]);
    expect(suspects[0].covers.map((at) => checked.readings.measureOf(at).name).sort()).toEqual([
      'diastolic',
      'systolic',
    ]);
  });

  it('a height under mass and a mass under height, which was rejected', async () => {
    let [height, mass] = ['', ''];
    const { suspects } = await afterWriting('2025/intake.csv', (cells, at) => {
      [height, mass] = [cells[at('height')], cells[at('mass')]];
      [cells[at('height')], cells[at('mass')]] = [mass, height];
      return at('height');
    });
    expect(words(suspects)).toEqual([
      `columns_swapped: Standing height ${Number(mass)} and Body mass ${Number(height)} kg of this row fit once they are exchanged.`,
    ]);
    expect(suspects[0]).toMatchObject({ at: -1, extent: 'reading' });
    expect(suspects[0].covers).toHaveLength(1);
  });

  it('two measures of a whole sheet', async () => {
    const made = college();
    const sheet = sheetOf(made, '2025/power.csv');
    for (const cells of sheet.rows) {
      for (const side of ['left', 'right']) {
        for (const trial of [1, 2]) {
          const [one, other] = [columnOf(sheet, 'flexion', side, trial), columnOf(sheet, 'extension', side, trial)];
          [cells[one], cells[other]] = [cells[other], cells[one]];
        }
      }
    }
    const checked = await check(made);
    const wide = checked.suspects.filter(({ kind, extent }) => kind === 'columns_swapped' && extent === 'sheet');
    expect(wide).toHaveLength(1);
    expect(wide[0].suggestion).toMatch(
      /^Knee flexion and Knee extension of the whole sheet fit once they are exchanged \(\d+ N and \d+ N in line \d+\)/,
    );
    expect(wide[0].covers).toHaveLength(sheet.rows.length * 8);
  });

  it('left and right of all that one tester read', async () => {
    const made = college();
    const sheet = sheetOf(made, '2026/hip.csv');
    for (const cells of sheet.rows) {
      if (cells[2] !== 'M. Orrin') continue;
      for (const [at, { test, side, trial }] of sheet.columns.entries()) {
        if (side !== 'left') continue;
        const right = columnOf(sheet, test!, 'right', trial);
        [cells[at], cells[right]] = [cells[right], cells[at]];
      }
    }
    const checked = await check(made);
    const turned = checked.suspects.filter(({ kind, extent }) => kind === 'sides_swapped' && extent === 'sheet');
    expect(turned.length).toBeGreaterThanOrEqual(3);
    for (const { at, suggestion, covers } of turned) {
      expect(checked.readings.files.get(checked.readings.file[at])).toBe('sheets/2026/hip.csv');
      expect(suggestion).toContain('in the readings of M. Orrin fit the other days of');
      const testers = new Set(covers.map((row) => checked.readings.testers.get(checked.readings.tester[row])));
      expect([...testers]).toEqual(['M. Orrin']);
    }
  });
});

describe('patterns', () => {
  it('the right side copied from the left in both attempts', async () => {
    const { suspects } = await afterWriting('2025/power.csv', (cells, at) => {
      for (const trial of [1, 2]) cells[at('extension', 'right', trial)] = cells[at('extension', 'left', trial)];
      return at('extension', 'right', 2);
    });
    expect(suspects.map(({ kind }) => kind)).toEqual(['sides_identical']);
    expect(suspects[0].suggestion).toMatch(
      /^Left and right are the same in all 2 attempts, which chance makes about one in \d+/,
    );
    expect(suspects[0].covers).toHaveLength(4);
  });

  it('one of three attempts far from the others', async () => {
    const { suspects } = await afterWriting('2025/landing.csv', (cells, at) => {
      const column = at('hop', 'right', 3);
      cells[at('hop', 'right', 1)] = '160';
      cells[at('hop', 'right', 2)] = '162';
      cells[column] = '227';
      return column;
    });
    expect(words(suspects)).toEqual([
      'trial_apart: This attempt lies far from the others of its side and day, which agree. Look at the paper, or take it again.',
    ]);
    expect(suspects[0].low).toBeLessThan(161);
    expect(suspects[0].high).toBeGreaterThan(161);
    expect(suspects[0].high).toBeLessThan(227);
  });

  it('a row under the id of the next athlete, and the same row twice', async () => {
    const made = college();
    const sheet = sheetOf(made, '2026/intake.csv');
    const row = rowOfMany(made, sheet);
    const [first, next] = [sheet.rows[row], sheet.rows[row + 1]];
    sheet.rows[row + 1] = [next[0], ...first.slice(1)];
    sheet.rows.push([...sheet.rows[0]]);
    const checked = await check(made);
    const copied = listed(checked, sheet, row + 1, columnOf(sheet, 'height'));
    expect(words(copied)).toEqual([
      `repeated_row: The 9 numbers of this row are also those of ${first[0]} (sheets/2026/intake.csv:${row + 2}). One of the two has probably not been tested: go back to the paper.`,
    ]);
    const twice = listed(checked, sheet, sheet.rows.length - 1, columnOf(sheet, 'height'));
    expect(words(twice)).toEqual(['repeated_row: The 9 readings of this row stand there twice, and count once.']);
  });

  it('a sheet handed in twice is one line', async () => {
    const made = college();
    const sheet = sheetOf(made, '2026/landing.csv');
    made.sheets.push({ ...sheet, file: 'sheets/2026/landing (1).csv' });
    const checked = await check(made);
    const repeated = checked.suspects.filter(({ kind }) => kind === 'repeated_row');
    expect(repeated.map(({ extent, suggestion }) => [extent, suggestion])).toEqual([
      [
        'sheet',
        `${sheet.rows.length} rows of this sheet also stand in sheets/2026/landing.csv, and count once: take one of the two out.`,
      ],
    ]);
  });

  it('cells pulled down, and a column sorted without its ids', async () => {
    const made = college();
    const hip = sheetOf(made, '2024/hip.csv');
    const pulled = columnOf(hip, 'abduction', 'left', 1);
    for (let row = 20; row < 27; row++) hip.rows[row][pulled] = '244';
    const stepped = columnOf(hip, 'internal', 'right');
    for (let row = 40; row < 47; row++) hip.rows[row][stepped] = String(row - 8);
    const power = sheetOf(made, '2025/power.csv');
    const sorted = columnOf(power, 'extension', 'left', 1);
    const values = power.rows.slice(10, 40).map((cells) => cells[sorted]);
    values.sort((a, b) => Number(a) - Number(b));
    for (const [at, value] of values.entries()) power.rows[10 + at][sorted] = value;
    const checked = await check(made);
    const runs = checked.suspects.filter(({ kind }) => kind === 'run_of_fill');
    const id = (sheet: MadeSheet, row: number): string => sheet.rows[row][0];
    const back = 'Go back to the paper: each reading may belong to another athlete.';
    const told = runs.map(({ extent, suggestion }) => `${extent}: ${suggestion}`);
    expect(told).toContain(
      `run: 7 athletes one after the other, ${id(hip, 20)} to ${id(hip, 26)} (line 22 to 28), have the same 244 N: the cell was probably pulled down. ${back}`,
    );
    expect(told).toContain(
      `run: 7 athletes one after the other, ${id(hip, 40)} to ${id(hip, 46)} (line 42 to 48), rise by 1° each: the cells were probably pulled down. ${back}`,
    );
    expect(told.some((text) => text.includes('stand in order of size: the column may have been sorted'))).toBe(true);
    expect(listed(checked, power, 20, sorted).map(({ kind }) => kind)).toContain('run_of_fill');
  });

  it('a sheet that was sorted whole by one of its columns is none', async () => {
    const made = college();
    const power = sheetOf(made, '2025/power.csv');
    const column = columnOf(power, 'extension', 'left', 1);
    power.rows.sort((a, b) => Number(a[column]) - Number(b[column]));
    const checked = await check(made);
    expect(words(checked.suspects.filter(({ kind }) => kind === 'run_of_fill'))).toEqual([]);
  });
});

describe('what is left alone', () => {
  let clean: Checked;
  beforeAll(async () => {
    clean = await check(college());
  });

  it('cells that corrections.csv confirms, though they go on speaking for the others', async () => {
    const made = college();
    const sheet = sheetOf(made, '2025/intake.csv');
    const row = rowOfMany(made, sheet);
    const column = columnOf(sheet, 'mass');
    sheet.rows[row][column] = times(sheet.rows[row][column], 2.2046226, 1);
    const height = columnOf(sheet, 'height');
    sheet.rows[row][height] = '250.5';
    const confirmed = new Set([column, height].map((at) => `${sheet.file}\n${row + 2}\n${at + 1}`));
    const checked = await check(made, confirmed);
    expect(listed(checked, sheet, row, column)).toEqual([]);
    expect(listed(checked, sheet, row, height)).toEqual([]);
    const open = await check(made);
    expect(listed(open, sheet, row, column)).toHaveLength(1);
    expect(listed(open, sheet, row, height)).toHaveLength(1);
  });

  it('a weak side in all seasons, and one that stays weak after an injury', async () => {
    const { suspects } = await afterWriting('2026/hip.csv', (cells, at) => {
      for (const trial of [1, 2])
        cells[at('adduction', 'left', trial)] = times(cells[at('adduction', 'left', trial)], 0.7, 0);
      return at('adduction', 'left', 1);
    });
    expect(words(suspects)).toEqual([]);
  });

  it('nearly all of clean sheets, and no reading has two lines', () => {
    const lines = new Map<number, number>();
    for (const { covers } of clean.suspects) for (const at of covers) lines.set(at, (lines.get(at) ?? 0) + 1);
    expect([...lines.values()].filter((count) => count > 1)).toEqual([]);
    expect(lines.size / clean.readings.length).toBeLessThan(0.003);
  });

  it('is the same whatever order the sheets come in', async () => {
    const made = college();
    const turned = await check({ ...made, sheets: [...made.sheets].reverse() });
    const told = (checked: Checked): string[] =>
      checked.suspects.map((suspect) => `${cellsOf(checked, suspect).sort().join(' ')} ${suspect.kind}`).sort();
    expect(told(turned)).toEqual(told(clean));
  });
});
