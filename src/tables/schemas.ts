import type { Schema, Table } from './table.ts';

export const OBSERVATIONS = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'team', kind: 'text', title: 'team or teams of the season, joined with ;' },
  { name: 'season', kind: 'number', title: 'year in which the season starts' },
  { name: 'date', kind: 'date', title: 'day of the reading' },
  { name: 'measure', kind: 'text', title: 'what was measured' },
  { name: 'side', kind: 'text', title: 'left, right, both or none' },
  { name: 'trial', kind: 'number', title: 'number of the attempt' },
  { name: 'value', kind: 'number', title: 'reading in unit' },
  { name: 'unit', kind: 'text', title: 'UCUM unit of value' },
  { name: 'status', kind: 'text', title: 'what became of the attempt' },
  { name: 'tester', kind: 'text', title: 'who tested' },
  { name: 'device', kind: 'text', title: 'with what' },
  { name: 'station', kind: 'text', title: 'where' },
  { name: 'purpose', kind: 'text', title: 'test, makeup, retest or return' },
  { name: 'raw', kind: 'string', title: 'the cell as written' },
  { name: 'file', kind: 'text', title: 'sheet, relative to the folder' },
  { name: 'line', kind: 'number', title: 'physical line in the sheet, from 1' },
  { name: 'column', kind: 'number', title: 'column in the sheet, from 1' },
  { name: 'written_in', kind: 'text', title: 'UCUM unit the reading was written in' },
  { name: 'unit_from', kind: 'text', title: 'where that unit was found' },
] as const satisfies Schema;

/** The dominance columns of the protocol follow these. */
export const ATHLETES = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'season', kind: 'number', title: 'season the row holds for; empty: every season' },
  { name: 'team', kind: 'text', title: 'team or teams, joined with ;' },
  { name: 'sex', kind: 'text', title: 'F, M or as recorded' },
  { name: 'birth_date', kind: 'date', title: 'date of birth' },
  { name: 'entry_year', kind: 'number', title: 'year of entry' },
  { name: 'from', kind: 'text', title: 'roster or sheets: where team and sex come from' },
] as const satisfies Schema;

export const REJECTS = [
  { name: 'file', kind: 'text', title: 'sheet, relative to the folder' },
  { name: 'line', kind: 'number', title: 'physical line, from 1' },
  { name: 'column', kind: 'number', title: 'column, from 1; empty: the whole row or file' },
  { name: 'heading', kind: 'text', title: 'heading of the column' },
  { name: 'raw', kind: 'string', title: 'the cell as written' },
  { name: 'code', kind: 'text', title: 'why it was not taken' },
  { name: 'message', kind: 'string', title: 'the same in words' },
  { name: 'suggestion', kind: 'string', title: 'what to do' },
  { name: 'cells', kind: 'number', title: 'how many non-empty cells this row stands for' },
  // For the list of readings to take again.
  { name: 'athlete_id', kind: 'text', title: 'athlete of the row, if known', internal: true },
  { name: 'measure', kind: 'text', title: 'measure of the cell, if known', internal: true },
  { name: 'season', kind: 'number', title: 'season of the row, if known', internal: true },
  { name: 'station', kind: 'text', title: 'station of the sheet', internal: true },
  { name: 'value', kind: 'number', title: 'the implausible reading, in the unit of its measure', internal: true },
  { name: 'slips', kind: 'number', title: 'how many slips would make it plausible', internal: true },
] as const satisfies Schema;

export const IGNORED = [
  { name: 'file', kind: 'text', title: 'sheet, relative to the folder' },
  { name: 'line', kind: 'number', title: 'physical line, from 1' },
  { name: 'column', kind: 'number', title: 'column, from 1; empty: the whole row' },
  { name: 'heading', kind: 'text', title: 'heading of the column' },
  { name: 'cells', kind: 'number', title: 'how many non-empty cells' },
  { name: 'reason', kind: 'text', title: 'why they were left aside' },
] as const satisfies Schema;

export const LEDGER = [
  { name: 'file', kind: 'text', title: 'sheet, relative to the folder' },
  { name: 'cells', kind: 'number', title: 'non-empty cells' },
  { name: 'measured', kind: 'number', title: 'cells that became readings' },
  { name: 'not_measured', kind: 'number', title: 'cells that say why there is no reading' },
  { name: 'context', kind: 'number', title: 'headings, ids, dates, sides and the like' },
  { name: 'ignored', kind: 'number', title: 'cells left aside, each with a reason' },
  { name: 'rejected', kind: 'number', title: 'cells that could not be read' },
] as const satisfies Schema;

export const RESULTS = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'team', kind: 'text', title: 'team or teams of the season, joined with ;' },
  { name: 'season', kind: 'number', title: 'year in which the season starts' },
  { name: 'date', kind: 'date', title: 'first day of the occasion' },
  { name: 'measure', kind: 'text', title: 'what was measured or worked out' },
  { name: 'unit', kind: 'text', title: 'UCUM unit of left, right, both, value, gap and difference' },
  { name: 'left', kind: 'number', title: 'kept reading of the left side' },
  { name: 'right', kind: 'number', title: 'kept reading of the right side' },
  { name: 'both', kind: 'number', title: 'kept reading of both limbs at once' },
  { name: 'value', kind: 'number', title: 'kept reading of a measure without sides' },
  { name: 'weaker', kind: 'text', title: 'the worse side; empty if equal' },
  { name: 'deficit_pct', kind: 'number', title: '100 (max - min) / max' },
  { name: 'gap', kind: 'number', title: '|right - left|' },
  { name: 'difference', kind: 'number', title: 'right - left' },
  { name: 'direction_pct', kind: 'number', title: '100 (right - left) / max' },
  { name: 'dominance_pct', kind: 'number', title: '100 (dominant - other) / max' },
  { name: 'dominance_gap', kind: 'number', title: 'dominant - other' },
  { name: 'symmetry_angle', kind: 'number', title: '100 (45 - atan(left / right) in degrees) / 90' },
  { name: 'bilateral_index_pct', kind: 'number', title: '100 both / (left + right) - 100' },
  { name: 'trials_left', kind: 'number', title: 'measured attempts on the left' },
  { name: 'trials_right', kind: 'number', title: 'measured attempts on the right' },
  { name: 'spread_left_pct', kind: 'number', title: '100 (max - min) / mean of the left attempts' },
  { name: 'spread_right_pct', kind: 'number', title: '100 (max - min) / mean of the right attempts' },
  { name: 'status', kind: 'text', title: 'why a number is missing or to be read with care' },
  // For the judging stage: extremes of single trials (of: any_trial), standard errors of the kept scores, status marks.
  { name: 'least_left', kind: 'number', title: 'lowest attempt, left', internal: true },
  { name: 'most_left', kind: 'number', title: 'highest attempt, left', internal: true },
  { name: 'least_right', kind: 'number', title: 'lowest attempt, right', internal: true },
  { name: 'most_right', kind: 'number', title: 'highest attempt, right', internal: true },
  { name: 'least_value', kind: 'number', title: 'lowest attempt, no sides', internal: true },
  { name: 'most_value', kind: 'number', title: 'highest attempt, no sides', internal: true },
  { name: 'sem_left', kind: 'number', title: 'standard error of measurement of left, in unit', internal: true },
  { name: 'sem_right', kind: 'number', title: 'standard error of measurement of right, in unit', internal: true },
  { name: 'sem_value', kind: 'number', title: 'standard error of measurement of value, in unit', internal: true },
  { name: 'marks', kind: 'number', title: 'bits of MARK: which side has which status', internal: true },
  { name: 'last_day', kind: 'date', title: 'last day of the occasion on which it was tried', internal: true },
] as const satisfies Schema;

/** Bits of results.marks. The status column joins them without telling the side of `unable`. */
export const MARK = {
  painLeft: 1,
  painRight: 2,
  painOther: 4,
  unableLeft: 8,
  unableRight: 16,
  unableOther: 32,
} as const;

export const FINDINGS = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'team', kind: 'text', title: 'team or teams of the season, joined with ;' },
  { name: 'season', kind: 'number', title: 'year in which the season starts' },
  { name: 'date', kind: 'date', title: 'first day of the occasion' },
  { name: 'sport_group', kind: 'text', title: 'sport groups through which the rule applies, joined with ;' },
  { name: 'rule', kind: 'text', title: 'the rule that is broken' },
  { name: 'measure', kind: 'text', title: 'what was measured or worked out' },
  { name: 'side', kind: 'text', title: 'left, right, both or none' },
  { name: 'field', kind: 'text', title: 'which number of the result was judged' },
  { name: 'value', kind: 'number', title: 'that number' },
  { name: 'limit', kind: 'number', title: 'the limit of the rule' },
  { name: 'margin', kind: 'number', title: 'distance beyond the limit' },
  { name: 'error', kind: 'number', title: '95 % measurement error of the number' },
  { name: 'error_basis', kind: 'text', title: 'declared or derived' },
  { name: 'certainty', kind: 'text', title: 'clear, within_error, error_unknown, not_applicable' },
  { name: 'grade', kind: 'text', title: 'watch, act or refer' },
  { name: 'previous_injury', kind: 'text', title: 'earlier injury of the same region' },
  { name: 'programme', kind: 'text', title: 'programme of the rule' },
  { name: 'owner', kind: 'text', title: 'strength or medical staff' },
  { name: 'message', kind: 'string', title: 'the finding in words' },
  // A referral answers what was read before it was closed: an occasion has more than one day.
  { name: 'last_day', kind: 'date', title: 'last day of the occasion on which it was tried', internal: true },
] as const satisfies Schema;

export const RECHECK = [
  { name: 'athlete_id', kind: 'text', title: 'athlete; empty where a whole column, tester or device is suspect' },
  { name: 'team', kind: 'text', title: 'team or teams of the season, joined with ;' },
  { name: 'season', kind: 'number', title: 'year in which the season starts' },
  { name: 'date', kind: 'date', title: 'day of the reading' },
  { name: 'measure', kind: 'text', title: 'what was measured' },
  { name: 'side', kind: 'text', title: 'left, right, both or none' },
  { name: 'trial', kind: 'number', title: 'number of the attempt' },
  { name: 'value', kind: 'number', title: 'reading in unit' },
  { name: 'unit', kind: 'text', title: 'UCUM unit of value, low and high' },
  { name: 'kind', kind: 'text', title: 'why it is suspect' },
  { name: 'score', kind: 'number', title: 'how far it stands out; robust z of an outlier' },
  { name: 'low', kind: 'number', title: 'least that was expected' },
  { name: 'high', kind: 'number', title: 'most that was expected' },
  { name: 'suggestion', kind: 'string', title: 'what may have happened, and what to do' },
  { name: 'file', kind: 'text', title: 'sheet, relative to the folder' },
  { name: 'line', kind: 'number', title: 'physical line in the sheet, from 1' },
  { name: 'column', kind: 'number', title: 'column in the sheet, from 1' },
  // For --station, and to show what could not be read.
  { name: 'station', kind: 'text', title: 'station of the sheet', internal: true },
  { name: 'raw', kind: 'string', title: 'the cell as written, where it could not be read', internal: true },
] as const satisfies Schema;

export const RECHECK_KINDS = [
  'implausible',
  'unit_slip',
  'column_unit_slip',
  'sides_identical',
  'columns_swapped',
  'sides_swapped',
  'trial_apart',
  'repeated_row',
  'digit_slip',
  'run_of_fill',
  'outlier',
] as const;
export type RecheckKind = (typeof RECHECK_KINDS)[number];

export const COHORT = [
  { name: 'season', kind: 'number', title: 'year in which the season starts; empty: several seasons together' },
  { name: 'group_kind', kind: 'text', title: 'all, team, sport_group or sex' },
  { name: 'group', kind: 'text', title: 'the group; empty for all' },
  { name: 'rule', kind: 'text', title: 'a rule of the protocol, or pain, unable, one_side' },
  { name: 'eligible', kind: 'number', title: 'athletes to whom the rule applies' },
  { name: 'tested', kind: 'number', title: 'eligible with every side and part that the rule needs' },
  { name: 'flagged', kind: 'number', title: 'tested who break the rule' },
  { name: 'flagged_partial', kind: 'number', title: 'half-measured athletes with a finding; not in the share' },
  { name: 'pain', kind: 'number', title: 'eligible in pain at a part of the rule' },
  { name: 'unable', kind: 'number', title: 'eligible who could not do a part of the rule' },
  { name: 'missing', kind: 'number', title: 'eligible who were not tested' },
  { name: 'share', kind: 'number', title: 'flagged / tested' },
  { name: 'share_low', kind: 'number', title: 'lower limit of its 95 % interval' },
  { name: 'share_high', kind: 'number', title: 'upper limit of its 95 % interval' },
  { name: 'worse_left', kind: 'number', title: 'flagged on the left side only' },
  { name: 'worse_right', kind: 'number', title: 'flagged on the right side only' },
  { name: 'others_tested', kind: 'number', title: 'tested outside the group' },
  { name: 'others_flagged', kind: 'number', title: 'flagged outside the group' },
  { name: 'ratio', kind: 'number', title: 'share of the group / share of the others' },
  { name: 'ratio_low', kind: 'number', title: 'lower limit of its 95 % interval' },
  { name: 'ratio_high', kind: 'number', title: 'upper limit of its 95 % interval' },
  { name: 'decision', kind: 'text', title: 'shared, individual or too_few' },
] as const satisfies Schema;

export const GROUP_KINDS = ['all', 'team', 'sport_group', 'sex'] as const;
export type GroupKind = (typeof GROUP_KINDS)[number];
export const DECISIONS = ['shared', 'individual', 'too_few'] as const;

export const PLAN = [
  { name: 'priority', kind: 'number', title: 'order in which to act, from 1' },
  { name: 'scope', kind: 'text', title: 'refer, hold, repeat, shared, left_out or individual' },
  { name: 'group', kind: 'text', title: 'team of shared work' },
  { name: 'athlete_id', kind: 'text', title: 'athlete; empty for work of a whole group' },
  { name: 'team', kind: 'text', title: 'team or teams of the season, joined with ;' },
  { name: 'programme', kind: 'text', title: 'programme of the protocol' },
  { name: 'owner', kind: 'text', title: 'strength or medical staff' },
  { name: 'side', kind: 'text', title: 'left, right, both or none' },
  { name: 'rules', kind: 'text', title: 'rules behind it, joined with ;' },
  { name: 'grade', kind: 'text', title: 'highest grade behind it' },
  { name: 'reason', kind: 'string', title: 'why, in words' },
  { name: 'instruction', kind: 'string', title: 'what to do' },
  { name: 'start', kind: 'date', title: 'first day' },
  { name: 'retest_by', kind: 'date', title: 'day by which to test again' },
  // For --audience: a built-in status does not say of which test it is.
  { name: 'measures', kind: 'text', title: 'measures of the findings behind it, joined with ;', internal: true },
] as const satisfies Schema;

export const PLAN_SCOPES = ['refer', 'hold', 'repeat', 'shared', 'left_out', 'individual'] as const;
export type PlanScope = (typeof PLAN_SCOPES)[number];

export const COVERAGE = [
  { name: 'athlete_id', kind: 'text', title: 'athlete' },
  { name: 'team', kind: 'text', title: 'team or teams of the season, joined with ;' },
  { name: 'season', kind: 'number', title: 'year in which the season starts' },
  { name: 'measure', kind: 'text', title: 'what is to be measured' },
  { name: 'state', kind: 'text', title: 'what became of it' },
  { name: 'station', kind: 'text', title: 'where it is measured' },
  { name: 'retest_by', kind: 'date', title: 'day by which to test again' },
  // For --audience: the rule tells whose programme asks for the retest.
  { name: 'retest_for', kind: 'text', title: 'rule for which it is tested again by then', internal: true },
] as const satisfies Schema;

export const COVERAGE_STATES = [
  'done',
  'partial',
  'pain',
  'unable',
  'refused',
  'held',
  'not_tested',
  'missing',
  'retest_due',
] as const;
export type CoverageState = (typeof COVERAGE_STATES)[number];

export type Observations = Table<typeof OBSERVATIONS>;
export type Rejects = Table<typeof REJECTS>;
export type Ignored = Table<typeof IGNORED>;
export type Ledger = Table<typeof LEDGER>;
export type Results = Table<typeof RESULTS>;
export type Findings = Table<typeof FINDINGS>;
export type Recheck = Table<typeof RECHECK>;
export type Cohort = Table<typeof COHORT>;
export type Plan = Table<typeof PLAN>;
export type Coverage = Table<typeof COVERAGE>;

export const RESULT_STATUSES = [
  'missing_left',
  'missing_right',
  'missing_part',
  'few_trials',
  'unequal_trials',
  'wide_spread',
  'pain_left',
  'pain_right',
  'pain',
  'unable',
  'refused',
  'held',
  'not_tested',
  'no_dominant_side',
  'not_positive',
  'partial_total',
  'small_group',
  'repeated_row',
  'later_days',
] as const;
export type ResultStatus = (typeof RESULT_STATUSES)[number];

export const CERTAINTIES = ['clear', 'within_error', 'error_unknown', 'not_applicable'] as const;
export const GRADES = ['watch', 'act', 'refer'] as const;
export type Grade = (typeof GRADES)[number];
