/** Why cells are left aside; each with its words for explanations. */
export const IGNORED_REASONS = {
  title_line: 'a line above the headings',
  repeated_header: 'the headings once more',
  declared: 'set to ignore in screening.yaml',
  remark: 'a column of remarks',
  worked_out: 'a best, mean or total that a spreadsheet worked out',
  not_needed: 'a column that bilat takes from elsewhere (age, season) or has no use for',
  status_of_wide_sheet: 'a status column in a sheet with many tests in a row; say in columns: what it belongs to',
} as const;

export type IgnoredReason = keyof typeof IGNORED_REASONS;
