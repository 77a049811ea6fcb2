// What was typed wrongly, not at all or twice, what hurt, and what was put right afterwards.
import { placeOf } from './files.mjs';
import { BLANK_LINE } from './layouts.mjs';
import { HALF_AT_HIP_STATION } from './sheets.mjs';

/** @returns rows of corrections.csv */
export function makeSlips(sheets) {
  /** The first row of an athlete on a sheet whose cells read as told. */
  function rowOf(file, who, cells = {}) {
    const wanted = Object.entries(cells);
    const fits = (row) => row.who === who && wanted.every(([heading, text]) => row.cells[heading] === text);
    const row = sheets.get(file).rows.find(fits);
    if (row === undefined) throw new Error(`${file} has no row of ${who} with ${JSON.stringify(cells)}.`);
    return row;
  }

  /** Writes over cells of one row, as a hand or a spreadsheet did. */
  function slip(file, who, cells, where) {
    const row = rowOf(file, who, where);
    for (const [heading, text] of Object.entries(cells)) {
      if (!(heading in row.cells)) throw new Error(`${file} has no column ${heading}.`);
      row.cells[heading] = text;
    }
    return row;
  }

  function insertAfter(file, row, added) {
    const { rows } = sheets.get(file);
    rows.splice(rows.indexOf(row) + 1, 0, added);
  }

  /** Cells of one side, or of all, of a row. */
  const fill = (file, who, pattern, text) => {
    const { cells } = rowOf(file, who);
    const found = Object.keys(cells).filter((heading) => pattern.test(heading));
    slip(file, who, Object.fromEntries(found.map((heading) => [heading, text])));
  };

  function correction(file, row, heading, action, value, by, date) {
    const place = placeOf(sheets.get(file), row, heading);
    return { file, ...place, raw: row.cells[heading], action, value, by, date };
  }

  /** Two digits of one reading change places. */
  function swapDigits(file, who, heading) {
    const { cells } = rowOf(file, who);
    const meant = cells[heading];
    const typed = meant[1] + meant[0] + meant.slice(2);
    if (typed === meant) throw new Error(`${file} reads ${meant} at ${heading}: swapping its digits changes nothing.`);
    return { row: slip(file, who, { [heading]: typed }), meant };
  }

  function in2024() {
    const intake = 'sheets/2024/intake.csv';
    const { Height } = rowOf(intake, 'K010').cells;
    slip(intake, 'K010', { Height: Height.replace("'", '’').replace('"', '”') });
    slip(intake, 'K008', { BP: '148/92 → 132/84' });
    slip(intake, 'K042', { BP: 'NT' });
    slip(intake, 'K060', { BP: '' });
    insertAfter(intake, rowOf(intake, 'K028'), BLANK_LINE);

    const hip = 'sheets/2024/hip.csv';
    slip(hip, 'K037', { 'Hip IR (°)|L': '#DIV/0!' });
    slip(hip, 'K013', { 'Hip Abd (kg)|L 2': 'pain' });

    const landing = 'sheets/2024/landing.csv';
    slip(landing, 'K056', { 'Hop 2 (cm)': '-99' }, { Side: 'Left' });
    slip(landing, 'K074', { ID: 'k074' }, { Side: 'Right' });
  }

  function in2025() {
    const intake = 'sheets/2025/intake.csv';
    // A spreadsheet made a date of 5-11.
    slip(intake, 'K130', { Ht: '11-May' });
    slip(intake, 'K144', { 'Blood pressure': '142/88 → 136/82' });
    // Known by another name, which screening.yaml settles; and one whom nobody knows.
    slip(intake, 'K074', { Name: 'Tib Marrowcote' });
    slip(intake, 'K153', { 'Grip L2 (kg)': 'refused' });
    const { cells } = rowOf(intake, 'K116');
    insertAfter(intake, rowOf(intake, 'K116'), { who: '', cells: { ...cells, Name: 'Quillmott, Odo' } });

    const hip = 'sheets/2025/hip.csv';
    slip(hip, 'K090', { 'Add R 1 (N)': 'NT', 'Add R 2 (N)': 'NT', 'Add R best (N)': '' });

    const landing = 'sheets/2025/landing.csv';
    slip(landing, 'K080', { 'PL reach L1 (cm)': '>110' }, { 'Athlete id': 'K080' });

    const shoulder = 'sheets/2025/shoulder.csv';
    slip(shoulder, 'K136', { 'IR strength R 2 (N)': 'pain' });
    slip(shoulder, 'K157', { 'ER strength L 1 (N)': '~85' });
  }

  function intake2026() {
    const file = 'sheets/2026/intake.csv';
    slip(file, 'K034', {
      ...{ 'SBP 1': '164', 'DBP 1': '98', 'SBP 2': '158', 'DBP 2': '96' },
      Notes: 'wide cuff; feels well',
    });
    slip(file, 'K100', { 'SBP 1': '146', 'DBP 1': '92', 'SBP 2': '144', 'DBP 2': '90' });
    slip(file, 'K047', { 'SBP 1': '12', 'DBP 1': '80', 'SBP 2': '', 'DBP 2': '' });
    // 89.0 without its point.
    slip(file, 'K033', { 'Wt (kg)': '890' });
    slip(file, 'K020', { Pulse: 'NT', Notes: 'came straight from a run' });
    slip(file, 'K172', { Pulse: '38' });
    slip(file, 'K071', { Notes: 'grip with taped thumb' });
    insertAfter(file, rowOf(file, 'K028'), BLANK_LINE);
    const { cells } = rowOf(file, 'K146');
    insertAfter(file, rowOf(file, 'K146'), { who: 'K271', cells: { ...cells, ID: 'K271' } });
  }

  function hip2026() {
    const file = 'sheets/2026/hip.csv';
    slip(file, 'K012', { 'Hip IR R (deg)': '32 P', Remarks: 'pinch at the end of the range' });
    slip(file, 'K040', { 'Hip Add L 2': 'pain', Remarks: 'stopped after the first' });
    slip(file, 'K023', { 'Hip Abd R 2': 'unable' });
    // The right side waits for the make-up day.
    fill(file, HALF_AT_HIP_STATION, / R( \d)?( \(.*)?$/, 'NT');
    slip(file, HALF_AT_HIP_STATION, { Remarks: 'fire drill' });
    fill(file, 'K120', /^(Hip|BKFO) /, 'hold');
    slip(file, 'K120', { Remarks: 'knee, see medical staff' });
  }

  function landing2026() {
    const file = 'sheets/2026/landing.csv';
    const hop = (side, trial) => ({ test: 'Single hop', side, trial });
    slip(file, 'K056', { status: 'pain' }, hop('R', '1'));
    slip(file, 'K056', { value: '', status: 'pain' }, hop('R', '2'));
    for (const trial of ['1', '2']) slip(file, 'K025', { value: '', unit: '', status: 'unable' }, hop('L', trial));
    slip(file, 'K084', { value: '', status: 'NT' }, hop('L', '2'));
    const lunge = sheets.get(file).rows.find(({ cells }) => cells.test === 'Knee to wall' && cells.value === '10.0');
    lunge.cells.value = '1O';
    insertAfter(file, rowOf(file, 'K059', hop('L', '2')), {
      who: 'K059',
      cells: { ...rowOf(file, 'K059', hop('L', '2')).cells },
    });
  }

  function shoulder2026() {
    const file = 'sheets/2026/shoulder.csv';
    const { cells } = rowOf(file, 'K136');
    // The right shoulder is held back.
    const left = Object.entries(cells).filter(([heading]) => heading.includes('L/R'));
    slip(file, 'K136', Object.fromEntries(left.map(([heading, text]) => [heading, `${text.split('/')[0]}/hold`])));
  }

  in2024();
  in2025();
  intake2026();
  hip2026();
  landing2026();
  shoulder2026();

  const hip = swapDigits('sheets/2026/hip.csv', 'K016', 'Hip Add R 1');
  const hops = swapDigits('sheets/2025/landing.csv', 'K098', 'Hop R1 (cm)');
  const wrongRow = slip('sheets/2025/shoulder.csv', 'K149', { 'ER strength R 1 (N)': '212' });
  return [
    correction(
      'sheets/2025/landing.csv',
      hops.row,
      'Hop R1 (cm)',
      'value',
      hops.meant,
      'landing station',
      '2025-08-21',
    ),
    correction(
      'sheets/2025/shoulder.csv',
      wrongRow,
      'ER strength R 1 (N)',
      'void',
      '',
      'shoulder station',
      '2025-08-22',
    ),
    correction('sheets/2026/hip.csv', hip.row, 'Hip Add R 1', 'value', hip.meant, 'hip station', '2026-08-19'),
  ];
}
