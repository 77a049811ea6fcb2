import { closest, distance } from 'fastest-levenshtein';
import { foldKey } from '../units/keys.ts';

/** What other programs and hands call the columns of the side files; folded. Read only where somebody says so. */
const LIKE: { readonly [column: string]: readonly string[] } = {
  athlete_id: [
    ...['id', 'no', 'number', 'code', 'athlete', 'athlete id', 'athlete no', 'athlete number', 'player id', 'player'],
    ...['student id', 'student no', 'student number', 'student', 'college id', 'university id', 'participant id'],
  ],
  last_name: ['last name', 'last', 'surname', 'family name', 'lastname'],
  first_name: ['first name', 'first', 'given name', 'forename', 'firstname'],
  also_known_as: ['nickname', 'nicknames', 'preferred name', 'known as', 'aka', 'goes by', 'preferred'],
  team: ['sport', 'squad', 'team name', 'sport team', 'teams', 'club'],
  sex: ['gender', 'm f', 'f m'],
  birth_date: ['dob', 'date of birth', 'birth date', 'birthdate', 'birthday', 'born'],
  entry_year: ['entry', 'year of entry', 'first year', 'joined', 'start year', 'entered'],
  left_on: ['left', 'leaving date', 'left on', 'end date', 'departed'],
  kicking_foot: ['dominant leg', 'leg dominance', 'dominant foot', 'kicking leg', 'foot', 'footedness', 'dom leg'],
  throwing_hand: ['dominant hand', 'dominant arm', 'hand', 'handedness', 'throwing arm', 'dom arm', 'dom hand'],
  date: ['day', 'injury date', 'date of injury', 'onset', 'date injured', 'test date'],
  region: ['body part', 'body region', 'area', 'location', 'injured area', 'body area'],
  side: ['limb', 'leg', 'l r', 'body side'],
  days_lost: ['time loss', 'time lost', 'days missed', 'days out', 'days', 'days off'],
  athlete_exposures: ['exposures', 'ae', 'aes', 'exposure'],
  programme: ['program'],
  status: ['clearance', 'clearance status'],
};

const LIKELY: ReadonlySet<string> = new Set(Object.values(LIKE).flat());
const NAME_HEADINGS: ReadonlySet<string> = new Set([
  ...['last_name', 'first_name', 'also_known_as'].flatMap((column) => [foldKey(column), ...LIKE[column]]),
  ...['name', 'names', 'full name', 'athlete', 'athlete name', 'player', 'player name', 'student', 'student name'],
]);

const FARTHEST = 4;

/**
 * Which headings that nobody asked for may be columns that are not there, one heading a column.
 * @param headings as written
 * @param columns names of the contract that no heading has
 * @returns column → heading
 */
export function likelyHeadings(headings: readonly string[], columns: readonly string[]): ReadonlyMap<string, string> {
  const found = new Map<string, string>();
  const free = new Map(headings.map((heading) => [foldKey(heading), heading]));
  const take = (column: string, key: string): void => {
    found.set(column, free.get(key)!);
    free.delete(key);
  };
  for (const column of columns) {
    const known = [foldKey(column), ...(LIKE[column] ?? [])];
    const key = known.find((word) => free.has(word));
    if (key !== undefined) take(column, key);
  }
  for (const column of columns) {
    if (found.has(column) || free.size === 0) continue;
    const near = closest(foldKey(column), [...free.keys()]);
    if (near.length > 2 && distance(foldKey(column), near) <= Math.min(FARTHEST, column.length / 3)) take(column, near);
  }
  return found;
}

/** Whether a folded heading is one that other programs and hands write for a column of a side file. */
export function isLikelyHeading(key: string): boolean {
  return LIKELY.has(key);
}

/** Whether what stands under a heading may be the name of somebody; folded. */
export function isNameHeading(key: string): boolean {
  return NAME_HEADINGS.has(key);
}

/**
 * The lines of screening.yaml that say what the headings of a side file are.
 * @param key of the file in screening.yaml, if it is known
 * @param columns heading as written → column
 */
export function columnLines(key: string | undefined, file: string, columns: ReadonlyMap<string, string>): string[] {
  const lines = [`file: ${yamlText(file)}`, 'columns:'];
  for (const [heading, column] of columns) lines.push(`  ${JSON.stringify(heading)}: ${column}`);
  return key === undefined ? lines : [`${key}:`, ...lines.map((line) => `  ${line}`)];
}

/** A path as YAML takes it. */
function yamlText(text: string): string {
  return /^[A-Za-z0-9_][\w./-]*$/.test(text) && /[A-Za-z]/.test(text) ? text : JSON.stringify(text);
}
