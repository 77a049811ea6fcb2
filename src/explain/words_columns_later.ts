import { topicsOf } from './topics_of.ts';

const TREND = {
  n: {
    title: 'how many athletes',
    definition: 'Athletes behind the numbers of the row. In agreement: athletes with all k readings.',
    where: 'trend, agreement',
  },
  mean: { title: 'mean of the season', definition: 'Arithmetic mean over the athletes of the group.', where: 'trend' },
  mean_low: {
    title: 'lower end of the mean',
    definition: 'Lower end of the 95 % t interval of the mean.',
    where: 'trend',
    caution: 'Whether the intervals of two seasons overlap is no test of a change.',
  },
  mean_high: {
    title: 'upper end of the mean',
    definition: 'Upper end of the 95 % t interval of the mean.',
    where: 'trend',
    caution: 'Whether the intervals of two seasons overlap is no test of a change.',
  },
  sd: {
    title: 'standard deviation',
    definition: 'How far the athletes lie apart: sample standard deviation, n - 1 below the line.',
    where: 'trend',
  },
  median: { title: 'median of the season', definition: 'Half of the athletes lie below it.', where: 'trend' },
  returners: {
    title: 'athletes with a value in both seasons',
    definition: 'Athletes of the group who have a value in this season and in the last one with data.',
    where: 'trend',
    caution: 'Fewer than 5 are too few to read.',
  },
  change: {
    title: 'change',
    definition:
      'In trend: mean change of the athletes who have a value in both seasons. In changes: after minus before of one athlete.',
    formula: 'after - before',
    where: 'trend, changes',
    caution: 'A change smaller than the measurement error cannot be told from it; that does not mean unchanged.',
    see: ['error', 'expected_after', 'newcomers_effect'],
  },
  change_low: {
    title: 'lower end of the change',
    definition: 'Lower end of the 95 % paired t interval of the change.',
    where: 'trend',
  },
  change_high: {
    title: 'upper end of the change',
    definition: 'Upper end of the 95 % paired t interval of the change.',
    where: 'trend',
  },
  newcomers_effect: {
    title: 'what newcomers did to the mean',
    definition:
      'How far the mean of the season differs from the mean of those who returned. With change and leavers_effect it adds up to the difference of the two means.',
    formula: 'mean2 - mean2(returners)',
    where: 'trend',
    caution: 'A newcomer is an athlete without a value in the other season: some were there and not tested.',
  },
  leavers_effect: {
    title: 'what leavers did to the mean',
    definition: 'How far the mean of those who returned differed from the mean of everybody, in the season before.',
    formula: 'mean1(returners) - mean1',
    where: 'trend',
    caution: 'A leaver is an athlete without a value in the other season: some were there and not tested.',
  },
};

const CHANGES = {
  from_season: { title: 'season before', definition: 'The season of the earlier test.', where: 'changes' },
  from_date: { title: 'day before', definition: 'First day of the earlier occasion.', where: 'changes' },
  to_season: { title: 'season after', definition: 'The season of the later test.', where: 'changes' },
  to_date: { title: 'day after', definition: 'First day of the later occasion.', where: 'changes' },
  before: { title: 'the earlier number', definition: 'The number at the earlier test.', where: 'changes' },
  after: { title: 'the later number', definition: 'The number at the later test.', where: 'changes' },
  verdict: {
    title: 'what can be said of the change',
    definition: 'better, worse, within_error, side_changed, changed, not_comparable or error_unknown.',
    where: 'changes',
    see: ['better', 'within_error', 'not_comparable'],
  },
  expected_after: {
    title: 'what a retest alone would read',
    definition:
      'Where the second reading would be expected if nothing happened: extreme readings fall back towards the mean. With a mean of 200, rho 0.84 and 170 before it is 174.8. A deficit is followed with its sign, as direction_pct, and folded back.',
    formula:
      'mu + rho*(before - mu), rho = max(0, 1 - sem^2/SD^2); deficit_pct: with m = mu + rho*(d - mu) of direction_pct and s = sem*sqrt(1 + rho), s*sqrt(2/pi)*exp(-m^2/(2*s^2)) + m*(1 - 2*Phi(-m/s))',
    unit: 'that of the field',
    where: 'changes',
    source: 'Int J Epidemiol 2005;34:215-220, doi 10.1093/ije/dyh299',
    caution: 'It needs 20 athletes of the same sex and side in the season before, and a known error; else it is empty.',
    see: ['regression to the mean'],
  },
  expected_low: {
    title: 'lower end of the expected reading',
    definition:
      'Nineteen of twenty retests of athletes in whom nothing happened lie above this and below expected_high.',
    formula: 'expected_after - z95*sem*sqrt(1 + rho)',
    where: 'changes',
    see: ['expected_after'],
  },
  expected_high: {
    title: 'upper end of the expected reading',
    definition:
      'Nineteen of twenty retests of athletes in whom nothing happened lie below this and above expected_low.',
    formula: 'expected_after + z95*sem*sqrt(1 + rho)',
    where: 'changes',
    see: ['expected_after'],
  },
  beyond_expected: {
    title: 'farther than a retest alone explains',
    definition: 'Whether the later number lies outside expected_low to expected_high.',
    formula: '|after - expected_after| > z95*sem*sqrt(1 + rho)',
    where: 'changes',
    caution: 'It does not say why: age, tester, device and season change numbers too.',
    see: ['expected_after'],
  },
};

const AGREEMENT_AND_CUTOFF = {
  over: {
    title: 'what was repeated',
    definition: 'trials, occasions or testers.',
    where: 'agreement',
    see: ['trials', 'occasions', 'testers'],
  },
  statistic: {
    title: 'which statistic',
    definition: 'Its name; bilat explain NAME says what it is.',
    where: 'agreement, cutoff',
  },
  estimate: {
    title: 'the number',
    definition: 'The statistic as worked out from the data. Empty where it cannot be worked out; never 0 in its place.',
    where: 'agreement, cutoff',
  },
  method: {
    title: 'how the interval was made',
    definition:
      'wilson, exact, log, delong, logit or bootstrap in cutoff; the first row of a statistic is the headline.',
    where: 'agreement, cutoff',
    see: ['wilson', 'exact', 'log', 'delong', 'logit', 'bootstrap'],
  },
  k: {
    title: 'how many readings an athlete',
    definition: 'Trials, occasions or testers of each athlete; only athletes with all k are used.',
    where: 'agreement',
  },
  note: {
    title: 'what must be said with it',
    definition: 'Such as a half added to every cell, or why a number cannot be worked out.',
    where: 'cutoff',
  },
  cutoff: { title: 'the cut', definition: 'A value that occurs in the data, tried as limit.', where: 'curve' },
  comparator: {
    title: 'which side of the cut is flagged',
    definition: 'below, at_most, above or at_least. The direction is stated, never picked from the data.',
    where: 'curve',
    see: ['below', 'at_most', 'above', 'at_least'],
  },
  tp: {
    title: 'flagged and injured',
    definition: 'Athletes or limbs beyond the cut who were injured.',
    where: 'curve',
  },
  fp: { title: 'flagged, not injured', definition: 'Athletes or limbs beyond the cut who were not.', where: 'curve' },
  fn: {
    title: 'not flagged, injured',
    definition: 'Athletes or limbs within the cut who were injured.',
    where: 'curve',
  },
  tn: {
    title: 'not flagged, not injured',
    definition: 'Athletes or limbs within the cut who were not.',
    where: 'curve',
  },
  sensitivity: {
    title: 'share of the injured who were flagged',
    definition: 'At this cut, in this log.',
    formula: 'tp/(tp + fn)',
    where: 'curve',
    see: ['sensitivity'],
  },
  specificity: {
    title: 'share of the uninjured who were not flagged',
    definition: 'At this cut, in this log.',
    formula: 'tn/(tn + fp)',
    where: 'curve',
    see: ['specificity'],
  },
  youden: {
    title: 'sensitivity and specificity less 1',
    definition: 'At this cut, in this log.',
    formula: 'sensitivity + specificity - 1',
    where: 'curve',
    caution: 'The highest of a curve is too high: it was picked on these very athletes.',
    see: ['youden', 'youden_reduced'],
  },
};

const INCIDENCE = {
  injuries: {
    title: 'how many injuries',
    definition: 'Injuries of the group in seasons and teams with known exposures; an athlete may have several.',
    where: 'incidence',
  },
  exposures: {
    title: 'athlete-exposures',
    definition: 'How often athletes of the group took part in a practice or game.',
    where: 'incidence',
    see: ['athlete-exposure'],
  },
  rate: {
    title: 'injuries in 1000 athlete-exposures',
    definition: '2821 injuries in 331678 exposures are 8.51 in 1000.',
    formula: '1000*injuries/exposures',
    unit: 'injuries per 1000 athlete-exposures',
    where: 'incidence',
    source: 'J Athl Train 2006;41:207-215',
    caution: 'Rates by different definitions of an injury cannot be compared.',
    see: ['rate', 'athlete-exposure'],
  },
  rate_low: {
    title: 'lower end of the rate',
    definition: 'Lower end of the exact 95 % Poisson interval of the rate.',
    where: 'incidence',
    see: ['exact'],
  },
  rate_high: {
    title: 'upper end of the rate',
    definition: 'Upper end of the exact 95 % Poisson interval of the rate.',
    where: 'incidence',
    see: ['exact'],
  },
  burden: {
    title: 'days lost in 1000 athlete-exposures',
    definition: 'How much time injuries cost: 420 days lost in 10000 exposures are 42 days in 1000.',
    formula: '1000*days_lost/exposures',
    unit: 'days per 1000 athlete-exposures',
    where: 'incidence',
    source: 'Br J Sports Med 2020;54:372-389, doi 10.1136/bjsports-2019-101969',
    caution: 'Injuries whose days lost are unknown add nothing to it.',
    see: ['burden', 'days_lost'],
  },
};

/** Columns that stand only in tables that this version does not write yet. */
export const LATER_COLUMN_WORDS = topicsOf(
  'column',
  { ...TREND, ...CHANGES, ...AGREEMENT_AND_CUTOFF, ...INCIDENCE },
  { later: true },
);
