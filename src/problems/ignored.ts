/** Why cells are left aside; each with its words for explanations. */
export const IGNORED_REASONS = {
  title_line: 'a line above the headings',
  page_header: 'a page header between rows',
  repeated_header: 'the headings once more',
  declared: 'set to ignore in screening.yaml',
  remark: 'a column of remarks',
  worked_out: 'a best, mean or total that a spreadsheet worked out',
  worked_out_row: 'a row with a best or mean that was worked out from other rows',
  summary_row: 'an average, total or other row that a spreadsheet worked out',
  no_athlete: 'a test, demonstration or calibration row, no athlete',
  footnote: 'a line without readings: a footnote or a subtitle',
  not_needed: 'a column that bilat takes from elsewhere (age, season) or has no use for',
  status_of_wide_sheet: 'a status column in a sheet with many tests in a row; say in columns: what it belongs to',
} as const;

export type IgnoredReason = keyof typeof IGNORED_REASONS;
