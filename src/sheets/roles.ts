import type { IgnoredReason } from '../problems/ignored.ts';
import type { DateOrder } from '../units/dates.ts';
import { foldKey } from '../units/keys.ts';
import type { Role } from './entry.ts';

/** Headings of columns that tell about a row, as hands write them; folded, `#` as no. */
const ROLE_HEADINGS: { readonly [role in Exclude<Role, 'ignore'>]: readonly string[] } = {
  athlete_id: [
    ...['athlete id', 'athlete no', 'athlete number', 'athlete code', 'athlete ref', 'ath id', 'ath no', 'ath number'],
    ...['id', 'id no', 'id number', 'id code', 'code', 'player id', 'player no', 'player number', 'participant id'],
    ...['participant no', 'subject id', 'subject no', 'student athlete id'],
    ...['student id', 'student id no', 'student id number', 'student no', 'student number', 'uni id', 'university id'],
    ...['college id', 'school id'],
  ],
  name: [
    ...['name', 'names', 'athlete', 'athletes', 'ath', 'athlete name', 'athlete s name', 'athletes name', 'ath name'],
    ...['name of athlete', 'player', 'player name', 'full name', 'fullname', 'student', 'student name', 'who'],
    ...['student athlete', 'student athlete name', 'participant', 'participant name'],
    ...['last first', 'name last first', 'last name first name', 'name first last', 'first last'],
  ],
  first_name: ['first name', 'firstname', 'first', 'given name', 'forename'],
  last_name: ['last name', 'lastname', 'last', 'surname', 'family name'],
  team: ['team', 'team name', 'sport', 'team sport', 'sport team', 'squad', 'club', 'group'],
  sex: ['sex', 'gender', 'm f', 'f m', 'sex m f', 'gender m f', 'sex f m', 'gender f m'],
  date: [
    ...['date', 'test date', 'date tested', 'date of test', 'date of testing', 'testing date', 'day', 'tested on'],
    ...['tested', 'when', 'date time', 'session date', 'date of session', 'screening date', 'date of screening'],
    ...['screen date', 'date screened', 'assessment date', 'date of assessment', 'measured on', 'date measured'],
  ],
  test: [
    ...['test', 'measure', 'test name', 'name of test', 'measure name', 'exercise', 'exercise name', 'measurement'],
    ...['what', 'test item', 'test type', 'assessment'],
  ],
  side: [
    ...['side', 'limb', 'leg', 'arm', 'hand', 'foot', 'l r', 'r l', 'left right', 'right left'],
    ...['side l r', 'side r l', 'side left right', 'limb l r', 'leg l r', 'arm l r', 'hand l r', 'foot l r'],
    ...['side tested', 'limb tested', 'leg tested', 'arm tested', 'hand tested', 'foot tested'],
    ...['tested side', 'tested limb', 'tested leg', 'tested arm', 'test side', 'test limb', 'test leg', 'test arm'],
  ],
  trial: [
    ...['trial', 'trial no', 'trial number', 'trial nr', 'attempt', 'attempt no', 'attempt number'],
    ...['rep', 'rep no', 'rep number', 'try', 'try no', 'try number'],
  ],
  value: [
    ...['value', 'values', 'result', 'results', 'reading', 'score', 'measured', 'measured value', 'test result'],
    ...['test value', 'test score', 'raw value', 'raw score'],
  ],
  unit: ['unit', 'units', 'unit of measure', 'units of measure', 'measurement unit', 'uom'],
  status: ['status', 'state', 'outcome', 'test status'],
  tester: [
    ...['tester', 'tester name', 'tester initials', 'tested by', 'examiner', 'examiner name', 'examiner initials'],
    ...['examined by', 'assessor', 'assessor initials', 'assessed by', 'measured by', 'rater', 'evaluator'],
  ],
  device: [
    ...['device', 'device used', 'instrument', 'instrument used', 'dynamometer', 'tool', 'tool used', 'equipment'],
    ...['equipment used'],
  ],
};

/** The number on a shirt is no id of the roster, and a number without a name counts the rows. */
const IGNORED_HEADINGS: { readonly [reason in IgnoredReason]?: readonly string[] } = {
  remark: [
    ...['notes', 'note', 'comment', 'comments', 'remark', 'remarks'],
    ...['notes comments', 'comments notes', 'other notes', 'tester notes', 'tester comments'],
  ],
  not_needed: [
    ...['age', 'age y', 'age yr', 'age yrs', 'age years', 'dob', 'date of birth', 'birth date', 'birthdate'],
    ...[
      'season',
      'year',
      'class',
      'class year',
      'year in school',
      'school year',
      'academic year',
      'position',
      'station',
    ],
    ...['jersey', 'jersey no', 'jersey number', 'shirt no', 'shirt number', 'uniform no', 'uniform number'],
    ...['bib', 'bib no', 'bib number'],
    ...['no', 'nr', 'row', 'row no', 'row number', 's no', 'serial no', 'line', 'line no'],
    ...['timestamp', 'email', 'e mail', 'email address'],
  ],
};

const roles = new Map<string, Role>();
for (const [role, headings] of Object.entries(ROLE_HEADINGS))
  for (const heading of headings) roles.set(heading, role as Role);
const ignored = new Map<string, IgnoredReason>();
for (const [reason, headings] of Object.entries(IGNORED_HEADINGS))
  for (const heading of headings) ignored.set(heading, reason as IgnoredReason);

/** Longer headings name no role, and need not be folded to find that out. */
const LONGEST = 60;
const BOTH_SIDES = new Set(['l r', 'r l', 'left right', 'right left']);
/** Between L and R alone these tell a difference, a ratio or the two at once, not which of them a row is about. */
const NOT_WHICH_SIDE = /[-‐-―−:&+]/;
/** The order in which a heading says its dates are written: Date (dd/mm/yyyy). */
const DATE_FORMATS: readonly (readonly [RegExp, DateOrder])[] = [
  [/ m{1,2} d{1,2} y{1,4}$/, 'mdy'],
  [/ d{1,2} m{1,2} y{1,4}$/, 'dmy'],
  [/ y{1,4} m{1,2} d{1,2}$/, 'ymd'],
];

/** Signs that folding would lose: a number is something else than what it counts, and so is a percentage. */
function keyOf(heading: string): string {
  return foldKey(heading.replaceAll('#', ' no ').replaceAll('%', ' percent '));
}

/** The role of a column by its heading, or undefined. */
export function roleOfHeading(heading: string): Role | undefined {
  if (heading.length > LONGEST) return undefined;
  const key = keyOf(heading);
  if (BOTH_SIDES.has(key) && NOT_WHICH_SIDE.test(heading)) return undefined;
  return roles.get(key) ?? (formatOf(key) && 'date');
}

/** Why a column is left aside by its heading, or undefined. */
export function ignoredHeading(heading: string): IgnoredReason | undefined {
  return heading.length > LONGEST ? undefined : ignored.get(keyOf(heading));
}

/** The order of day, month and year that the heading of a date column spells out, or undefined. */
export function dateOrderOfHeading(heading: string): DateOrder | undefined {
  return heading.length > LONGEST ? undefined : formatOf(keyOf(heading));
}

function formatOf(key: string): DateOrder | undefined {
  return DATE_FORMATS.find(([format]) => format.test(key) && roles.get(key.replace(format, '')) === 'date')?.[1];
}
