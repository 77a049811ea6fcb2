import { topicsOf } from './topics_of.ts';

const INTERVALS = 'Stat Med 1998;17:857-872';
const HANDBOOK = 'NIST/SEMATECH e-Handbook 1.3.5.17';

const OUTLIERS = topicsOf('statistic', {
  'robust z': {
    title: 'z by median and MAD',
    definition:
      'Like z, but a few wild readings do not move it: taken within measure, side, sex, sport group and season, of at least 20 athletes. 50 where the median is 40 and the MAD 4 gives 1.69; beyond 3.5 a reading is an outlier. With a MAD of 0, 15 readings of 10, three of 11, a 12 and a 20 give the 20 a robust z of 10.64, and it must lie beyond the measurement error too.',
    formula: '0.6745*(x - median)/MAD; where the MAD is 0: (x - median)/(1.253314*mean|x - median|)',
    unit: '1; the sign is that of the distance',
    source: HANDBOOK,
    caution:
      'Even where all is well some are beyond 3.5: in a group of 20 about 0.7 % of the readings. Scores with few levels have none.',
    also: ['modified z', 'z by median'],
    see: ['mad', 'outlier', 'expected by chance'],
  },
  mad: {
    title: 'median absolute deviation',
    definition:
      'The median of how far the readings lie from their median. 1, 2, 3, 4 and 90 have a median of 3 and a MAD of 1.',
    formula: 'median(|x - median|)',
    unit: 'that of the measure',
    source: HANDBOOK,
    caution: 'It is 0 where more than half read the same; then the mean distance takes its place.',
    also: ['median absolute deviation'],
    see: ['robust z'],
  },
  'expected by chance': {
    title: 'how many would look odd although nothing is',
    definition:
      'Of 300 readings in groups of 30 about 1.17 are beyond a robust z of 3.5 by chance. Of 240 intervals of a ratio about 12 leave out 1 by chance. Read the number found beside it.',
    formula:
      'outliers: n*p(n), p = .0168 (10) .0110 (15) .0068 (20) .0039 (30) .0022 (50) .0011 (100) .0008 (200), log-log between, .00047 in the limit; ratios: 0.05*m',
    unit: 'readings, or intervals',
    source: 'simulation in R 4.2.2; common practice',
    caution:
      'The figures take readings as normal and groups as independent; an athlete in several groups makes neither quite true.',
    also: ['by chance', 'chance', 'false alarm', 'false alarms', 'multiple comparisons'],
    see: ['robust z', 'ratio', 'relative risk'],
  },
});

const SHARES = topicsOf(
  'statistic',
  {
    'relative risk': {
      title: 'share of a group against that of the others',
      definition:
        'The share flagged in the group divided by that of all others to whom the rule applies. 9 of 20 against 14 of 80 is 2.57, with a 95 % interval of 1.30 to 5.07. 1 is no difference.',
      formula:
        '(a/n1)/(c/n2); interval exp(log(ratio) ± 1.959963985*sqrt(1/a - 1/n1 + 1/c - 1/n2)); 0.5 is added to all four cells if one is 0',
      unit: '1',
      source: 'Biometrics 1978;34:469-474; Ann Hum Genet 1956;20:309-311',
      caution:
        'It is about findings, not about injuries. One of many comparisons: some intervals leave out 1 by chance alone. Of several seasons together the interval is by bootstrap.',
      also: ['RR', 'against the others'],
      see: ['ratio', 'log', 'expected by chance', 'risk_ratio'],
    },
    bounds: {
      title: 'the share if all the untested were well, or all were not',
      definition:
        'What the share of the whole group can be at least and at most. 9 flagged of 20 tested with 5 untested: from 9 of 25, 36 %, to 14 of 25, 56 %.',
      formula: 'flagged/(tested + untested) to (flagged + untested)/(tested + untested)',
      unit: '%',
      source: 'common practice',
      caution: 'It is not an interval of chance: it says what is not known because athletes were not there.',
      also: ['lower bound', 'upper bound'],
      see: ['share', 'missing', 'wilson'],
    },
    'clustered interval': {
      title: 'interval of a share where an athlete counts several times',
      definition:
        'Seasons or limbs together are not independent, so the interval is wider. 10 athletes tested in two seasons, 4 of them flagged in both: 8 of 20 count like 9 athletes, 0.160 to 0.700 in place of 0.219 to 0.613.',
      formula:
        'p = sum(x)/sum(n), v = m/(m - 1)*sum((x - p*n)^2)/sum(n)^2 over m athletes, n_eff = min(N, p*(1 - p)/v), or m if v = 0; Wilson of p*n_eff in n_eff',
      unit: '0 to 1',
      source: `Biometrics 1992;48:577-585; ${INTERVALS}`,
      caution: 'It is for rows of several seasons together; in them the season is empty.',
      also: ['cluster', 'clustered', 'design effect', 'effective number'],
      see: ['wilson', 'bootstrap', 'share_low'],
    },
  },
  { where: 'cohort' },
);

/** Statistics of recheck and cohort, with a worked number each. */
export const GROUP_STATISTIC_WORDS = [...OUTLIERS, ...SHARES];
