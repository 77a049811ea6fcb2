import type { IgnoredReason } from '../problems/ignored.ts';
import { foldKey } from '../units/keys.ts';
import type { Role } from './entry.ts';

/** Headings of columns that tell about a row, as hands write them; folded. */
const ROLE_HEADINGS: { readonly [role in Exclude<Role, 'ignore'>]: readonly string[] } = {
  athlete_id: [
    'athlete id',
    'athlete no',
    'athlete number',
    'athlete code',
    'athlete ref',
    'id',
    'id no',
    'id number',
    'student id',
    'student no',
    'student number',
    'player id',
    'player no',
    'code',
  ],
  name: ['name', 'athlete', 'athlete name', 'player', 'player name', 'full name', 'student', 'student name', 'who'],
  first_name: ['first name', 'first', 'given name', 'forename'],
  last_name: ['last name', 'last', 'surname', 'family name'],
  team: ['team', 'sport', 'squad', 'club', 'group'],
  sex: ['sex', 'gender', 'm f', 'f m'],
  date: ['date', 'test date', 'date tested', 'date of test', 'day', 'tested on', 'when'],
  test: ['test', 'measure', 'test name', 'exercise', 'measurement', 'what'],
  side: ['side', 'limb', 'leg', 'arm', 'hand', 'foot', 'l r', 'left right'],
  trial: ['trial', 'attempt', 'rep', 'try', 'trial no', 'trial number', 'attempt no'],
  value: ['value', 'result', 'reading', 'score', 'measured'],
  unit: ['unit', 'units'],
  status: ['status', 'state', 'outcome'],
  tester: ['tester', 'tested by', 'examiner', 'assessor', 'measured by'],
  device: ['device', 'instrument', 'dynamometer', 'tool', 'equipment'],
};

const IGNORED_HEADINGS: { readonly [heading: string]: IgnoredReason } = {
  notes: 'remark',
  note: 'remark',
  comment: 'remark',
  comments: 'remark',
  remark: 'remark',
  remarks: 'remark',
  age: 'not_needed',
  'age y': 'not_needed',
  'age years': 'not_needed',
  dob: 'not_needed',
  'date of birth': 'not_needed',
  'birth date': 'not_needed',
  season: 'not_needed',
  year: 'not_needed',
  position: 'not_needed',
  station: 'not_needed',
};

const roles = new Map<string, Role>();
for (const [role, headings] of Object.entries(ROLE_HEADINGS))
  for (const heading of headings) roles.set(heading, role as Role);
const ignored = new Map<string, IgnoredReason>(Object.entries(IGNORED_HEADINGS));

/** Longer headings name no role, and need not be folded to find that out. */
const LONGEST = 60;

export function roleOfHeading(heading: string): Role | undefined {
  return heading.length > LONGEST ? undefined : roles.get(foldKey(heading));
}

export function ignoredHeading(heading: string): IgnoredReason | undefined {
  return heading.length > LONGEST ? undefined : ignored.get(foldKey(heading));
}
