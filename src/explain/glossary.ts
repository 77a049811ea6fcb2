import type { Topic } from './topic.ts';
import { CHOICE_WORDS } from './words_choices.ts';
import { COLUMN_WORDS } from './words_columns.ts';
import { LATER_COLUMN_WORDS } from './words_columns_later.ts';
import { PROBLEM_WORDS } from './words_problems.ts';
import { PROTOCOL_KEY_WORDS } from './words_protocol_keys.ts';
import { SCREENING_KEY_WORDS } from './words_screening_keys.ts';
import { SIDE_FILE_WORDS } from './words_side_files.ts';
import { STAFF_WORDS } from './words_staff.ts';
import { STATE_WORDS } from './words_states.ts';
import { STATISTIC_WORDS } from './words_statistics.ts';
import { TERM_WORDS } from './words_terms.ts';

/** What the words of tables, files and statistics mean, whatever the protocol; no two of one kind and name. */
export const GLOSSARY: readonly Topic[] = [
  ...COLUMN_WORDS,
  ...LATER_COLUMN_WORDS,
  ...SIDE_FILE_WORDS,
  ...STATE_WORDS,
  ...STATISTIC_WORDS,
  ...PROBLEM_WORDS,
  ...TERM_WORDS,
  ...STAFF_WORDS,
  ...CHOICE_WORDS,
  ...PROTOCOL_KEY_WORDS,
  ...SCREENING_KEY_WORDS,
];
