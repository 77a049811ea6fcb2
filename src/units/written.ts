import { foldQuotes } from './characters.ts';
import { FORCE, parseUnit, TIME, TORQUE, type Unit } from './unit.ts';

/** Hand spellings of a UCUM unit, as `foldWord` leaves them. */
const SPELLINGS: Readonly<Record<string, readonly string[]>> = {
  kg: ['kg', 'kgs', 'kilo', 'kilos', 'kilogram', 'kilograms'],
  kgf: ['kgf', 'kp'],
  '[lb_av]': ['lb', 'lbs', '#', 'pound', 'pounds'],
  '[lbf_av]': ['lbf'],
  N: ['n', 'newton', 'newtons'],
  m: ['m', 'metre', 'metres', 'meter', 'meters'],
  cm: ['cm', 'cms', 'centimetre', 'centimetres', 'centimeter', 'centimeters'],
  mm: ['mm', 'millimetre', 'millimetres', 'millimeter', 'millimeters'],
  '[in_i]': ['in', 'ins', 'inch', 'inches', '"'],
  '[ft_i]': ['ft', 'foot', 'feet', "'"],
  deg: ['deg', 'degs', 'degree', 'degrees', '°'],
  'deg/s': ['deg/s', 'deg/sec', '°/s', '°/sec'],
  'mm[Hg]': ['mmhg', 'mm.hg'],
  '/min': ['bpm', '/min', 'beats/min', 'beats/minute', 'beats.per.minute', 'per.min', 'per.minute'],
  s: ['s', 'sec', 'secs', 'second', 'seconds'],
  ms: ['ms', 'msec', 'millisecond', 'milliseconds'],
  min: ['min', 'mins', 'minute', 'minutes'],
  'N.m': ['nm', 'n.m', 'newton.metre', 'newton.metres', 'newton.meter', 'newton.meters'],
  'N/kg': ['n/kg'],
  'N.m/kg': ['nm/kg', 'n.m/kg'],
  '[ft_i].[lbf_av]': [
    'ft.lb',
    'ft.lbs',
    'ft.lbf',
    'ftlb',
    'ftlbs',
    'lb.ft',
    'lbs.ft',
    'lbf.ft',
    'foot.pound',
    'foot.pounds',
  ],
  '[in_i].[lbf_av]': ['in.lb', 'in.lbs', 'in.lbf', 'inlb', 'inlbs', 'lb.in', 'lbf.in', 'inch.pound', 'inch.pounds'],
  'kgf.m': ['kgf.m', 'kgfm', 'kgm', 'kp.m', 'kpm'],
  'kg/m2': ['kg/m2'],
  '%': ['%', 'percent', 'pct', 'per.cent'],
  '1': ['point', 'points', 'pt', 'pts', 'rep', 'reps', 'count', 'counts', 'score', 'scores'],
};

const CODE_OF_WORD: ReadonlyMap<string, string> = new Map(
  Object.entries(SPELLINGS).flatMap(([code, words]) => words.map((word) => [word, code])),
);

/** On a dynamometer a unit of mass means the weight of that mass. */
const WEIGHT_OF_MASS: ReadonlyMap<string, string> = new Map([
  ['kg', 'kgf'],
  ['[lb_av]', '[lbf_av]'],
]);

const LONGEST_WORD = 64;
const EDGES = /^[\s([.]+|[\s)\].]+$/g;
const JOINTS = /[\s.·⋅•*×-]+/g;
const AROUND_SOLIDUS = /\.?\/\.?/g;
const DEGREE_SIGNS = /[º˚]/g;

/**
 * The unit that a hand meant by a text where a quantity of the wanted unit's dimension is due: UCUM codes first, then
 * spellings in any case. Where a force is wanted `kg`, `lb` and `#` are the weight of that mass. A known unit of
 * another dimension is returned as it is; quotes are no unit of time.
 */
export function readUnit(text: string, wanted: Unit): Unit | 'unknown' {
  if (text.length > LONGEST_WORD) return 'unknown';
  const code = text.trim();
  const word = foldWord(code);
  if (wanted.dimension === TIME && (word === "'" || word === '"')) return 'unknown';
  const spelled = CODE_OF_WORD.get(word);
  if (wanted.dimension === FORCE) {
    const weight = WEIGHT_OF_MASS.get(spelled ?? code);
    if (weight !== undefined) return known(weight);
  }
  if (wanted.dimension === TORQUE && word === 'kg.m') return known('kgf.m');
  return parseUnit(code) ?? (spelled === undefined ? 'unknown' : known(spelled));
}

/** Lower case, one kind of quote, degree sign and product sign, no brackets around it and no full stop after it. */
function foldWord(text: string): string {
  return foldQuotes(text.toLowerCase())
    .replace(EDGES, '')
    .replace(DEGREE_SIGNS, '°')
    .replace('²', '2')
    .replace('^2', '2')
    .replace(JOINTS, '.')
    .replace(AROUND_SOLIDUS, '/');
}

function known(code: string): Unit {
  return parseUnit(code)!;
}
