import type { Topic } from './topic.ts';
import { AUDIENCE_WORDS } from './words_audience.ts';
import { CHOICE_WORDS } from './words_choices.ts';
import { COLUMN_WORDS } from './words_columns.ts';
import { GROUP_COLUMN_WORDS } from './words_columns_groups.ts';
import { LATER_COLUMN_WORDS } from './words_columns_later.ts';
import { DESK_WORDS } from './words_desk.ts';
import { GROUP_WORDS } from './words_groups.ts';
import { PROBLEM_WORDS } from './words_problems.ts';
import { PROTOCOL_KEY_WORDS } from './words_protocol_keys.ts';
import { RECHECK_WORDS } from './words_recheck.ts';
import { SCREENING_KEY_WORDS } from './words_screening_keys.ts';
import { SIDE_FILE_WORDS } from './words_side_files.ts';
import { STAFF_WORDS } from './words_staff.ts';
import { STAFF_GROUP_WORDS } from './words_staff_groups.ts';
import { STATE_WORDS } from './words_states.ts';
import { STATISTIC_WORDS } from './words_statistics.ts';
import { TERM_WORDS } from './words_terms.ts';

/** What the words of tables, files and statistics mean, whatever the protocol; no two of one kind and name. */
export const GLOSSARY: readonly Topic[] = [
  ...COLUMN_WORDS,
  ...GROUP_COLUMN_WORDS,
  ...LATER_COLUMN_WORDS,
  ...SIDE_FILE_WORDS,
  ...STATE_WORDS,
  ...GROUP_WORDS,
  ...RECHECK_WORDS,
  ...DESK_WORDS,
  ...AUDIENCE_WORDS,
  ...STATISTIC_WORDS,
  ...PROBLEM_WORDS,
  ...TERM_WORDS,
  ...STAFF_WORDS,
  ...STAFF_GROUP_WORDS,
  ...CHOICE_WORDS,
  ...PROTOCOL_KEY_WORDS,
  ...SCREENING_KEY_WORDS,
];
