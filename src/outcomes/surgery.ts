import { foldKey } from '../units/keys.ts';
import { isMissingMark } from '../units/statuses.ts';

/** As foldKey leaves them: lower case, punctuation as single spaces. */
const YES = new Set(['yes', 'y', 'true', 't', '1', 'x']);
const NO = new Set([
  'no',
  'n',
  'false',
  'f',
  '0',
  'none',
  'nil',
  'never',
  'na',
  'n a',
  'no surgery',
  'no operation',
  'not operated',
  'without surgery',
  'non surgical',
  'nonsurgical',
  'non operative',
  'nonoperative',
  'conservative',
]);

const OPERATIONS = new Set([
  'surgery',
  'surgical',
  'operation',
  'operated',
  'op',
  'repair',
  'repaired',
  'reconstruction',
  'reconstructed',
  'fixation',
  'orif',
  'aclr',
  'graft',
  'transplant',
  'replacement',
  'debridement',
  'fusion',
]);
const OPERATION_ENDING = /(?:ectomy|otomy|plasty|desis|oscopy|oscopic)$/;

/** Words that turn an operation round or leave it open: surgery planned, no repair, declined an operation. */
const OPEN_WORDS = new Set([
  'no',
  'not',
  'non',
  'none',
  'never',
  'without',
  'declined',
  'refused',
  'avoided',
  'cancelled',
  'planned',
  'plan',
  'pending',
  'scheduled',
  'awaiting',
  'waiting',
  'upcoming',
  'pre',
  'possible',
  'possibly',
  'probable',
  'likely',
  'maybe',
  'may',
  'if',
  'or',
  'considered',
  'considering',
  'recommended',
  'advised',
  'needs',
  'unknown',
  'unsure',
  'conservative',
]);

const LONGEST_CELL = 200;

/**
 * Whether a cell says that there was an operation: yes and no as hands write them, or a word that names one. Blank is
 * no; undefined if it cannot be read, as an operation that is planned or was declined.
 */
export function readSurgery(text: string): boolean | undefined {
  if (text.length > LONGEST_CELL) return undefined;
  if (text.trim() === '' || isMissingMark(text)) return false;
  if (text.includes('?')) return undefined;
  const key = foldKey(text);
  if (YES.has(key)) return true;
  if (NO.has(key)) return false;
  const words = key.split(' ');
  if (words.some((word) => OPEN_WORDS.has(word))) return undefined;
  return words.some((word) => OPERATIONS.has(word) || OPERATION_ENDING.test(word)) ? true : undefined;
}
