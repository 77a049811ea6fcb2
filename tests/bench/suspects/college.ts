// Invented sheets of an invented college, without a slip: every number is drawn.
import { type Draws, drawsOf } from './draws.ts';

/** How the readings of a test are drawn. Spreads of ratio tests are those of the logarithm. */
interface Test {
  readonly name: string;
  readonly label: string;
  readonly unit: string;
  readonly heading: string;
  readonly isRatio: boolean;
  readonly sides: boolean;
  readonly trials: number;
  readonly female: number;
  readonly male: number;
  /** between athletes, left against right, from season to season, from attempt to attempt */
  readonly spread: number;
  readonly asymmetry: number;
  readonly drift: number;
  readonly error: number;
  readonly step: number;
  readonly digits: number;
  readonly protocol: string;
}

const ratio = { isRatio: true, sides: true, trials: 2, spread: 0.16, asymmetry: 0.055, drift: 0.04, error: 0.05 };
const angle = { isRatio: false, sides: true, trials: 1, spread: 7, asymmetry: 3, drift: 2, error: 2.5, unit: 'deg' };
const STRENGTH = 'compare: percent, trials: {keep: best, expect: 2}, plausible: [10, 2000]';
const RANGE = 'compare: gap, trials: {keep: mean}, plausible: [-10, 120]';

export const TESTS = {
  height: {
    ...{ ...ratio, name: 'height', label: 'Standing height', unit: 'cm', heading: 'Height', sides: false, trials: 1 },
    ...{ female: 168, male: 181, spread: 0.04, asymmetry: 0, drift: 0.003, error: 0.003, step: 0.1, digits: 1 },
    protocol: 'better: between, plausible: [120, 240]',
  },
  mass: {
    ...{ ...ratio, name: 'body_mass', label: 'Body mass', unit: 'kg', heading: 'Weight', sides: false, trials: 1 },
    ...{ female: 64, male: 80, spread: 0.13, asymmetry: 0, drift: 0.03, error: 0.01, step: 0.1, digits: 1 },
    protocol: 'better: between, plausible: [30, 250]',
  },
  systolic: {
    ...{ ...angle, name: 'systolic', label: 'Systolic pressure', unit: 'mm[Hg]', heading: 'SBP', sides: false },
    ...{ female: 115, male: 121, spread: 8, asymmetry: 0, drift: 4, error: 5, step: 2, digits: 0 },
    protocol: 'better: lower, plausible: [60, 260]',
  },
  diastolic: {
    ...{ ...angle, name: 'diastolic', label: 'Diastolic pressure', unit: 'mm[Hg]', heading: 'DBP', sides: false },
    ...{ female: 72, male: 75, spread: 6, asymmetry: 0, drift: 3, error: 4, step: 2, digits: 0 },
    protocol: 'better: lower, plausible: [30, 160]',
  },
  pulse: {
    ...{ ...angle, name: 'pulse', label: 'Resting pulse', unit: '/min', heading: 'Pulse', sides: false },
    ...{ female: 66, male: 62, spread: 8, asymmetry: 0, drift: 4, error: 5, step: 1, digits: 0 },
    protocol: 'better: between, plausible: [25, 220]',
  },
  grip: {
    ...{ ...ratio, name: 'grip', label: 'Grip strength', unit: 'kgf', heading: 'Grip', female: 32, male: 48 },
    ...{ spread: 0.14, error: 0.045, step: 0.1, digits: 1 },
    protocol: 'compare: percent, trials: {keep: best, expect: 2}, plausible: [1, 150]',
  },
  adduction: {
    ...{ ...ratio, name: 'hip_adduction', label: 'Hip adduction', unit: 'N', heading: 'Hip add', female: 190 },
    ...{ male: 240, step: 1, digits: 0, protocol: STRENGTH },
  },
  abduction: {
    ...{ ...ratio, name: 'hip_abduction', label: 'Hip abduction', unit: 'N', heading: 'Hip abd', female: 200 },
    ...{ male: 250, step: 1, digits: 0, protocol: STRENGTH },
  },
  internal: {
    ...{ ...angle, name: 'hip_internal_rotation', label: 'Hip internal rotation', heading: 'Hip IR' },
    ...{ female: 44, male: 38, step: 1, digits: 0, protocol: RANGE },
  },
  external: {
    ...{ ...angle, name: 'hip_external_rotation', label: 'Hip external rotation', heading: 'Hip ER' },
    ...{ female: 52, male: 50, step: 1, digits: 0, protocol: RANGE },
  },
  flexion: {
    ...{ ...ratio, name: 'knee_flexion', label: 'Knee flexion', unit: 'N', heading: 'Hamstring', female: 210 },
    ...{ male: 270, step: 1, digits: 0, protocol: STRENGTH },
  },
  extension: {
    ...{ ...ratio, name: 'knee_extension', label: 'Knee extension', unit: 'N', heading: 'Quad', female: 370 },
    ...{ male: 480, step: 1, digits: 0, protocol: STRENGTH },
  },
  hop: {
    ...{ ...ratio, name: 'single_hop', label: 'Single-leg hop', unit: 'cm', heading: 'Hop', trials: 3, female: 140 },
    ...{ male: 175, spread: 0.11, asymmetry: 0.04, drift: 0.03, error: 0.04, step: 1, digits: 0 },
    protocol: 'compare: percent, trials: {keep: best, expect: 3}, plausible: [1, 350]',
  },
  lunge: {
    ...{ ...angle, name: 'ankle_lunge', label: 'Lunge', unit: 'cm', heading: 'Lunge', female: 11, male: 11.5 },
    ...{ spread: 2.6, asymmetry: 0.8, drift: 0.5, error: 0.5, step: 0.5, digits: 1 },
    protocol: 'compare: gap, trials: {keep: mean}, plausible: [0, 30]',
  },
  jump: {
    ...{ ...ratio, name: 'vertical_jump', label: 'Vertical jump', unit: 'cm', heading: 'Vertical jump', sides: false },
    ...{ trials: 3, female: 38, male: 52, spread: 0.13, asymmetry: 0, drift: 0.03, error: 0.04, step: 0.5, digits: 1 },
    protocol: 'trials: {keep: best, expect: 3}, plausible: [5, 130]',
  },
} satisfies Record<string, Test>;

export type TestKey = keyof typeof TESTS;

const STATIONS: readonly { readonly name: string; readonly tests: readonly TestKey[] }[] = [
  { name: 'intake', tests: ['height', 'mass', 'systolic', 'diastolic', 'pulse', 'grip'] },
  { name: 'hip', tests: ['adduction', 'abduction', 'internal', 'external'] },
  { name: 'landing', tests: ['hop', 'lunge'] },
  { name: 'power', tests: ['flexion', 'extension', 'jump'] },
];

export const SEASONS = [2024, 2025, 2026];
const TEAMS = 12;
const LEAVE = 0.22;
const ABSENT = 0.06;
const INJURED = 0.03;
const INJURED_TIMES = 0.7;
const UNUSUAL = 0.005;
const TESTERS = ['T. Vale', 'M. Orrin', 'B. Quill'];
const KILOGRAM_FORCE = 9.80665;

export interface Column {
  readonly heading: string;
  readonly test?: TestKey;
  readonly side?: 'left' | 'right';
  readonly trial?: number;
  /** a number in the test's unit as this column writes it */
  readonly write: (value: number) => string;
  readonly digits: number;
}

export interface MadeSheet {
  readonly file: string;
  readonly season: number;
  readonly columns: readonly Column[];
  /** cells, a row an athlete; the heading is not among them */
  readonly rows: string[][];
}

export interface College {
  readonly sheets: MadeSheet[];
  readonly roster: string;
}

export const PROTOCOL = `bilat: 1
name: Invented battery
measures:
${Object.values(TESTS)
  .map(
    ({ name, label, unit, heading, sides, protocol }) =>
      `  ${name}: {label: ${label}, unit: "${unit}", sides: ${sides ? 'each' : 'none'}, headings: [${heading.toLowerCase()}], ${protocol}}`,
  )
  .join('\n')}
`;

interface Athlete {
  readonly id: string;
  readonly team: number;
  readonly isFemale: boolean;
  readonly from: number;
  readonly to: number;
}

function athletesOf(count: number, draws: Draws): Athlete[] {
  const athletes: Athlete[] = [];
  const numbers = draws.shuffled(Array.from({ length: count * 2 }, (_, at) => at + 1));
  const add = (from: number): void => {
    let to = from;
    while (to < SEASONS.length - 1 && draws.share() > LEAVE) to++;
    const team = draws.whole(0, TEAMS - 1);
    const id = `B${String(numbers[athletes.length]).padStart(4, '0')}`;
    athletes.push({ id, team, isFemale: draws.share() < 0.5, from, to });
  };
  for (let at = 0; at < count; at++) add(0);
  for (let season = 1; season < SEASONS.length; season++) {
    const gone = athletes.filter(({ to }) => to === season - 1).length;
    for (let at = 0; at < gone; at++) add(season);
  }
  return athletes;
}

/** True readings of an athlete in a test: by season, left and right. */
function trueReadings(test: Test, athlete: Athlete, draws: Draws): [number, number][] {
  const centre = athlete.isFemale ? test.female : test.male;
  const unusual =
    draws.share() < UNUSUAL ? (draws.share() < 0.5 ? -1 : 1) * Math.min(test.isRatio ? 0.4 : 99, 3.5 * test.spread) : 0;
  const asymmetry = draws.normal() * test.asymmetry;
  let own = draws.normal() * test.spread + unusual;
  return SEASONS.map(() => {
    own += draws.normal() * test.drift + (test.isRatio ? 0.01 : 0);
    const sides = [own - asymmetry / 2, own + asymmetry / 2];
    if (test.sides && draws.share() < INJURED / 4) {
      const side = draws.whole(0, 1);
      sides[side] += test.isRatio ? Math.log(INJURED_TIMES) : -1.5 * test.spread;
    }
    const [left, right] = sides.map((x) => (test.isRatio ? centre * Math.exp(x) : centre + x));
    return [left, right];
  });
}

/** The hip station of one season has a dynamometer that shows kilograms of force. */
function writerOf(test: Test, isInKilograms: boolean): Pick<Column, 'write' | 'digits'> {
  if (isInKilograms) return { write: (value) => (value / KILOGRAM_FORCE).toFixed(1), digits: 1 };
  const write = (value: number): string => (Math.round(value / test.step) * test.step).toFixed(test.digits);
  return { write, digits: test.digits };
}

function columnsOf(tests: readonly TestKey[], isInKilograms: boolean): Column[] {
  const text = (heading: string): Column => ({ heading, write: String, digits: 0 });
  const columns = ['ID', 'Date', 'Tester'].map(text);
  for (const key of tests) {
    const test: Test = TESTS[key];
    const inKilograms = isInKilograms && test.unit === 'N';
    const unit = inKilograms
      ? 'kg'
      : test.unit === 'mm[Hg]'
        ? 'mmHg'
        : test.unit === '/min'
          ? 'bpm'
          : test.unit.replace('kgf', 'kg');
    for (let trial = 1; trial <= test.trials; trial++) {
      for (const side of test.sides ? (['left', 'right'] as const) : [undefined]) {
        const letter = side === undefined ? '' : side === 'left' ? ' L' : ' R';
        const number = test.trials > 1 ? ` ${trial}` : '';
        const heading = `${test.heading}${letter}${number} (${unit})`;
        columns.push({ heading, test: key, side, trial, ...writerOf(test, inKilograms) });
      }
    }
  }
  return columns;
}

/** Three seasons of four stations. The same seed gives the same sheets. */
export function makeCollege(seed: number, perSeason: number): College {
  const draws = drawsOf(seed);
  const athletes = athletesOf(perSeason, draws);
  const truth = new Map(
    (Object.keys(TESTS) as TestKey[]).map((key) => [
      key,
      athletes.map((athlete) => trueReadings(TESTS[key], athlete, draws)),
    ]),
  );
  const order = athletes
    .map((athlete, at) => ({ ...athlete, at }))
    .sort((a, b) => a.team - b.team || (a.id < b.id ? -1 : 1));
  const sheets: MadeSheet[] = [];
  for (const [season, year] of SEASONS.entries()) {
    for (const [number, { name, tests }] of STATIONS.entries()) {
      const columns = columnsOf(tests, name === 'hip' && season === 1);
      const rows: string[][] = [];
      for (const athlete of order) {
        if (season < athlete.from || season > athlete.to || draws.share() < ABSENT) continue;
        const fixed = [athlete.id, `${year}-08-${String(17 + number).padStart(2, '0')}`, draws.pick(TESTERS)];
        const readings = columns.slice(fixed.length).map(({ test: key, side, write }) => {
          const test: Test = TESTS[key!];
          const value = truth.get(key!)![athlete.at][season][side === 'right' ? 1 : 0];
          const error = draws.normal() * test.error;
          return write(test.isRatio ? value * Math.exp(error) : Math.max(1, value + error));
        });
        rows.push([...fixed, ...readings]);
      }
      sheets.push({ file: `sheets/${year}/${name}.csv`, season: year, columns, rows });
    }
  }
  const lines = athletes.map(({ id, team, isFemale }) => `${id},Team ${team + 1},${isFemale ? 'F' : 'M'}`);
  return { sheets, roster: `athlete_id,team,sex\n${lines.join('\n')}\n` };
}

export function sheetText({ columns, rows }: MadeSheet): string {
  return `${[columns.map(({ heading }) => heading), ...rows].map((row) => row.join(',')).join('\n')}\n`;
}
