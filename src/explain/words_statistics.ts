import { topicsOf } from './topics_of.ts';
import { CUTOFF_WORDS } from './words_cutoff.ts';
import { GROUP_STATISTIC_WORDS } from './words_group_statistics.ts';
import { METHOD_WORDS } from './words_methods.ts';

const EQUATIONS = 'Strength Cond J 2016;38(6):27-32, doi 10.1519/SSC.0000000000000264';
const RELIABILITY = 'J Strength Cond Res 2005;19:231-240, doi 10.1519/15184.1';
const CORRELATION = 'Psychol Bull 1979;86:420-428';
/** Mean squares of a two-way table, behind each formula of an intraclass correlation. */
const SQUARES =
  'mean squares MSR of athletes, MSW within athletes, MSC of testers or days, MSE of the rest; n athletes, k readings';
const WEIGHTED = 'Psychol Bull 1968;70:213-220';

const SIDE_TO_SIDE = topicsOf('statistic', {
  deficit: {
    title: 'side-to-side deficit',
    definition: '100 minus the limb symmetry index, always against the larger side. 25 and 20 give 20 %.',
    formula: '100*(max - min)/max',
    unit: '%, 0 to 100',
    source: EQUATIONS,
    caution:
      'Other indices of the same two numbers are 11.11, 22.22 or 25 %: never compare a deficit with a limit for another index.',
    also: ['side-to-side deficit', 'percent deficit', 'percent difference'],
    see: ['deficit_pct', 'limb symmetry index', 'asymmetry', 'deficit versus gap'],
  },
  'limb symmetry index': {
    title: 'smaller side in percent of the larger',
    definition:
      '100 minus the deficit: 100 is symmetric. 25 and 20 give 80 %. bilat writes the deficit, not the index.',
    formula: '100 - deficit_pct = 100*min/max',
    unit: '%, 0 to 100',
    source: EQUATIONS,
    caution:
      'Elsewhere it is often the involved against the other side, or the other against the dominant one, and can exceed 100: look which.',
    also: ['LSI', 'symmetry index'],
    see: ['deficit_pct'],
  },
  'symmetry angle': {
    title: 'angle between the two sides and equality',
    definition:
      'No side has to be named as reference. Left 20 and right 25 give 7.04, left 25 and right 20 give -7.04.',
    formula: '100*(45 - atan(left/right) in degrees)/90',
    unit: '%; 0 is symmetric, positive if right is larger',
    source: 'Gait Posture 2008;27:622-627',
    caution: 'It is about a third of the deficit in percent: 7.04 for a deficit of 20 %.',
    see: ['deficit'],
  },
  'bilateral index': {
    title: 'two limbs at once against the sum of each',
    definition: 'Below zero is a bilateral deficit. Both 1000, left 530 and right 550 give -7.41 %.',
    formula: '100*both/(left + right) - 100',
    unit: '%',
    source: 'J Appl Physiol 1991;70:306-316',
    caution: 'It says nothing of the difference between the sides.',
    also: ['bilateral deficit'],
    see: ['bilateral_index_pct'],
  },
  gap: {
    title: 'side-to-side gap',
    definition: 'The two sides subtracted, without a sign, in the unit. 38 and 41 degrees give 3.',
    formula: '|right - left|',
    unit: 'that of the measure',
    source: 'common practice',
    see: ['gap', 'deficit versus gap'],
  },
  spread: {
    title: 'spread of the trials of one side',
    definition: 'How far attempts lie apart, in percent of their mean. 32, 33 and 34 give 6.06 %.',
    formula: '100*(max - min)/mean',
    unit: '%',
    source: 'common practice',
    caution: 'More attempts have a larger spread by chance alone.',
    see: ['wide_spread', 'spread_pct'],
  },
});

const ERRORS = topicsOf('statistic', {
  sem: {
    title: 'standard error of measurement',
    definition:
      'How much the kept score of one athlete varies over repeat occasions when nothing has changed: its standard deviation. Two of three readings lie within one of it from what the athlete usually reads. Eight athletes lifting twice gave 7.56 kg.',
    formula: `mdc/(z*sqrt(2)); from trials sqrt(MSE); from testers or occasions sqrt(MSE + max(0, (MSC - MSE)/n)); every athlete other testers sqrt(MSW); ${SQUARES}`,
    unit: 'that of the measure, or % of the reading',
    source: RELIABILITY,
    caution: 'It holds for the testers, devices and athletes it was found on.',
    also: ['standard error of measurement', 'SEM'],
    see: ['mdc', 'error', 'basis'],
  },
  mdc: {
    title: 'minimal detectable change',
    definition:
      'The smallest change between two tests of one athlete that is more than measurement error, at a stated confidence. bilat uses 95 %.',
    formula: 'z*sqrt(2)*sem',
    unit: 'that of the measure, or % of the reading',
    source: RELIABILITY,
    caution: 'Say which: at 90 % it is smaller than at 95 %. Detectable is not the same as important.',
    also: ['MDC', 'minimal detectable change', 'minimum detectable change', 'smallest detectable change'],
    see: ['mdc90', 'mdc95', 'sem'],
  },
  mdc90: {
    title: 'minimal detectable change at 90 %',
    definition:
      'Nine of ten athletes in whom nothing changed differ by less between two tests. A standard error of 7.56 gives 17.59.',
    formula: '1.644854*sqrt(2)*sem',
    unit: 'that of the measure',
    source: RELIABILITY,
    caution: 'Figures published in the 1990s used 1.64, which is a little less.',
    see: ['mdc95', 'sem'],
  },
  mdc95: {
    title: 'minimal detectable change at 95 %',
    definition:
      'Nineteen of twenty athletes in whom nothing changed differ by less between two tests. A standard error of 7.56 gives 20.95.',
    formula: '1.959963985*sqrt(2)*sem',
    unit: 'that of the measure',
    source: RELIABILITY,
    caution:
      'It is for a change between two tests; for one value against a limit the error is smaller, without the root of 2.',
    see: ['mdc90', 'sem', 'error'],
  },
});

const Z = topicsOf('statistic', {
  z: {
    title: 'how many standard deviations from the mean of the group',
    definition:
      'The group is the season and what within: names; each athlete counts once, with the first value, the athlete too who is judged. It takes at least 10 of them, or min_group. 70 where the mean is 60 and the SD 8 gives 1.25.',
    formula: '(x - mean)/SD, sample SD; |z| <= (n - 1)/sqrt(n)',
    unit: '1; the sign is that of the value',
    source: 'common practice',
    caution:
      'It compares with those who were tested, not with what is healthy. In a weak team an athlete who is just as weak has a z of 0.',
    see: ['z_mean', 'small_group', 'within'],
  },
  'confidence interval': {
    title: '95 % interval of an estimate',
    definition:
      'How far chance alone may have moved an estimate: intervals made in this way hold the true number in 19 of 20 studies. Columns that end in _low and _high are its ends.',
    source: 'common practice',
    caution: 'It knows of chance only, not of a wrong unit, a tester who reads low, or athletes who did not come.',
    also: ['CI', 'interval'],
    see: ['wilson', 'clustered interval', 'exact', 'bootstrap'],
  },
});

const SEASONS = topicsOf(
  'statistic',
  {
    'regression to the mean': {
      title: 'extreme readings fall back by themselves',
      definition:
        'Athletes who read worst at one test read better at the next without any work, the more so the larger the error. With a mean of 200, rho 0.84 and 170 before, 174.8 is expected.',
      formula: 'expected = mu + rho*(before - mu), rho = max(0, 1 - sem^2/SD^2)',
      unit: 'that of the field',
      source: 'Int J Epidemiol 2005;34:215-220, doi 10.1093/ije/dyh299',
      caution: 'Take it off before you praise a programme.',
      see: ['expected_after', 'beyond_expected'],
    },
    'kaplan-meier': {
      title: 'share not yet injured, day by day',
      definition: 'Athletes who left or were not followed to the end count as long as they were followed.',
      formula: 'product over injury days of (1 - injured/followed)',
      unit: '0 to 1',
      source: 'from memory',
      caution: 'It takes it that those who left were like those who stayed.',
      see: ['log-rank'],
    },
    'log-rank': {
      title: 'do two such curves differ',
      definition: 'Compares the injuries of two groups, day by day, with those expected if both were alike.',
      formula: '(observed - expected)^2/variance, chi-square with 1 degree of freedom',
      source: 'from memory',
      caution: 'No p is given at a cut that was searched on the same data.',
      see: ['kaplan-meier'],
    },
  },
  { later: true },
);

const AGREEMENT = topicsOf(
  'statistic',
  {
    icc_1_1: {
      title: 'intraclass correlation, one reading, every athlete other testers',
      definition:
        'Share of the differences between readings that are differences between athletes. In the classic table of six people and four judges it is 0.17.',
      formula: `(MSR - MSW)/(MSR + (k - 1)*MSW); ${SQUARES}`,
    },
    icc_2_1: {
      title: 'intraclass correlation, one reading, testers who replace each other',
      definition:
        'As icc_1_1, but all athletes have the same testers, who stand for any tester. Also for occasions. In the classic table of six people and four judges it is 0.29.',
      formula: `(MSR - MSE)/(MSR + (k - 1)*MSE + k*(MSC - MSE)/n); ${SQUARES}`,
    },
    icc_3_1: {
      title: 'intraclass correlation, one reading, these testers only',
      definition:
        'As icc_2_1, but a constant difference between testers or trials does not count. For trials. In the classic table of six people and four judges it is 0.71.',
      formula: `(MSR - MSE)/(MSR + (k - 1)*MSE); ${SQUARES}`,
    },
    icc_1_k: {
      title: 'intraclass correlation of the mean of k, every athlete other testers',
      definition:
        'As icc_1_1, for the mean of k readings. In the classic table of six people and four judges it is 0.44.',
      formula: `(MSR - MSW)/MSR; ${SQUARES}`,
    },
    icc_2_k: {
      title: 'intraclass correlation of the mean of k, testers who replace each other',
      definition:
        'As icc_2_1, for the mean of k readings. In the classic table of six people and four judges it is 0.62.',
      formula: `(MSR - MSE)/(MSR + (MSC - MSE)/n); ${SQUARES}`,
    },
    icc_3_k: {
      title: 'intraclass correlation of the mean of k, these testers only',
      definition:
        'As icc_3_1, for the mean of k readings. In the classic table of six people and four judges it is 0.91.',
      formula: `(MSR - MSE)/MSR; ${SQUARES}`,
    },
  },
  {
    unit: '1 is perfect; it can be below 0',
    source: CORRELATION,
    caution: 'It is high where athletes differ much and low where they are alike: read the sem with it.',
    where: 'agreement',
    see: ['intraclass correlation', 'sem', 'mdc95'],
    later: true,
  },
);

const AGREEMENT_MORE = topicsOf(
  'statistic',
  {
    'intraclass correlation': {
      title: 'ICC: agreement of repeat readings, six forms',
      definition:
        'Share of the differences between readings that are differences between athletes. Form 3,1 is for trials, 2,1 for occasions and for testers who replace each other, 1,1 where every athlete had other testers; k is for means of k readings.',
      unit: '1 is perfect; it can be below 0',
      source: CORRELATION,
      caution:
        'It depends on how much the athletes differ: never copy one from another population. Read the sem with it.',
      also: ['ICC'],
      see: ['icc_1_1', 'icc_2_1', 'icc_3_1', 'icc_1_k', 'icc_2_k', 'icc_3_k', 'sem'],
    },
    cv_pct: {
      title: 'coefficient of variation',
      definition: 'Typical scatter of repeat readings, in percent of the reading. 30 and 32, 40 and 38 give 4.12 %.',
      formula: '100*sqrt(mean(sd^2/mean^2))',
      unit: '%',
      source: 'common practice',
      caution: 'Not for angles and counts that come near 0.',
      also: ['CV'],
    },
    bias: {
      title: 'mean difference between two testers, trials or days',
      definition:
        'How much the first reads above the second on average. In the classic 17 pairs of two flow meters it is -2.1: the large meter reads lower than the small one.',
      formula: 'mean(first - second)',
      unit: 'that of the measure',
      source: 'Lancet 1986;1:307-310',
      see: ['loa_low', 'loa_high'],
    },
    loa_low: {
      title: 'lower limit of agreement',
      definition:
        'Nineteen of twenty differences are expected between the two limits. In the classic 17 pairs it is -78.10.',
      formula: 'bias - 1.96*SD(differences)',
      unit: 'that of the measure',
      source: 'Lancet 1986;1:307-310',
      also: ['limits of agreement'],
      see: ['bias'],
    },
    loa_high: {
      title: 'upper limit of agreement',
      definition:
        'Nineteen of twenty differences are expected between the two limits. In the classic 17 pairs it is 73.86.',
      formula: 'bias + 1.96*SD(differences)',
      unit: 'that of the measure',
      source: 'Lancet 1986;1:307-310',
      also: ['limits of agreement'],
      see: ['bias'],
    },
    kappa: {
      title: 'agreement on scores beyond chance',
      definition:
        'How often two testers give the same score, with what chance would give taken off. In the classic 3 by 3 table it is 0.492.',
      formula: '(po - pe)/(1 - pe)',
      unit: '1 is perfect, 0 is chance',
      source: WEIGHTED,
      caution: 'Where nearly everybody has one score it is low although testers agree.',
      see: ['kappa_linear', 'kappa_quadratic'],
    },
    kappa_linear: {
      title: 'kappa, a miss by two counts twice',
      definition:
        'Scores that lie near each other count as partly agreed, in proportion. In the classic 3 by 3 table it is 0.474.',
      formula: '1 - sum(w*observed)/sum(w*expected), w = |i - j|',
      unit: '1 is perfect, 0 is chance',
      source: WEIGHTED,
      caution: 'Say which weights: they change the number.',
      see: ['kappa'],
    },
    kappa_quadratic: {
      title: 'kappa, a miss by two counts four times',
      definition: 'Scores that lie near each other count as mostly agreed. In the classic 3 by 3 table it is 0.455.',
      formula: '1 - sum(w*observed)/sum(w*expected), w = (i - j)^2',
      unit: '1 is perfect, 0 is chance',
      source: WEIGHTED,
      caution: 'Say which weights: they change the number.',
      see: ['kappa'],
    },
  },
  { where: 'agreement', later: true },
);

const INCIDENCE = topicsOf(
  'statistic',
  {
    rate: {
      title: 'injury rate',
      definition: 'Injuries in 1000 athlete-exposures. 2821 injuries in 331678 exposures are 8.51.',
      formula: '1000*injuries/exposures',
      unit: 'injuries per 1000 athlete-exposures',
      source: 'J Athl Train 2006;41:207-215',
      caution: 'Repeat injuries of one athlete make its interval too narrow.',
      also: ['incidence', 'injury rate'],
      see: ['athlete-exposure', 'exact'],
    },
    'rate ratio': {
      title: 'one rate divided by another',
      definition: 'Rates of 3.2 and 0.71 in 1000 give a ratio of 0.22 for the second against the first.',
      formula:
        '(injuries1/exposures1)/(injuries0/exposures0); interval pi/(1 - pi)*exposures0/exposures1, pi the exact limits of injuries1 of all injuries',
      source: 'Am J Sports Med 2002;30:680-683, doi 10.1177/03635465020300050801',
      caution: 'Before against after, without a control group, also holds whatever else changed.',
      see: ['rate'],
    },
    burden: {
      title: 'injury burden',
      definition: 'Days lost in 1000 athlete-exposures. 420 days in 10000 exposures are 42.',
      formula: '1000*days_lost/exposures',
      unit: 'days per 1000 athlete-exposures',
      source: 'Br J Sports Med 2020;54:372-389, doi 10.1136/bjsports-2019-101969',
      see: ['days_lost'],
    },
    'athlete-exposure': {
      title: 'one athlete in one practice or game',
      definition: 'The unit that injury rates are counted by: 20 athletes in 5 practices are 100.',
      formula: 'sum over practices and games of the athletes who took part',
      source: 'J Athl Train 2007;42:311-319',
      caution: 'Somebody who plays two minutes counts as much as somebody who plays the whole game.',
      also: ['AE', 'athlete_exposures', 'exposure'],
      see: ['rate'],
    },
  },
  { later: true },
);

/** Statistics and methods: what they are, how they are worked out, and one worked number each where there is one. */
export const STATISTIC_WORDS = [
  ...SIDE_TO_SIDE,
  ...ERRORS,
  ...Z,
  ...GROUP_STATISTIC_WORDS,
  ...SEASONS,
  ...AGREEMENT,
  ...AGREEMENT_MORE,
  ...INCIDENCE,
  ...CUTOFF_WORDS,
  ...METHOD_WORDS,
];
