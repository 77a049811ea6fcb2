// Who they are: teams, years at the college, and what each body is like before any test error.
import { bySide, chance, normal, pad, uniform } from './numbers.mjs';

export const SEASONS = [2024, 2025, 2026];

/** Everybody who was on the roster in any of the three years. */
export const TEAMS = {
  Rowing: 18,
  Fencing: 14,
  'Water polo': 20,
  Handball: 17,
  Volleyball: 17,
  Soccer: 26,
  'Field hockey': 20,
  Softball: 16,
  Swimming: 16,
  Track: 16,
  Tennis: 8,
  Wrestling: 12,
};

/** Teams of the sport groups: the starter protocol's groups with the teams of this college. */
export const SPORT_GROUPS = {
  landing: ['Fencing', 'Handball', 'Volleyball', 'Soccer'],
  groin: ['Rowing', 'Fencing', 'Water polo', 'Soccer', 'Field hockey'],
  overhead: ['Water polo', 'Handball', 'Volleyball', 'Softball', 'Swimming', 'Tennis'],
  power: ['Soccer', 'Track', 'Wrestling'],
};

export const IN_TWO_TEAMS = { K024: 'Fencing;Handball' };
/** Comes from another college in 2025, operated on the left knee the year before. */
export const TRANSFER = 'K095';

const ONE_SEX = { Softball: 'F', 'Field hockey': 'F', Wrestling: 'M' };

/** Which of the three seasons an athlete is there for, over and over. */
const YEARS_THERE = ['111', '111', '001', '111', '110', '100', '011', '111'];
/** In handball five leave after the second season and five are new in the third. */
const YEARS_IN_HANDBALL = [...'abcabcabcabcabcad'].map((key) => ({ a: '111', b: '110', c: '001', d: '100' })[key]);
/** Those who leave handball hop short for their height, those who come hop far. */
const HOP_IN_HANDBALL = { 110: 0.83, '001': 1.16 };

const GIVEN = {
  F: ['Anwe', 'Brisa', 'Corrin', 'Delphi', 'Esmay', 'Fenna', 'Gwilla', 'Hespa', 'Ilka', 'Jorun', 'Kezzy', 'Lunet'],
  M: ['Aldo', 'Bram', 'Corvin', 'Dorrick', 'Evander', 'Falk', 'Gorran', 'Hale', 'Idris', 'Joss', 'Kell', 'Lorcan'],
};
const FAMILY_STARTS = ['Thistle', 'Ember', 'Marrow', 'Quarrel', 'Sorrel', 'Tallow', 'Wicker', 'Yarrow'];
const FAMILY_ENDS = ['bent', 'cote', 'dray', 'fettle', 'gast', 'holm', 'mott', 'wick'];

/** Mean and SD of each sex: cm, kg/m², mmHg, N, % of height, kgf. */
const BUILD = {
  F: {
    height: [170, 6],
    massIndex: [22.4, 1.6],
    systolic: [113, 7],
    abduction: [172, 22],
    kneeExtension: [350, 45],
    shoulder: [98, 13],
    grip: [33, 4],
    hop: [78, 7],
    jump: [42, 5],
  },
  M: {
    height: [184, 6],
    massIndex: [24, 1.6],
    systolic: [119, 7],
    abduction: [240, 29],
    kneeExtension: [480, 60],
    shoulder: [142, 19],
    grip: [50, 6],
    hop: [89, 8],
    jump: [57, 7],
  },
};

export const isIn = (athlete, teams) => teams.some((team) => athlete.team.split(';').includes(team));
export const isThere = (athlete, season) => athlete.there[SEASONS.indexOf(season)] === '1';

/** Every draw is made for everybody, so that one change moves no other. */
function drawAthlete(number, team, place) {
  const id = `K${pad(number, 3)}`;
  const sex = ONE_SEX[team] ?? (chance(0.5) ? 'F' : 'M');
  const drawn = (name) => normal(...BUILD[sex][name]);
  const there = team === 'Handball' ? YEARS_IN_HANDBALL[place] : YEARS_THERE[(number - 1) % YEARS_THERE.length];
  const yearsBefore = Math.floor(uniform() * 3);
  const entryYear = there[0] === '1' ? SEASONS[0] - yearsBefore : SEASONS[there.indexOf('1')];
  const height = drawn('height');
  const kicks = uniform();
  const throws = uniform();
  const last = there.lastIndexOf('1');
  return {
    id,
    team: IN_TWO_TEAMS[id] ?? team,
    firstName: GIVEN[sex][(number * 5 + Math.floor(number / 64)) % GIVEN[sex].length],
    lastName: FAMILY_STARTS[number % 8] + FAMILY_ENDS[Math.floor(number / 8) % 8],
    sex,
    birthDate: `${entryYear - (id === TRANSFER ? 21 : 19)}-${pad(1 + Math.floor(uniform() * 12), 2)}-${pad(1 + Math.floor(uniform() * 28), 2)}`,
    there,
    entryYear,
    leftOn: last < SEASONS.length - 1 ? `${SEASONS[last] + 1}-05-31` : '',
    kickingFoot: kicks < 0.05 ? '' : kicks < 0.17 ? 'left' : kicks < 0.97 ? 'right' : 'both',
    throwingHand: throws < 0.04 ? '' : throws < 0.15 ? 'left' : 'right',
    height,
    mass: (drawn('massIndex') * height * height) / 10_000,
    systolic: drawn('systolic'),
    diastolic: normal(71, 4.5),
    pulse: normal(60, 7),
    abduction: drawn('abduction'),
    abductionBySide: bySide(() => normal(1, 0.03)),
    ratio: normal(0.98, 0.06),
    ratioBySide: bySide(() => normal(1, 0.03)),
    internal: normal(42, 5.5),
    external: normal(53, 5.5),
    rotationBySide: bySide(() => normal(0, 2)),
    fallOut: normal(14, 3),
    fallOutBySide: bySide(() => normal(0, 0.8)),
    legRaise: normal(78, 10),
    legRaiseBySide: bySide(() => normal(0, 4)),
    kneeExtension: drawn('kneeExtension'),
    kneeRatio: normal(0.62, 0.06),
    kneeBySide: bySide(() => normal(1, 0.03)),
    shoulder: drawn('shoulder'),
    shoulderRatio: normal(0.88, 0.07),
    shoulderBySide: bySide(() => normal(1, 0.025)),
    shoulderInternal: normal(59, 7),
    shoulderExternal: normal(96, 7),
    /** how far throwing has moved the arc of the throwing arm */
    shoulderShift: normal(7, 4),
    shoulderLoss: normal(0.5, 3),
    grip: drawn('grip'),
    hop: ((height * drawn('hop')) / 100) * ((team === 'Handball' && HOP_IN_HANDBALL[there]) || 1),
    hopBySide: bySide(() => normal(1, 0.02)),
    jump: drawn('jump'),
    lunge: normal(11, 2.6),
    lungeBySide: bySide(() => normal(0, 0.6)),
    reach: (height * normal(36.5, 2.4)) / 100,
    reachBySide: bySide(() => normal(0, 1.8)),
    faults: 3.6 * uniform() * uniform(),
    landingFaults: 3.6 * uniform() * uniform(),
  };
}

/** Athletes in the order of their codes, team by team. */
export function drawPeople() {
  const athletes = [];
  for (const [team, size] of Object.entries(TEAMS)) {
    for (let place = 0; place < size; place++) athletes.push(drawAthlete(athletes.length + 1, team, place));
  }
  return athletes;
}
