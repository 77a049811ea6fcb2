// Writes the invented college beside this file: roster, station sheets and corrections.
//
//   node examples/make-college.mjs
//
// Everybody and every number in it is made up. The same seed gives the same bytes on every machine: no clock, no locale,
// and only sums and products, since powers and logarithms may differ in the last digit. protocol.yaml and screening.yaml are kept by hand.
import { mkdirSync, writeFileSync } from 'node:fs';
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

const SEED = 20260817;
const COLLEGE = new URL('college/', import.meta.url);
const SEASONS = [2025, 2026];
const SIDES = ['L', 'R'];
const TRIALS = [1, 2];

// ---------------------------------------------------------------------------------------------- who they are

const TEAMS = { Rowing: 15, Fencing: 14, 'Water polo': 16, Handball: 15 };
const IN_TWO_TEAMS = { K022: 'Fencing;Handball' };

const GIVEN = {
  F: ['Anwe', 'Brisa', 'Corrin', 'Delphi', 'Esmay', 'Fenna', 'Gwilla', 'Hespa', 'Ilka', 'Jorun', 'Kezzy', 'Lunet'],
  M: ['Aldo', 'Bram', 'Corvin', 'Dorrick', 'Evander', 'Falk', 'Gorran', 'Hale', 'Idris', 'Joss', 'Kell', 'Lorcan'],
};
const FAMILY_STARTS = ['Thistle', 'Ember', 'Marrow', 'Quarrel', 'Sorrel', 'Tallow', 'Wicker', 'Yarrow'];
const FAMILY_ENDS = ['bent', 'cote', 'dray', 'fettle', 'gast', 'holm', 'mott', 'wick'];

/** Years of entry, over and over. Who entered in 2022 has left before the second season, who enters in 2026 is new. */
const ENTRY_YEARS = [2023, 2024, 2026, 2025, 2024, 2022, 2025, 2023, 2026, 2025, 2024, 2023, 2022, 2026, 2025];

/** Mean and SD of each sex; strength in kilogram-force. */
const BUILD = {
  F: {
    height: [170, 6],
    massIndex: [22.4, 1.6],
    abduction: [17.5, 2.2],
    grip: [33, 4],
    hop: [78, 8],
    systolic: [113, 7],
  },
  M: { height: [184, 6], massIndex: [24, 1.6], abduction: [24.5, 3], grip: [50, 6], hop: [89, 9], systolic: [119, 7] },
};

// ---------------------------------------------------------------------------------------------- drawing numbers

const generator = xoroshiro128plus(SEED);
const uniform = () => uniformFloat64(generator);

/** Nearly normal: twelve uniform draws have a variance of exactly 1. */
function normal(mean, sd) {
  let sum = -6;
  for (let draw = 0; draw < 12; draw++) sum += uniform();
  return mean + sd * sum;
}

const between = (low, high, value) => Math.min(high, Math.max(low, value));
const whole = (value) => String(Math.round(value));
const tenths = (value) => (Math.round(value * 10) / 10).toFixed(1);
const halves = (value) => (Math.round(value * 2) / 2).toFixed(1);
const even = (value) => String(2 * Math.round(value / 2));
const pad = (number, digits) => String(number).padStart(digits, '0');
const bySide = (make) => ({ L: make('L'), R: make('R') });

/** What an athlete is like, before any test error. Every draw is made for everybody, so that one change moves no other. */
function drawAthlete(number, team) {
  const id = `K${pad(number, 3)}`;
  const sex = uniform() < 0.5 ? 'F' : 'M';
  const build = BUILD[sex];
  const entryYear = ENTRY_YEARS[(number - 1) % ENTRY_YEARS.length];
  const height = normal(...build.height);
  const mass = (normal(...build.massIndex) * height * height) / 10_000;
  const kicks = uniform();
  const throws = uniform();
  return {
    id,
    team: IN_TWO_TEAMS[id] ?? team,
    firstName: GIVEN[sex][(number * 5) % GIVEN[sex].length],
    lastName: FAMILY_STARTS[number % 8] + FAMILY_ENDS[Math.floor(number / 8)],
    sex,
    birthDate: `${entryYear - 19}-${pad(1 + Math.floor(uniform() * 12), 2)}-${pad(1 + Math.floor(uniform() * 28), 2)}`,
    entryYear,
    leftOn: entryYear === 2022 ? '2026-05-31' : '',
    kickingFoot: kicks < 0.08 ? '' : kicks < 0.2 ? 'left' : kicks < 0.96 ? 'right' : 'both',
    throwingHand: throws < 0.05 ? '' : throws < 0.16 ? 'left' : 'right',
    height,
    mass,
    systolic: normal(...build.systolic),
    diastolic: normal(71, 4),
    pulse: normal(60, 7),
    abduction: normal(...build.abduction),
    abductionBySide: bySide(() => normal(1, 0.035)),
    ratio: normal(0.97, 0.05),
    ratioBySide: bySide(() => normal(1, 0.04)),
    internal: normal(41, 5),
    external: normal(52, 5),
    rotationBySide: bySide(() => normal(0, 2.5)),
    grip: normal(...build.grip),
    hop: (height * normal(...build.hop)) / 100,
    hopBySide: bySide(() => normal(1, 0.02)),
    lunge: normal(11, 2.6),
    lungeBySide: bySide(() => normal(0, 0.7)),
    faults: 3.4 * uniform() * uniform(),
  };
}

/** The readings of one athlete in one season: height and mass as numbers in cm and kg, the rest as text in the usual units. */
function drawReadings(athlete, season) {
  // In the second season water polo comes back from a summer without adductor work.
  const teamRatio = season === 2026 && athlete.team === 'Water polo' ? 0.845 : 1;
  const growth = season === 2026 ? normal(1.02, 0.02) : 1;
  const stronger = athlete.throwingHand === 'left' ? 'L' : 'R';
  const abduction = bySide((side) => athlete.abduction * athlete.abductionBySide[side] * growth);
  const trials = (value, errorPct, format) => TRIALS.map(() => format(value * normal(1, errorPct / 100)));
  const pressure = (value, low, high) =>
    TRIALS.map((trial) => even(between(low, high, value + normal(2 - 2 * trial, 5))));
  return {
    height: athlete.height + normal(0, 0.4),
    mass: athlete.mass * normal(1.005, 0.015),
    systolic: pressure(athlete.systolic, 96, 136),
    diastolic: pressure(athlete.diastolic, 54, 86),
    pulse: whole(between(44, 92, athlete.pulse + normal(0, 4))),
    adduction: bySide((side) => {
      const ratio = athlete.ratio * athlete.ratioBySide[side] * teamRatio;
      return trials(abduction[side] * ratio, 2.5, tenths);
    }),
    abduction: bySide((side) => trials(abduction[side], 2.5, tenths)),
    internal: bySide((side) => whole(athlete.internal + athlete.rotationBySide[side] + normal(0, 2))),
    external: bySide((side) => whole(athlete.external - athlete.rotationBySide[side] + normal(0, 2))),
    grip: bySide((side) => trials(athlete.grip * (side === stronger ? 1.03 : 0.97) * growth, 2, tenths)),
    hop: bySide((side) => trials(athlete.hop * athlete.hopBySide[side] * growth, 2.5, whole)),
    lunge: bySide((side) => halves(between(2, 20, athlete.lunge + athlete.lungeBySide[side] + normal(0, 0.4)))),
    faults: bySide(() => whole(between(0, 5, athlete.faults + normal(0, 0.5)))),
  };
}

function drawCollege() {
  const athletes = [];
  for (const [team, size] of Object.entries(TEAMS)) {
    for (let count = 0; count < size; count++) athletes.push(drawAthlete(athletes.length + 1, team));
  }
  for (const athlete of athletes) {
    athlete.seasons = new Map(SEASONS.map((season) => [season, drawReadings(athlete, season)]));
  }
  return athletes;
}

const athletes = drawCollege();

const isIn = (athlete, teams) => teams.some((team) => athlete.team.split(';').includes(team));
const isThere = (athlete, season) => athlete.entryYear <= season && !(season === 2026 && athlete.leftOn !== '');

/** Athletes of a season in these teams with their readings, by id. */
function tested(season, teams) {
  return athletes
    .filter((athlete) => isThere(athlete, season) && isIn(athlete, teams))
    .map((athlete) => ({ ...athlete, ...athlete.seasons.get(season) }));
}

/** The order in which people happen to queue. */
function shuffled(list) {
  const queue = [...list];
  for (let last = queue.length - 1; last > 0; last--) {
    const other = Math.floor(uniform() * (last + 1));
    [queue[last], queue[other]] = [queue[other], queue[last]];
  }
  return queue;
}

// ---------------------------------------------------------------------------------------------- sheets

const HIP_TEAMS = ['Rowing', 'Fencing', 'Water polo'];
const ON_FIRST_DAY = ['Rowing', 'Water polo'];
const SHORT_TEAM = { 'Water polo': 'WP' };
const MISSED_HIP_STATION = ['K002', 'K026', 'K031', 'K041', 'K045'];
const CAME_FOR_MAKEUP = ['K002', 'K026', 'K031', 'K041'];

const dayOf2026 = (athlete) => (isIn(athlete, ON_FIRST_DAY) ? '17' : '18');
const comma = (text) => text.replace('.', ',');
const pounds = (kilograms) => tenths(Number(kilograms) / 0.45359237);

function feetAndInches(centimetres) {
  const inches = Math.round(centimetres / 2.54);
  return `${Math.floor(inches / 12)}'${inches % 12}"`;
}

/** Cells of a test with two sides and two trials, in the order in which sheets of this college have them. */
function trialCells(name, readings, unit) {
  const cells = {};
  for (const trial of TRIALS) for (const side of SIDES) cells[name(side, trial, unit)] = readings[side][trial - 1];
  return cells;
}
const sideFirst = (test) => (side, trial) => `${test} ${side} ${trial} (kg)`;

function intake2025() {
  const rows = tested(2025, Object.keys(TEAMS)).map((athlete) => ({
    'Athlete no': athlete.id,
    Team: athlete.team.split(';')[0],
    Height: feetAndInches(athlete.height),
    'Weight (lb)': whole(athlete.mass / 0.45359237),
    'BP sys': athlete.systolic[0],
    'BP dia': athlete.diastolic[0],
    Pusle: athlete.pulse,
    ...trialCells(sideFirst('Grip'), athlete.grip),
  }));
  return { file: 'sheets/2025/intake.csv', above: ['Preseason intake - Monday 18 August 2025', ''], rows };
}

function hip2025() {
  const rows = tested(2025, HIP_TEAMS).map((athlete) => {
    const cells = { 'Athlete no': athlete.id, Date: '18.08.2025' };
    for (const [test, readings] of [
      ['Hip Add (kg)', athlete.adduction],
      ['Hip Abd (kg)', athlete.abduction],
    ]) {
      for (const trial of TRIALS) {
        for (const side of SIDES) cells[`${test}|${side} ${trial}`] = comma(readings[side][trial - 1]);
      }
    }
    for (const side of SIDES) cells[`Hip IR (deg)|${side}`] = athlete.internal[side];
    for (const side of SIDES) cells[`Hip ER (deg)|${side}`] = athlete.external[side];
    return cells;
  });
  return { file: 'sheets/2025/hip.csv', delimiter: ';', rows };
}

function landing2025() {
  const rows = tested(2025, ['Handball']).flatMap((athlete) =>
    SIDES.map((side) => ({
      ID: athlete.id,
      Side: side === 'L' ? 'Left' : 'Right',
      'Hop 1 (cm)': athlete.hop[side][0],
      'Hop 2 (cm)': athlete.hop[side][1],
      'Lunge (cm)': athlete.lunge[side],
      'Squat faults': athlete.faults[side],
    })),
  );
  return { file: 'sheets/2025/landing.csv', delimiter: '\t', bom: true, rows };
}

function intake2026() {
  const rows = tested(2026, Object.keys(TEAMS)).map((athlete) => {
    const again = Number(athlete.systolic[0]) >= 130 || Number(athlete.diastolic[0]) >= 80;
    return {
      ID: athlete.id,
      Team: SHORT_TEAM[athlete.team] ?? athlete.team.split(';')[0],
      Date: `2026-08-${dayOf2026(athlete)}`,
      'Ht (cm)': tenths(athlete.height),
      'Wt (kg)': tenths(athlete.mass),
      'SBP 1': athlete.systolic[0],
      'DBP 1': athlete.diastolic[0],
      'SBP 2': again ? athlete.systolic[1] : '',
      'DBP 2': again ? athlete.diastolic[1] : '',
      Pulse: athlete.pulse,
      ...trialCells(sideFirst('Grip'), athlete.grip),
      Notes: '',
    };
  });
  // Half of the file went through another program, which wrote other line ends.
  return { file: 'sheets/2026/intake.csv', lineEnd: (line) => (line % 9 === 0 ? '\n' : '\r\n'), rows };
}

function hip2026() {
  const rows = tested(2026, HIP_TEAMS)
    .filter((athlete) => !MISSED_HIP_STATION.includes(athlete.id))
    .map((athlete) => ({
      'Athlete no': athlete.id,
      Date: `${dayOf2026(athlete)}/08/2026`,
      ...trialCells(sideFirst('Hip Add'), athlete.adduction),
      ...trialCells(sideFirst('Hip Abd'), athlete.abduction),
      'Hip IR L (deg)': athlete.internal.L,
      'Hip IR R (deg)': athlete.internal.R,
      'Hip ER L (deg)': athlete.external.L,
      'Hip ER R (deg)': athlete.external.R,
      Remarks: '',
    }));
  return { file: 'sheets/2026/hip.csv', rows };
}

function landing2026() {
  const rows = shuffled(tested(2026, ['Fencing', 'Handball'])).flatMap((athlete) => {
    const row = (test, side, trial, value, unit) => ({
      athlete_id: athlete.id,
      date: '2026-08-18',
      test,
      side,
      trial: String(trial),
      value,
      unit,
      status: 'ok',
    });
    return [
      ...SIDES.flatMap((side) =>
        TRIALS.map((trial) => row('Single hop', side, trial, athlete.hop[side][trial - 1], 'cm')),
      ),
      ...SIDES.map((side) => row('Ankle lunge', side, 1, athlete.lunge[side], 'cm')),
      ...SIDES.map((side) => row('Squat faults', side, 1, athlete.faults[side], 'count')),
    ];
  });
  return { file: 'sheets/2026/landing.csv', rows };
}

function hipMakeup2026() {
  const rows = tested(2026, HIP_TEAMS)
    .filter((athlete) => CAME_FOR_MAKEUP.includes(athlete.id) || athlete.id === 'K017')
    .flatMap((athlete) =>
      // K017 lacks the right side only.
      (athlete.id === 'K017' ? ['R'] : SIDES).map((side) => ({
        ID: athlete.id,
        Side: side,
        'Hip Add 1 (lbs)': pounds(athlete.adduction[side][0]),
        'Hip Add 2 (lbs)': pounds(athlete.adduction[side][1]),
        'Hip Abd 1 (lbs)': pounds(athlete.abduction[side][0]),
        'Hip Abd 2 (lbs)': pounds(athlete.abduction[side][1]),
        'Hip IR (deg)': athlete.internal[side],
        'Hip ER (deg)': athlete.external[side],
      })),
    );
  return { file: 'sheets/2026/hip-makeup.csv', rows };
}

const sheets = new Map(
  [intake2025(), hip2025(), landing2025(), intake2026(), hip2026(), landing2026(), hipMakeup2026()].map((sheet) => [
    sheet.file,
    sheet,
  ]),
);

// ---------------------------------------------------------------------------------------------- slips and stories

/** The first row of a sheet whose cells read as told. */
function rowOf(file, cells) {
  const wanted = Object.entries(cells);
  const row = sheets.get(file).rows.find((found) => wanted.every(([heading, text]) => found[heading] === text));
  if (row === undefined) throw new Error(`${file} has no row with ${JSON.stringify(cells)}.`);
  return row;
}

/** Writes over cells of one row, as a hand or a spreadsheet did. */
function slip(file, where, cells) {
  const row = rowOf(file, where);
  for (const [heading, text] of Object.entries(cells)) {
    if (!(heading in row)) throw new Error(`${file} has no column ${heading}.`);
    row[heading] = text;
  }
}

/** Puts rows after the first row that reads as told. */
function insertAfter(file, where, ...rows) {
  const list = sheets.get(file).rows;
  list.splice(list.indexOf(rowOf(file, where)) + 1, 0, ...rows);
}

const BLANK_LINE = {};

function slipsOf2025() {
  const intake = 'sheets/2025/intake.csv';
  slip(
    intake,
    { 'Athlete no': 'K010' },
    { Height: rowOf(intake, { 'Athlete no': 'K010' }).Height.replace("'", '’').replace('"', '”') },
  );
  slip(intake, { 'Athlete no': 'K027' }, { 'BP sys': 'NT', 'BP dia': 'NT' });
  insertAfter(intake, { 'Athlete no': 'K030' }, BLANK_LINE);

  const hip = 'sheets/2025/hip.csv';
  slip(hip, { 'Athlete no': 'K037' }, { 'Hip IR (deg)|L': '#DIV/0!' });
  slip(hip, { 'Athlete no': 'K015' }, { 'Hip Abd (kg)|L 2': 'pain' });

  const landing = 'sheets/2025/landing.csv';
  slip(landing, { ID: 'K056', Side: 'Left' }, { 'Hop 2 (cm)': '-99' });
  slip(landing, { ID: 'K049', Side: 'Right' }, { ID: 'k049' });
}

function slipsOfIntake2026() {
  const file = 'sheets/2026/intake.csv';
  slip(
    file,
    { ID: 'K034' },
    { 'SBP 1': '164', 'DBP 1': '98', 'SBP 2': '158', 'DBP 2': '96', Notes: 'wide cuff; feels well' },
  );
  slip(file, { ID: 'K047' }, { 'SBP 1': '12', 'DBP 1': '80', 'SBP 2': '', 'DBP 2': '' });
  // 89.0 without its point.
  slip(file, { ID: 'K033' }, { 'Wt (kg)': '890' });
  slip(file, { ID: 'K024' }, { Pulse: 'NT', Notes: 'came straight from a run' });
  slip(file, { ID: 'K060' }, { Notes: 'grip with taped thumb' });
  insertAfter(file, { ID: 'K029' }, BLANK_LINE);
  insertAfter(file, { ID: 'K046' }, { ...rowOf(file, { ID: 'K046' }), ID: 'K071' });
}

function slipsOfHip2026() {
  const file = 'sheets/2026/hip.csv';
  slip(file, { 'Athlete no': 'K011' }, { 'Hip IR R (deg)': '32 P', Remarks: 'pinch at the end of the range' });
  slip(file, { 'Athlete no': 'K040' }, { 'Hip Add L 2 (kg)': 'pain', Remarks: 'stopped after the first' });
  slip(file, { 'Athlete no': 'K023' }, { 'Hip Abd R 2 (kg)': 'unable' });
  // The left adductor that nobody should overlook: 62 % of the abductor of the same side.
  const weak = rowOf(file, { 'Athlete no': 'K019' });
  const abduction = Math.max(Number(weak['Hip Abd L 1 (kg)']), Number(weak['Hip Abd L 2 (kg)']));
  weak['Hip Add L 1 (kg)'] = tenths(abduction * 0.6);
  weak['Hip Add L 2 (kg)'] = tenths(abduction * 0.62);
  // The right side waits for the make-up day.
  const right = Object.keys(weak).filter((heading) => / R( \d)? \(/.test(heading));
  slip(file, { 'Athlete no': 'K017' }, Object.fromEntries(right.map((heading) => [heading, 'NT'])));
  slip(file, { 'Athlete no': 'K017' }, { Remarks: 'fire drill' });
}

function slipsOfLanding2026() {
  const file = 'sheets/2026/landing.csv';
  const hop = (athlete, side, trial) => ({ athlete_id: athlete, test: 'Single hop', side, trial });
  slip(file, hop('K052', 'R', '1'), { status: 'pain' });
  slip(file, hop('K052', 'R', '2'), { value: '', status: 'pain' });
  slip(file, hop('K025', 'L', '1'), { value: '', unit: '', status: 'unable' });
  slip(file, hop('K025', 'L', '2'), { value: '', unit: '', status: 'unable' });
  slip(file, hop('K056', 'L', '2'), { value: '', status: 'NT' });
  slip(file, { athlete_id: 'K017', test: 'Ankle lunge', side: 'L', value: '10.0' }, { value: '1O' });
  insertAfter(file, hop('K049', 'L', '2'), { ...rowOf(file, hop('K049', 'L', '2')) });
}

/** Two digits of one reading change places, which the station notices next day. */
function swapDigits(file, where, heading) {
  const row = rowOf(file, where);
  const meant = row[heading];
  const typed = meant[1] + meant[0] + meant.slice(2);
  if (typed === meant) throw new Error(`${file} reads ${meant} at ${heading}: swapping its digits changes nothing.`);
  row[heading] = typed;
  return {
    file,
    line: String(lineOf(file, row)),
    column: String(Object.keys(row).indexOf(heading) + 1),
    raw: typed,
    action: 'value',
    value: meant,
    by: 'hip station',
    date: '2026-08-19',
  };
}

// ---------------------------------------------------------------------------------------------- files

function cellText(text, delimiter) {
  return text.includes(delimiter) || text.includes('"') || text.includes('\n')
    ? `"${text.replaceAll('"', '""')}"`
    : text;
}

/** Heading lines of a sheet. A key such as `Hip Add (kg)|L 1` takes two lines, and the upper is written over its first column only. */
function headingLines(keys) {
  const parts = keys.map((key) => key.split('|'));
  if (parts.every((part) => part.length === 1)) return [keys];
  const upper = parts.map(([test], at) => (test === parts[at - 1]?.[0] ? '' : test));
  return [upper, parts.map(([, qualifier]) => qualifier ?? '')];
}

const linesAbove = ({ above = [], rows }) => above.length + headingLines(Object.keys(rows[0])).length;

/** Physical line of a row, from 1. */
function lineOf(file, row) {
  const sheet = sheets.get(file);
  return linesAbove(sheet) + sheet.rows.indexOf(row) + 1;
}

function sheetText({ rows, above = [], delimiter = ',', lineEnd = () => '\n', bom = false }) {
  const keys = Object.keys(rows[0]);
  const table = [...headingLines(keys), ...rows.map((row) => (row === BLANK_LINE ? [] : keys.map((key) => row[key])))];
  const lines = [...above, ...table.map((cells) => cells.map((text) => cellText(text, delimiter)).join(delimiter))];
  return (bom ? '\uFEFF' : '') + lines.map((line, at) => line + lineEnd(at + 1)).join('');
}

function write(file, text) {
  const path = new URL(file, COLLEGE);
  mkdirSync(new URL('.', path), { recursive: true });
  writeFileSync(path, text);
}

const roster = athletes.map((athlete) => ({
  athlete_id: athlete.id,
  last_name: athlete.lastName,
  first_name: athlete.firstName,
  team: athlete.team,
  sex: athlete.sex,
  birth_date: athlete.birthDate,
  entry_year: String(athlete.entryYear),
  left_on: athlete.leftOn,
  kicking_foot: athlete.kickingFoot,
  throwing_hand: athlete.throwingHand,
}));

slipsOf2025();
slipsOfIntake2026();
slipsOfHip2026();
slipsOfLanding2026();
const corrections = [swapDigits('sheets/2026/hip.csv', { 'Athlete no': 'K014' }, 'Hip Add R 1 (kg)')];

for (const sheet of sheets.values()) write(sheet.file, sheetText(sheet));
write('roster.csv', sheetText({ rows: roster }));
write('corrections.csv', sheetText({ rows: corrections }));
