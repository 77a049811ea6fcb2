import { topicsOf } from './topics_of.ts';

/** Columns that say which reading, athlete, day and place a row is about. */
const WHO_AND_WHERE = topicsOf('column', {
  athlete_id: {
    title: 'athlete',
    definition:
      'The id of the athlete, as on the roster. Everything is matched by it. A name in a sheet is turned into an id only where one athlete on the roster fits. Empty in plan for the work of a whole team, and in recheck where a whole column, a tester or a device is meant.',
    where: 'every table of athletes; every side file',
    caution: 'Ids are kept as text: 007 and 7 are two athletes.',
    see: ['roster', 'people', 'unlisted'],
  },
  team: {
    title: 'team or teams',
    definition:
      'The teams of the athlete in that season, joined with ; where there are several. The roster decides; without one the sheets do. In injuries it is the team that the injury counts for.',
    where:
      'observations, athletes, results, findings, recheck, plan, coverage; roster, injuries; later changes, exposures',
    see: ['team', 'teams'],
  },
  season: {
    title: 'year in which the season starts',
    definition:
      'Four digits from the date of the reading: the year in which its season starts. With season_starts "07-01", 2026-08-12 and 2027-03-02 both belong to 2026. In athletes and on the roster empty means every season, in cohort several seasons together.',
    where:
      'observations, athletes, results, findings, recheck, cohort, coverage; roster; later trend, agreement, incidence, exposures',
    see: ['season_starts', 'season'],
  },
  date: {
    title: 'day',
    definition:
      'In observations and recheck it is the day of the reading. In results and findings it is the first day of the occasion. In side files it is the day of the injury, of the decision or of the correction.',
    where: 'observations, results, findings, recheck; side files',
    caution: 'A day that can be read two ways (03/04) is refused, not guessed; dates: in screening.yaml settles it.',
    see: ['occasion', 'dates'],
  },
  measure: {
    title: 'what was measured or worked out',
    definition: 'The name of the measure in protocol.yaml, or of a derived measure.',
    where: 'observations, results, findings, recheck, coverage; later trend, changes, agreement',
    see: ['measure', 'derived measure'],
  },
  side: {
    title: 'left, right, both or none',
    definition:
      'The side that the row is about. In findings a comparison of the sides stands on the weaker side, and on none where no side is the weaker. In plan it is the side of the work; both where left and right need it. In injuries, history and clearance it is the side of the body; blank there is unknown.',
    where: 'observations, findings, recheck, plan; injuries, history, clearance; later trend, changes, agreement',
    caution: 'both means the two limbs working at once, not the mean of left and right.',
    see: ['side', 'left', 'right', 'both', 'none'],
  },
  trial: {
    title: 'number of the attempt',
    definition:
      'Attempts of one measure, side and day, from 1. Without a trial column attempts count in their order in the sheet.',
    where: 'observations, recheck',
    see: ['trial', 'trials', 'repeated_row'],
  },
  tester: {
    title: 'who tested',
    definition: 'The tester that the sheet, its title lines, its file name or screening.yaml names.',
    where: 'observations',
    see: ['testers'],
  },
  device: {
    title: 'with what it was tested',
    definition: 'The device that the sheet, its title lines, its file name or screening.yaml names.',
    where: 'observations',
    caution: 'Two devices may read differently: a change between them is not a change of the athlete.',
  },
  station: {
    title: 'where it was tested',
    definition:
      'The station that the sheet, its title lines, its file name or screening.yaml names. In coverage: where the measure is tested, so that a make-up list can be made by station.',
    where: 'observations, coverage',
  },
  purpose: {
    title: 'why the test was done',
    definition: 'test, makeup, retest or return. It decides which occasion the reading belongs to.',
    where: 'observations',
    see: ['test', 'makeup', 'retest', 'return', 'occasion'],
  },
  sex: {
    title: 'F, M or as recorded',
    definition: 'The sex on the roster, else in the sheets. Rules and groups that are narrowed by sex use it.',
    where: 'athletes; roster',
    caution: 'Unknown sex: rules for one sex do not apply, and a z within sex stays empty.',
  },
  birth_date: {
    title: 'date of birth',
    definition: 'Taken over from the roster. No result is worked out from it.',
    where: 'athletes; roster',
  },
  entry_year: {
    title: 'year of entry',
    definition: 'The year in which the athlete came to the college, as on the roster.',
    where: 'athletes; roster',
  },
  from: {
    title: 'where team and sex come from',
    definition: 'roster or sheets: who said the team and the sex of this athlete in this season.',
    where: 'athletes',
  },
});

/** Columns that lead back to the cell in the sheet. */
const CELL = topicsOf('column', {
  unit: {
    title: 'UCUM unit of the numbers',
    definition:
      'In observations the unit of value; in recheck that of value, low and high; in results that of left, right, both, value, gap, difference and dominance_gap. It is the unit that the protocol keeps the measure in, whatever the sheet was written in.',
    where: 'observations, results, recheck',
    see: ['UCUM', 'written_in', 'unit'],
  },
  status: {
    title: 'what became of it',
    definition:
      'In observations: what became of the attempt, such as measured, pain or unable. In results: why a number is missing or to be read with care, several words joined with ;. In clearance.csv: what medical staff decided.',
    where: 'observations, results; clearance',
    see: ['measured', 'pain', 'missing_left'],
  },
  raw: {
    title: 'the cell as written',
    definition:
      'The text of the cell, unchanged. A leading apostrophe keeps a spreadsheet from running it as a formula; bilat takes it off again. In corrections.csv it is what the cell must still read for the correction to apply.',
    where: 'observations, rejects; corrections',
    caution: 'The cell of a name stays empty here unless names were asked for.',
  },
  file: {
    title: 'the sheet',
    definition: 'Path of the sheet, relative to the screening folder.',
    where: 'observations, rejects, ignored, ledger, recheck; corrections',
  },
  line: {
    title: 'physical line in the sheet',
    definition: 'The line in the file, from 1, as a text editor counts it; a line break inside quotes counts too.',
    where: 'observations, rejects, ignored, recheck; corrections',
    caution: 'A spreadsheet counts rows: behind a cell with a line break its number is smaller.',
  },
  column: {
    title: 'column in the sheet',
    definition: 'The column, from 1. Empty in rejects and ignored: the whole row or file is meant.',
    where: 'observations, rejects, ignored, recheck; corrections',
  },
  heading: {
    title: 'heading of the column',
    definition: 'The heading as the sheet writes it, so that you find the column again.',
    where: 'rejects, ignored',
    see: ['columns', 'headings'],
  },
  written_in: {
    title: 'unit the reading was written in',
    definition: 'UCUM code of the unit in the sheet; value is the same reading in unit.',
    where: 'observations',
    see: ['unit_from', 'kgf'],
  },
  unit_from: {
    title: 'where that unit was found',
    definition:
      'cell, unit_column, heading, screening (screening.yaml), written_in (stated in the protocol) or protocol (the unit of the measure itself; never for a force or a torque).',
    where: 'observations',
    caution: 'A unit that comes from screening or written_in holds for the whole column: make sure that it does.',
    see: ['written_in', 'kgf', 'lbf'],
  },
  code: {
    title: 'why it was not taken',
    definition: 'One word of a closed list. bilat explain CODE says what it means and what to do.',
    where: 'rejects',
    see: ['reject'],
  },
  message: {
    title: 'the same in words',
    definition:
      'One sentence. In rejects: what is wrong with the cell. In findings: the number, the limit, the measurement error and how far it can be trusted.',
    where: 'rejects, findings',
  },
  suggestion: {
    title: 'what to do',
    definition: 'In rejects: how to settle the cell. In recheck: what may have happened, and what to do.',
    where: 'rejects, recheck',
    caution: 'It is a suggestion: no value is ever changed by it.',
  },
  cells: {
    title: 'how many non-empty cells',
    definition:
      'In ledger: all non-empty cells of the sheet. In rejects and ignored: how many of them this row stands for; their sums are the rejected and the ignored of the ledger.',
    where: 'rejects, ignored, ledger',
    see: ['ledger'],
  },
  reason: {
    title: 'why',
    definition:
      'In ignored: why the cells were left aside. In plan: the findings behind the line in words, what is known of referral and work, and who is left out. In work.csv: why it was stopped.',
    where: 'ignored, plan; work',
    see: ['ignored cell'],
  },
  measured: {
    title: 'cells that became readings',
    definition: 'Cells of the sheet from which a number was read.',
    where: 'ledger',
    see: ['ledger'],
  },
  not_measured: {
    title: 'cells that say why there is no reading',
    definition: 'Cells such as NT, refused or unable: they became a status without a value.',
    where: 'ledger',
    see: ['ledger'],
  },
  context: {
    title: 'headings, ids, dates and the like',
    definition: 'Cells that say whose, when, which side or in which unit: needed, but no readings.',
    where: 'ledger',
    see: ['ledger'],
  },
  ignored: {
    title: 'cells left aside on purpose',
    definition: 'Cells such as titles, footnotes, averages and remarks. Each stands in ignored.csv with its reason.',
    where: 'ledger',
    see: ['ledger', 'ignored cell'],
  },
  rejected: {
    title: 'cells that could not be read',
    definition: 'Cells that became nothing, because nobody could say what they mean. Each stands in rejects.csv.',
    where: 'ledger',
    caution: 'A rejected cell is an athlete without that reading: look at each one.',
    see: ['ledger', 'reject'],
  },
});

/** Columns of results. */
const RESULTS = topicsOf('column', {
  left: {
    title: 'kept reading of the left side',
    definition: 'The one number that the trials of the left side come to, by keep in the protocol.',
    where: 'results',
    see: ['keep', 'trial'],
  },
  right: {
    title: 'kept reading of the right side',
    definition: 'The one number that the trials of the right side come to, by keep in the protocol.',
    where: 'results',
    see: ['keep', 'trial'],
  },
  both: {
    title: 'kept reading of both limbs at once',
    definition: 'The one number of a test with the two limbs working together, such as a two-legged press.',
    where: 'results',
    see: ['bilateral_index_pct'],
  },
  value: {
    title: 'the number',
    definition:
      'In observations and recheck: one reading, in unit. In results: the kept reading of a measure without sides. In findings: the number that broke the limit. In corrections.csv: what the cell should have said.',
    where: 'observations, results, findings, recheck; corrections',
    caution: 'Empty is unknown, never 0; status says why.',
    see: ['value', 'field'],
  },
  weaker: {
    title: 'the worse side',
    definition:
      'left or right: the lower side, or the higher one where lower is better. Empty where the sides are equal, where neither way is better, or where a side is missing.',
    where: 'results',
    caution: 'Which side is weaker often changes from one test day to the next when the difference is small.',
    see: ['better', 'deficit_pct'],
  },
  deficit_pct: {
    title: 'side-to-side deficit',
    definition:
      'How far the smaller of the two sides falls short of the larger, in percent of the larger. 25 and 20 give 20 %. It says nothing about which side; weaker does.',
    formula: '100*(max - min)/max',
    unit: '%, 0 to 100',
    where: 'results; findings by field',
    source: 'Strength Cond J 2016;38(6):27-32, doi 10.1519/SSC.0000000000000264',
    caution:
      'It is never below 0, so measurement error alone gives everybody one: at 5 % error a side a symmetric athlete averages 5.4 %.',
    see: ['deficit', 'limb symmetry index', 'direction_pct', 'within error'],
  },
  gap: {
    title: 'distance between the sides',
    definition: 'The difference between right and left without its sign, in the unit. 38 and 41 degrees give 3.',
    formula: '|right - left|',
    unit: 'that of the measure',
    where: 'results; findings by field',
    caution: 'Like a deficit it is never below 0: error alone makes a gap.',
    see: ['gap', 'difference', 'deficit versus gap'],
  },
  difference: {
    title: 'right minus left',
    definition: 'The difference with its sign, in the unit: positive if right is larger, whichever way is better.',
    formula: 'right - left',
    unit: 'that of the measure',
    where: 'results; findings by field',
    see: ['gap', 'direction_pct'],
  },
  direction_pct: {
    title: 'right minus left, in percent',
    definition:
      'The deficit with its sign: positive if right is larger, whichever way is better. Left 25 and right 20 give -20 %.',
    formula: '100*(right - left)/max',
    unit: '%, -100 to 100',
    where: 'results; findings by field',
    source: 'Strength Cond J 2016;38(6):27-32, doi 10.1519/SSC.0000000000000264',
    see: ['deficit_pct', 'dominance_pct'],
  },
  dominance_pct: {
    title: 'dominant minus other side, in percent',
    definition:
      'The same deficit with the sign of dominance: positive if the dominant side is larger. Dominant 25 and other 20 give 20 %.',
    formula: '100*(dominant - other)/max',
    unit: '%, -100 to 100',
    where: 'results; findings by field',
    source: 'Strength Cond J 2016;38(6):27-32, doi 10.1519/SSC.0000000000000264',
    caution: 'Empty where the roster does not say the dominant side; it is never taken to be the right.',
    see: ['dominant side', 'no_dominant_side'],
  },
  dominance_gap: {
    title: 'dominant minus other side',
    definition:
      'In the unit, with its sign: positive if the dominant side is larger. A throwing shoulder of 45 against 62 degrees gives -17.',
    formula: 'dominant - other',
    unit: 'that of the measure',
    where: 'results; findings by field',
    caution: 'Empty where the roster does not say the dominant side; it is never taken to be the right.',
    see: ['dominant side', 'no_dominant_side'],
  },
  symmetry_angle: {
    title: 'symmetry angle',
    definition:
      'How far the point (left, right) lies from the line of equal sides, as a share of a right angle: 0 is symmetric, positive if right is larger. Left 20 and right 25 give 7.04.',
    formula: '100*(45 - atan(left/right) in degrees)/90',
    unit: '%; -50 to 50 for readings that are not negative',
    where: 'results',
    source: 'Gait Posture 2008;27:622-627',
    caution: 'Its percent are not those of a deficit: a deficit of 20 % is an angle of 7.04 %. Do not mix the two.',
    see: ['symmetry angle', 'deficit_pct'],
  },
  bilateral_index_pct: {
    title: 'both limbs at once against the sum of each',
    definition:
      'Below zero: the two limbs together do less than the sum of each alone. Both 1000, left 530 and right 550 give -7.41 %.',
    formula: '100*both/(left + right) - 100',
    unit: '%',
    where: 'results',
    source: 'J Appl Physiol 1991;70:306-316',
    caution: 'Only where the test was done with both limbs at once as well, by the same protocol.',
    see: ['bilateral index', 'both'],
  },
  trials_left: {
    title: 'measured attempts on the left',
    definition:
      'How many attempts with a number the left side had; painful ones count, void ones do not, and a repeated row counts once.',
    where: 'results',
    see: ['unequal_trials', 'few_trials'],
  },
  trials_right: {
    title: 'measured attempts on the right',
    definition:
      'How many attempts with a number the right side had; painful ones count, void ones do not, and a repeated row counts once.',
    where: 'results',
    see: ['unequal_trials', 'few_trials'],
  },
  spread_left_pct: {
    title: 'spread of the left attempts',
    definition: 'How far the attempts of the left side lie apart, in percent of their mean. 32, 33 and 34 give 6.06 %.',
    formula: '100*(max - min)/mean',
    unit: '%',
    where: 'results',
    caution: 'It needs at least two attempts, none below 0 and not all 0; else it is empty.',
    see: ['spread', 'wide_spread'],
  },
  spread_right_pct: {
    title: 'spread of the right attempts',
    definition:
      'How far the attempts of the right side lie apart, in percent of their mean. 32, 33 and 34 give 6.06 %.',
    formula: '100*(max - min)/mean',
    unit: '%',
    where: 'results',
    caution: 'It needs at least two attempts, none below 0 and not all 0; else it is empty.',
    see: ['spread', 'wide_spread'],
  },
});

/** Columns of findings. */
const FINDINGS = topicsOf('column', {
  sport_group: {
    title: 'sport groups through which the rule applies',
    definition:
      'The sport groups of the athlete that hold the measure of the rule, joined with ;. Empty where the measure is one of everyone.',
    where: 'findings',
    see: ['sport group', 'everyone'],
  },
  rule: {
    title: 'the rule that is broken',
    definition:
      'Its name in protocol.yaml; or pain, unable or one_side, which every protocol has. bilat explain NAME shows its limit, source and strength of evidence.',
    where: 'findings, cohort; referrals',
    see: ['rule', 'built-in finding'],
  },
  field: {
    title: 'which number was judged',
    definition: 'The field of the result that the rule looks at, such as value, deficit_pct or gap.',
    where: 'findings; later trend, changes, agreement',
    see: ['field'],
  },
  limit: {
    title: 'the limit of the rule',
    definition: 'The number in the protocol that the value is beyond. Empty for findings on a status.',
    where: 'findings',
    caution: 'Most limits come from one study of one sport and sex, and predict little for one athlete.',
    see: ['rule', 'margin'],
  },
  margin: {
    title: 'distance beyond the limit',
    definition:
      'How far the value is beyond the limit, in its own unit, never negative. 0.72 under a limit of 0.80: 0.08.',
    formula: '|value - limit|',
    where: 'findings',
    see: ['error', 'certainty', 'within error'],
  },
  error: {
    title: 'measurement error',
    definition:
      'In findings: the 95 % measurement error of the value, in its unit. In changes: that of the change between two tests. A standard error of 6 N gives 11.76 N for a value, and 16.63 N for a change.',
    formula: 'findings: z95*sem; changes: z95*sqrt(sem(before)^2 + sem(after)^2); z95 = 1.959963985',
    where: 'findings; later changes',
    source: 'J Strength Cond Res 2005;19:231-240, doi 10.1519/15184.1',
    caution: 'It is as good as the study it comes from: another tester or device may do worse.',
    see: ['error', 'sem', 'mdc95', 'error_unknown', 'within error'],
  },
  error_basis: {
    title: 'declared or derived',
    definition:
      'declared: the protocol states the error of this very number. derived: it was worked out from the errors of what the number is made of.',
    where: 'findings',
    caution: 'A derived error takes the parts as independent.',
    see: ['declared', 'derived'],
  },
  certainty: {
    title: 'how the finding stands to the measurement error',
    definition: 'clear, within_error, error_unknown or not_applicable.',
    where: 'findings',
    see: ['clear', 'within_error', 'error_unknown', 'not_applicable', 'within error'],
  },
  grade: {
    title: 'how much it matters',
    definition: 'watch, act or refer, as the rule says. In plan: the highest of the findings behind the line.',
    where: 'findings, plan',
    see: ['watch', 'act', 'refer'],
  },
  previous_injury: {
    title: 'earlier injury of the same region',
    definition:
      'same_side, other_side or side_unknown: how an injury of the region of the rule, before the day of the test, lies to the finding. It is taken from injuries.csv and history.csv. Empty where none is known, and where the rule names no region.',
    where: 'findings',
    caution: 'Empty does not mean that there was none: ask the athlete.',
    see: ['same_side', 'other_side', 'side_unknown', 'region', 'history', 'priority'],
  },
  programme: {
    title: 'programme of the rule',
    definition: 'What the rule prescribes. bilat explain NAME shows the shared and the individual form.',
    where: 'findings, plan; work',
    see: ['programme'],
  },
  owner: {
    title: 'who leads the programme',
    definition:
      'strength or medical: the staff that the programme belongs to. In plan medical is the owner of what medical staff decide.',
    where: 'findings, plan',
    see: ['strength', 'medical'],
  },
});

/** Columns of every table that this version writes; longer texts than their titles. */
export const COLUMN_WORDS = [...WHO_AND_WHERE, ...CELL, ...RESULTS, ...FINDINGS];
