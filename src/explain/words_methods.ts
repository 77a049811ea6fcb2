import { topicsOf } from './topics_of.ts';

const INTERVALS = 'Stat Med 1998;17:857-872';

const METHODS = topicsOf('method', {
  wilson: {
    title: 'Wilson interval of a share',
    definition:
      'The 95 % interval of a share that stays right in small groups and near 0 and 1. 81 of 263: .2553 to .3662; 0 of 20: 0 to .1611.',
    formula: '(p + z^2/(2*n) ± z*sqrt(p*(1 - p)/n + z^2/(4*n^2)))/(1 + z^2/n), z = 1.959963985',
    source: `J Am Stat Assoc 1927;22:209-212; ${INTERVALS}`,
    caution: 'It takes the athletes as independent; two limbs or seasons of one athlete are not.',
    see: ['clustered interval', 'share_low'],
    where: 'cohort; later cutoff',
    also: ['Wilson interval', 'score interval'],
  },
  log: {
    title: 'interval on the log scale',
    definition: 'For ratios: symmetric around the logarithm, so that 2 and 1/2 are equally far from 1.',
    formula: 'exp(log(ratio) ± 1.959963985*SE)',
    source: 'Biometrics 1978;34:469-474',
    caution: 'A zero cell adds 0.5 to all four cells, and that is said.',
    where: 'cohort; later cutoff, incidence',
    see: ['relative risk', 'risk_ratio', 'odds_ratio'],
  },
  bootstrap: {
    title: 'interval by drawing the athletes again',
    definition:
      'Athletes are drawn with replacement, all their limbs and seasons together, and the statistic is worked out for each draw. The seed makes it the same each time.',
    source: 'from memory',
    caution: 'It cannot make up for few athletes: the draws know only these.',
    where: 'cohort, ratios of several seasons together; later cutoff',
    also: ['resampling'],
    see: ['clustered interval', 'youden_reduced'],
  },
});

const METHODS_LATER = topicsOf(
  'method',
  {
    exact: {
      title: 'exact interval',
      definition:
        'From the distribution itself: binomial for shares (81 of 263: .2527 to .3676), Poisson for counts (10 injuries: 4.80 to 18.39).',
      formula:
        'lower limit: there what was seen or more has a probability of 2.5 %; upper limit: there what was seen or less has',
      source: `${INTERVALS}; Biometrika 1936;28:437-442`,
      caution: 'It is never too narrow and mostly a little too wide. Of 0 the lower limit is 0.',
      also: ['Clopper-Pearson', 'exact Poisson'],
    },
    delong: {
      title: 'DeLong interval of an area under the curve',
      definition:
        'Its variance comes from how each injured athlete stands to all uninjured ones, and the other way round.',
      formula: 'auc ± 1.959963985*SE',
      source: 'from memory',
      caution:
        'With fewer than 50 injured or uninjured the logit interval is the headline. Limbs of one athlete need a clustered variance.',
      see: ['auc', 'logit'],
    },
    logit: {
      title: 'interval of an area on the logit scale',
      definition: 'Stays between 0 and 1; the headline with fewer than 50 injured or uninjured.',
      formula: 'log(auc/(1 - auc)) ± 1.959963985*SE/(auc*(1 - auc)), turned back',
      source: 'from memory',
      caution: 'An area of exactly 0 or 1 has no limits.',
      see: ['auc', 'delong'],
    },
    'benjamini-hochberg': {
      title: 'many p at once',
      definition:
        'Keeps the share of false alarms down where many rules are tried on one log, for one outcome and set of seasons. The number of rules m is printed. p of .010, .011 and .5 become .0165, .0165 and .5.',
      formula: 'smallest of p(j)*m/j over the ranks j from i to m, at most 1; p(1) is the smallest p',
      source: 'from memory',
      caution: 'It covers the rules that were tried here, not those that somebody tried before.',
      also: ['BH', 'false discovery rate'],
      see: ['fisher_p'],
    },
  },
  { later: true },
);

/** How intervals are made. */
export const METHOD_WORDS = [...METHODS, ...METHODS_LATER];
