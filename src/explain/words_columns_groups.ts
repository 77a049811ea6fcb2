import { topicsOf } from './topics_of.ts';

const RECHECK = {
  kind: {
    title: 'why it is suspect, or what kind of session',
    definition:
      'In recheck: what the reading looks like, such as digit_slip or sides_swapped; one reading has one line. In exposures.csv: practice, game or what else the exposures were.',
    where: 'recheck; exposures',
    see: ['unit_slip', 'digit_slip', 'sides_swapped', 'outlier'],
  },
  score: {
    title: 'how far the reading stands out',
    definition:
      'Of an outlier it is the robust z: 62 where the median is 40 and the MAD 4 has 3.71. Of a likely entry error it is how far the reading lies from what was expected, in robust standard deviations. Empty where nobody can say.',
    where: 'recheck',
    caution: 'Compare scores of one kind only: each kind has its own.',
    see: ['robust z'],
  },
  low: {
    title: 'least that was expected',
    definition:
      'In recheck: a reading from low to high would not have been asked about. In agreement and cutoff: the lower end of the 95 % interval of the estimate.',
    where: 'recheck; later agreement, cutoff',
    see: ['high', 'plausible', 'robust z', 'confidence interval'],
  },
  high: {
    title: 'most that was expected',
    definition:
      'In recheck: a reading from low to high would not have been asked about. In agreement and cutoff: the upper end of the 95 % interval of the estimate.',
    where: 'recheck; later agreement, cutoff',
    see: ['low', 'plausible', 'robust z', 'confidence interval'],
  },
};

const COHORT = {
  group_kind: {
    title: 'what kind of group',
    definition: 'all, team, sport_group or sex.',
    where: 'cohort; later trend, incidence',
    caution: 'An athlete counts once in all, in the sex and in each sport group, and once in each team.',
    see: ['all', 'team', 'sport group', 'sex'],
  },
  group: {
    title: 'the group',
    definition:
      'Name of the team or sport group, or the sex; for all athletes together it is empty. In plan: the team that does the shared work.',
    where: 'cohort, plan; later trend, incidence',
  },
  eligible: {
    title: 'athletes to whom the rule applies',
    definition:
      'Distinct athletes of the group whose battery holds the measure and who meet what the rule is narrowed to, tested or not. For pain, unable and one_side: everybody. With several seasons together an athlete counts in each.',
    where: 'cohort',
    see: ['tested', 'missing', 'battery'],
  },
  tested: {
    title: 'athletes who could be judged',
    definition:
      'Eligible athletes with every side and part that the rule needs, by the first occasion of the season that has them, unless --occasion last is asked for. For rules on a status: everybody with any status but not_tested, missing or void.',
    where: 'the summary of run; cohort',
    see: ['eligible', 'flagged_partial', 'missing'],
  },
  flagged: {
    title: 'tested athletes beyond the limit',
    definition: 'How many of the tested athletes break the rule. In trend: how many of the season do.',
    where: 'cohort; later trend',
    see: ['tested', 'share', 'flagged_partial'],
  },
  flagged_partial: {
    title: 'half-measured athletes with a finding',
    definition:
      'Athletes who break the rule on what was measured and lack a side or part. They are neither in flagged nor in the share.',
    where: 'cohort',
    caution: 'They have a finding all the same, and stand in the plan.',
    see: ['flagged', 'tested', 'partial'],
  },
  pain: {
    title: 'athletes with pain',
    definition: 'Eligible athletes who had pain during a test that the rule needs; tested or not.',
    where: 'cohort',
    caution: 'Pain can make a side read weak: with many in pain the share is about pain too.',
    see: ['pain'],
  },
  unable: {
    title: 'athletes who could not do it',
    definition: 'Eligible athletes who tried a test that the rule needs and could not do it.',
    where: 'cohort',
    caution: 'They are mostly among the missing, and may be the weakest of the group.',
    see: ['unable', 'missing'],
  },
  missing: {
    title: 'eligible athletes who were not tested',
    definition:
      'Eligible less tested: no reading, or not every side and part that the rule needs. 5 of 25 eligible athletes missing leave 20 tested.',
    formula: 'eligible - tested',
    where: 'cohort',
    caution: 'With many of them the share says little about the group: look at the bounds.',
    see: ['bounds', 'missing', 'make-up list'],
  },
  share: {
    title: 'share of the tested who are beyond the limit',
    definition:
      'In cohort from 0 to 1: 7 of 20 is 0.35. In the summary of run in percent, rounded: athletes beyond the limit of those tested; 7 of 20 is 35 %.',
    formula: 'cohort: flagged/tested; summary: 100*beyond/tested',
    unit: '0 to 1 in cohort; % in the summary',
    where: 'cohort; the summary of run',
    caution: 'Of few athletes it says little: one more of four is 25 points. Who was not tested is not in it.',
    see: ['beyond', 'tested', 'share_low', 'wilson', 'bounds', 'sharing'],
  },
  share_low: {
    title: 'lower end of the share',
    definition: 'Lower end of the 95 % Wilson interval of the share. 7 of 20: 0.181.',
    unit: '0 to 1',
    where: 'cohort',
    see: ['share', 'wilson', 'clustered interval'],
  },
  share_high: {
    title: 'upper end of the share',
    definition: 'Upper end of the 95 % Wilson interval of the share. 7 of 20: 0.567.',
    unit: '0 to 1',
    where: 'cohort',
    see: ['share', 'wilson', 'clustered interval'],
  },
  worse_left: {
    title: 'flagged on the left side only',
    definition:
      'How many of the flagged athletes break the rule on the left and not on the right. Who breaks it on both sides, or by a number without a side, is in neither column.',
    where: 'cohort',
    see: ['worse_right', 'flagged'],
  },
  worse_right: {
    title: 'flagged on the right side only',
    definition:
      'How many of the flagged athletes break the rule on the right and not on the left. Who breaks it on both sides, or by a number without a side, is in neither column.',
    where: 'cohort',
    see: ['worse_left', 'flagged'],
  },
  others_tested: {
    title: 'tested athletes outside the group',
    definition:
      'Athletes who are eligible for the same rule, tested, and not in the group; for sex the other recorded sex. Empty for all.',
    where: 'cohort',
    see: ['ratio'],
  },
  others_flagged: {
    title: 'flagged athletes outside the group',
    definition: 'How many of the tested athletes outside the group break the rule. Empty for all.',
    where: 'cohort',
    see: ['ratio'],
  },
  ratio: {
    title: 'the group against the others',
    definition:
      'In cohort: the share of the group divided by the share of the others; 9 of 20 against 14 of 80 is 2.57. In incidence: the injury rate of the group divided by that of the others.',
    formula:
      'cohort: (flagged/tested)/(others_flagged/others_tested), 0.5 added to all four cells if one is 0; incidence: rate/rate of the others',
    where: 'cohort; later incidence',
    caution: 'One of many comparisons: about one in twenty intervals leaves out 1 by chance alone.',
    see: ['relative risk', 'expected by chance', 'rate ratio', 'log'],
  },
  ratio_low: {
    title: 'lower end of the ratio',
    definition:
      'Lower end of the 95 % interval of the ratio. 9 of 20 against 14 of 80: 1.30. Empty where nobody or everybody is flagged on both sides of the comparison.',
    where: 'cohort; later incidence',
    see: ['relative risk', 'log', 'exact'],
  },
  ratio_high: {
    title: 'upper end of the ratio',
    definition:
      'Upper end of the 95 % interval of the ratio. 9 of 20 against 14 of 80: 5.07. Empty where nobody or everybody is flagged on both sides of the comparison.',
    where: 'cohort; later incidence',
    see: ['relative risk', 'log', 'exact'],
  },
  decision: {
    title: 'what the group does',
    definition:
      'shared: the group does the programme together. individual: each athlete with the finding does it alone. too_few: fewer than min_tested were tested. Empty where several seasons stand together.',
    where: 'cohort',
    see: ['shared', 'individual', 'too_few', 'sharing'],
  },
};

const PLAN = {
  priority: {
    title: 'order of the work list',
    definition:
      'From 1, in the order in which to act: athletes whom medical staff see, the more urgent and then the farther beyond the limit; athletes on hold; work of whole teams, with whom it leaves out; then repeats and work of single athletes. Among athletes alike count an earlier injury of the same side, a clear act, the number of findings in the region, and the margin over the measurement error.',
    where: 'plan',
    caution: 'It orders work; it is no measure of how likely an injury is. A filter leaves the numbers as they are.',
    also: ['who comes first', 'what comes first', 'order of the plan', 'most urgent'],
    see: ['urgency', 'same_side', 'clear', 'margin', 'scope'],
  },
  scope: {
    title: 'what kind of line it is',
    definition: 'refer, hold, repeat, shared, left_out or individual.',
    where: 'plan',
    see: ['refer', 'hold', 'repeat', 'shared', 'left_out', 'individual'],
  },
  rules: {
    title: 'the rules behind it',
    definition: 'The broken rules that lead to this line, joined with ;. Each finding stands behind one line only.',
    where: 'plan',
    see: ['rule', 'finding'],
  },
  instruction: {
    title: 'what to do',
    definition:
      'Whom the athlete is to see and when, to hold, to repeat the test, or the shared or the individual form of the programme.',
    where: 'plan',
    see: ['scope', 'programme', 'within error'],
  },
  start: {
    title: 'first day of the work',
    definition:
      'The day that the plan is looked at from; where work.csv says that the work has begun since the finding, that day.',
    where: 'plan',
    see: ['started', 'work'],
  },
  retest_by: {
    title: 'day by which to test again',
    definition:
      'Start of the work plus retest_days of its programme: begun on 2026-08-20 with 42 days it is 2026-10-01. In coverage, where work.csv knows of no work, the days count from the finding.',
    formula: 'start + retest_days',
    where: 'plan, coverage',
    see: ['retest_days', 'retest_due', 'start'],
  },
};

const COVERAGE = {
  state: {
    title: 'what became of a measure of an athlete',
    definition:
      'done, partial, pain, unable, refused, held, not_tested, missing or retest_due. Where several would fit, pain wins, then done, held (by medical staff or by the sheet), unable, refused, partial, not_tested.',
    where: 'coverage',
    caution: 'Done says that there are readings, not that they are good ones: see recheck and findings.',
    see: ['done', 'partial', 'held', 'missing', 'retest_due'],
  },
};

/** Columns of recheck, cohort, plan and coverage that stand in no table before them. */
export const GROUP_COLUMN_WORDS = topicsOf('column', { ...RECHECK, ...COHORT, ...PLAN, ...COVERAGE });
