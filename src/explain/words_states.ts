import { topicsOf } from './topics_of.ts';

const STATUSES = topicsOf('status', {
  measured: {
    title: 'a reading',
    definition: 'The attempt was done and has a value.',
    where: 'observations',
  },
  pain: {
    title: 'pain during the test',
    definition:
      'The athlete had pain. A painful reading keeps its value and counts; pain without a number has none. In results: pain in a measure without sides, or of both limbs at once.',
    where: 'observations, results',
    caution:
      'A painful reading may be lower than the athlete can do. Pain is for medical staff, whatever the number says.',
    also: ['P', 'painful'],
    see: ['pain_left', 'pain_right', 'refer', 'built-in finding'],
  },
  unable: {
    title: 'tried and could not do it',
    definition:
      'The athlete tried and could not do the test: unable, DNF, DNP, CNT or UTT in a cell. There is no value; it is never counted as 0. It is a finding of its own.',
    where: 'observations, results',
    also: ['DNF', 'DNP', 'CNT', 'UTT', 'cannot'],
    see: ['act', 'built-in finding'],
  },
  refused: {
    title: 'did not want to',
    definition: 'The athlete declined the test. There is no value, and no finding comes from it.',
    where: 'observations, results',
    also: ['REF', 'declined'],
  },
  not_tested: {
    title: 'the test was not done',
    definition:
      'The sheet says that the test was not done, as with NT, DNT, NA, absent or a dash; or none of the attempts counted. The test is still to come.',
    where: 'observations, results',
    also: ['NT', 'DNT', 'NA', 'ABS', 'absent', 'no show'],
    caution: 'It is not the same as nothing found: that athlete is not screened.',
  },
  held: {
    title: 'medical said not to',
    definition: 'The athlete was kept from the test by medical staff or by an injury, as with hold, inj or out.',
    where: 'observations, results',
    also: ['medical hold', 'INJ', 'injured'],
    caution: 'Do not catch up on it before medical staff agree.',
    see: ['hold', 'availability', 'clearance'],
  },
  not_applicable: {
    title: 'the test is not for this athlete',
    definition:
      'The sheet says N/A: this test does not apply to the athlete. It is not missing, and nothing is to come.',
    where: 'observations',
    caution:
      'N/A is read as not applicable, NA as not tested: if your sheets mean something else by them, change the cells.',
    also: ['N/A'],
    see: ['not_tested'],
  },
  void: {
    title: 'an attempt that does not count',
    definition: 'A foul, a fault or a scratch: the attempt was made, does not count and has no value.',
    where: 'observations',
    also: ['foul', 'scratch', 'DQ', 'not counted'],
    see: ['void'],
  },
  missing_left: {
    title: 'no reading of the left side',
    definition:
      'Nothing can be kept for the left side, so the sides cannot be compared: deficit, gap and the like stay empty.',
    where: 'results',
    caution: 'No deficit is not a deficit of 0. Test the side before you judge.',
    see: ['one_side'],
  },
  missing_right: {
    title: 'no reading of the right side',
    definition:
      'Nothing can be kept for the right side, so the sides cannot be compared: deficit, gap and the like stay empty.',
    where: 'results',
    caution: 'No deficit is not a deficit of 0. Test the side before you judge.',
    see: ['one_side'],
  },
  missing_part: {
    title: 'a part is missing',
    definition:
      'The derived measure could not be worked out, or only on one side, because something it is made of was not read or cannot divide (is 0).',
    where: 'results',
    see: ['derived measure', 'partial_total'],
  },
  few_trials: {
    title: 'fewer trials than expected',
    definition:
      'A side has fewer measured attempts than expect of the protocol. The number stands on less than it should.',
    where: 'results',
    see: ['trial', 'expect'],
  },
  unequal_trials: {
    title: 'more trials on one side',
    definition:
      'The best attempt is kept and one side had more attempts to be good in. With 3 attempts against 1 and 5 % error a trial, 15.8 % instead of 3.8 % of symmetric athletes read a deficit beyond 10 %.',
    where: 'results',
    caution:
      'A comparison of the sides with it is never clear: give both sides the same number of trials and look again.',
    see: ['within_error', 'best', 'trials_left'],
  },
  wide_spread: {
    title: 'the trials lie far apart',
    definition:
      'The attempts of a side differ by more than spread_pct of the protocol. One of them may be off: take another.',
    where: 'results',
    see: ['spread', 'spread_left_pct'],
  },
  pain_left: {
    title: 'pain on the left',
    definition: 'At least one attempt of the left side was painful. The reading counts, and the pain is a finding.',
    where: 'results',
    caution: 'A side that hurts may read weak because it hurts: a deficit is then not about strength.',
    see: ['pain'],
  },
  pain_right: {
    title: 'pain on the right',
    definition: 'At least one attempt of the right side was painful. The reading counts, and the pain is a finding.',
    where: 'results',
    caution: 'A side that hurts may read weak because it hurts: a deficit is then not about strength.',
    see: ['pain'],
  },
  no_dominant_side: {
    title: 'the dominant side is not known',
    definition:
      'The measure names a dominance column and the roster has no left or right there, so dominance_pct and dominance_gap stay empty.',
    where: 'results',
    see: ['dominant side', 'dominance'],
  },
  not_positive: {
    title: 'percent make no sense here',
    definition:
      'A side is below 0, or both are 0: no percent can be taken of it, so deficit_pct and its like stay empty. The gap stands.',
    where: 'results',
    caution: 'Angles that pass zero are better compared with compare: gap.',
    see: ['deficit versus gap', 'compare'],
  },
  partial_total: {
    title: 'worked out from some of the parts',
    definition:
      'A part of the total or of the mean of z is missing, and needs: in the protocol lets it be worked out all the same.',
    where: 'results',
    caution: 'Do not compare it with a total of all parts.',
    see: ['total', 'z_mean', 'needs'],
  },
  small_group: {
    title: 'too few athletes to compare with',
    definition:
      'The group has fewer athletes than min_group (or than 10), they all read the same, or what the group is made by (sex, say) is not known for the athlete. No z is worked out.',
    where: 'results',
    see: ['z', 'z_mean', 'min_group'],
  },
  repeated_row: {
    title: 'the same reading stands twice',
    definition: 'The same day, trial number, value and status came twice. It counts once.',
    where: 'results',
    caution: 'Often a sheet was handed in twice or a row copied: look whether another reading was meant.',
  },
  later_days: {
    title: 'measured on a later day of the occasion',
    definition: 'Some attempts are from a later day than the first day of the occasion; date gives the first.',
    where: 'results',
    see: ['occasion'],
  },
});

const CERTAINTIES = topicsOf(
  'certainty',
  {
    clear: {
      title: 'beyond the limit by more than the measurement error',
      definition:
        'The margin is at least as large as the 95 % measurement error. The athlete is beyond the limit as far as the test can tell.',
      formula: 'margin >= error',
      caution: 'Clear is about the reading alone: it does not say that the athlete will be injured.',
      see: ['margin', 'error'],
    },
    within_error: {
      title: 'not distinguishable from the limit',
      definition:
        'The margin is smaller than the 95 % measurement error; or the sides are compared, the best attempt is kept and one side had more trials than the other. Repeat the test before acting on it.',
      formula: 'margin < error',
      caution: 'A grade of refer stands all the same. Within the error does not mean that all is well.',
      see: ['within error', 'margin', 'error', 'unequal_trials'],
    },
    error_unknown: {
      title: 'nobody knows how exact the reading is',
      definition:
        'The protocol states no measurement error for what the number is made of, so nobody can say how far the finding can be trusted. State one in protocol.yaml under error:.',
      see: ['error', 'sem'],
    },
    not_applicable: {
      title: 'there is no number to doubt',
      definition: 'The finding is on a status such as pain or unable: there is no number, so there is no error of it.',
      see: ['built-in finding'],
    },
  },
  { where: 'findings' },
);

const GRADES = topicsOf(
  'grade',
  {
    watch: {
      title: 'keep an eye on it',
      definition:
        'The lowest grade: look again at the next test, and bear it in mind when the athlete trains. By itself it brings no line of the plan.',
    },
    act: {
      title: 'do something about it',
      definition:
        'The middle grade: the athlete gets the programme of the rule. If it is within_error, repeat the test first.',
      see: ['within_error', 'programme'],
    },
    refer: {
      title: 'send to medical staff',
      definition: 'The highest grade: medical staff see the athlete. The summary of run names these athletes first.',
      caution:
        'A refer is never softened by measurement error, and never taken off by a later reading: a clinician decides.',
      see: ['urgency', 'referral', 'rule', 'grade'],
    },
  },
  { where: 'findings, plan', see: ['rule', 'grade'] },
);

const VERDICTS = topicsOf(
  'verdict',
  {
    better: {
      title: 'better by more than the measurement error',
      definition: 'The change is larger than its 95 % measurement error, in the direction that is better.',
      caution: 'Beyond the error is not because of the programme: see what retesting alone would do.',
      see: ['expected_after', 'mdc95'],
    },
    worse: {
      title: 'worse by more than the measurement error',
      definition: 'The change is larger than its 95 % measurement error, in the direction that is worse.',
      see: ['expected_after', 'mdc95'],
    },
    within_error: {
      title: 'cannot be told from measurement error',
      definition: 'The change is smaller than its 95 % measurement error.',
      caution: 'It does not mean unchanged: a real change may be hidden in the error.',
      see: ['mdc95'],
    },
    side_changed: {
      title: 'the other side is the weaker one now',
      definition: 'The sign of the difference turned between the tests, so the two deficits are of two sides.',
      caution: 'A deficit of 12 % then and now may be two different deficits.',
      see: ['direction_pct'],
    },
    changed: {
      title: 'changed, and neither way is better',
      definition: 'The change is larger than its error, and the protocol says better: between.',
      see: ['between'],
    },
    not_comparable: {
      title: 'the two numbers are of different tests',
      definition: 'Another dimension, way of keeping trials, device or declared position: a change would mean nothing.',
    },
    error_unknown: {
      title: 'nobody knows how exact the numbers are',
      definition: 'No measurement error is known, so nobody can say whether the change is more than error.',
      see: ['error'],
    },
  },
  { where: 'changes', later: true },
);

/** Words of the closed lists of observations, results, findings and changes that say how something stands. */
export const STATE_WORDS = [...STATUSES, ...CERTAINTIES, ...GRADES, ...VERDICTS];
