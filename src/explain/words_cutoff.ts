import { topicsOf } from './topics_of.ts';

/** The numbers behind the worked examples below: tp 231, fp 32, fn 27, tn 54. */
const TABLE = 'BMJ 1994;308:1552';

const COUNTS = topicsOf(
  'statistic',
  {
    n: {
      title: 'athletes or limbs in the analysis',
      definition: 'All who were tested and followed. 231 + 32 + 27 + 54 are 344.',
      formula: 'tp + fp + fn + tn',
    },
    events: {
      title: 'how many of them were injured',
      definition:
        '231 found and 27 missed are 258. Fewer than 20 is exploratory, fewer than 10 is not searched at all.',
      formula: 'tp + fn',
    },
    tp: {
      title: 'flagged and injured (true positive)',
      definition: 'Beyond the cut, and injured afterwards.',
    },
    fp: {
      title: 'flagged, not injured (false positive)',
      definition: 'Beyond the cut, and not injured afterwards.',
    },
    fn: {
      title: 'not flagged, injured (false negative)',
      definition: 'Within the cut, and injured all the same.',
    },
    tn: {
      title: 'not flagged, not injured (true negative)',
      definition: 'Within the cut, and not injured afterwards.',
    },
    prevalence: {
      title: 'share who were injured',
      definition: 'How common the injury was among all who were followed: 258 of 344 are 0.75.',
      formula: '(tp + fn)/n',
      unit: '0 to 1',
      source: TABLE,
    },
    sensitivity: {
      title: 'share of the injured who were flagged',
      definition: 'How many of those who got injured the cut had found: 231 of 258 are 0.895.',
      formula: 'tp/(tp + fn)',
      unit: '0 to 1',
      source: TABLE,
      caution: 'A high one alone is easy: flag everybody. Read it with specificity.',
      see: ['specificity'],
    },
    specificity: {
      title: 'share of the uninjured who were not flagged',
      definition: 'How many of those who stayed well the cut had left alone: 54 of 86 are 0.628.',
      formula: 'tn/(tn + fp)',
      unit: '0 to 1',
      source: TABLE,
      caution: 'A high one alone is easy: flag nobody. Read it with sensitivity.',
      see: ['sensitivity'],
    },
    ppv: {
      title: 'share of the flagged who were injured',
      definition: 'What a flag meant in this log: 231 of 263 are 0.878.',
      formula: 'tp/(tp + fp)',
      unit: '0 to 1',
      source: TABLE,
      caution: 'Where the injury is rarer it is lower, with the same cut.',
      also: ['positive predictive value'],
      see: ['prevalence', 'flagged_per_injury'],
    },
    npv: {
      title: 'share of the unflagged who were not injured',
      definition: 'What no flag meant in this log: 54 of 81 are 0.667.',
      formula: 'tn/(tn + fn)',
      unit: '0 to 1',
      source: TABLE,
      caution: 'Where injuries are rare it is high without any test.',
      also: ['negative predictive value'],
      see: ['prevalence'],
    },
    accuracy: {
      title: 'share judged rightly',
      definition: 'Flagged and injured, or neither: 285 of 344 are 0.828.',
      formula: '(tp + tn)/n',
      unit: '0 to 1',
      source: TABLE,
      caution: 'Where injuries are rare, flagging nobody has a high accuracy.',
    },
    lr_positive: {
      title: 'likelihood ratio of a flag',
      definition:
        'How many times as often the injured are flagged as the uninjured: 231 of 258 against 32 of 86 give 2.41.',
      formula: 'sensitivity/(1 - specificity); SE of its log: sqrt((1 - se)/tp + sp/fp)',
      source: 'common practice',
      caution: 'Near 1 a flag tells hardly anything. A zero cell adds 0.5 to all four cells, and the note says so.',
      see: ['log'],
    },
    lr_negative: {
      title: 'likelihood ratio of no flag',
      definition:
        'How many times as often the injured are left unflagged as the uninjured: 27 of 258 against 54 of 86 give 0.167.',
      formula: '(1 - sensitivity)/specificity; SE of its log: sqrt(se/fn + (1 - sp)/tn)',
      source: 'common practice',
      caution: 'Near 1 no flag tells hardly anything. A zero cell adds 0.5 to all four cells, and the note says so.',
      see: ['log'],
    },
    odds_ratio: {
      title: 'odds of injury, flagged against not',
      definition:
        'Injured to uninjured among the flagged, divided by the same among the others: 231 to 32 against 27 to 54 give 14.44.',
      formula: '(tp*tn)/(fp*fn)',
      source: 'common practice',
      caution: 'Where injuries are common it is much larger than the risk ratio: do not read it as times as likely.',
      also: ['OR'],
      see: ['risk_ratio', 'log'],
    },
    risk_ratio: {
      title: 'risk of injury, flagged against not',
      definition:
        'Share injured among the flagged divided by that among the others: 231 of 263 against 27 of 81 give 2.63.',
      formula: '(tp/(tp + fp))/(fn/(fn + tn))',
      source: 'common practice',
      caution: 'A large ratio with a wide interval is little knowledge.',
      also: ['RR'],
      see: ['relative risk', 'risk_difference', 'log'],
    },
    risk_difference: {
      title: 'risk of injury, flagged less not flagged',
      definition: 'Share injured among the flagged less that among the others: 231 of 263 less 27 of 81 gives 0.545.',
      formula: 'tp/(tp + fp) - fn/(fn + tn)',
      unit: '-1 to 1',
      source: 'common practice',
      see: ['risk_ratio'],
    },
    youden: {
      title: 'Youden index J',
      definition: 'Sensitivity and specificity in one number: 0 is no use, 1 is perfect. 0.895 and 0.628 give 0.523.',
      formula: 'sensitivity + specificity - 1',
      unit: '-1 to 1',
      source: 'from memory',
      caution: 'It counts a missed injury as much as a needless flag; you may not.',
      also: ['Youden index', 'J'],
      see: ['cutpoint', 'youden_reduced'],
    },
    fisher_p: {
      title: 'exact test of flagged against injured',
      definition:
        'How often a table at least as uneven would come by chance if flags and injuries had nothing to do with each other.',
      formula: 'sum of the hypergeometric probabilities not above that of the table, two-sided',
      unit: '0 to 1',
      source: 'from memory',
      caution: 'None is given at a cut that was searched on the same data.',
      also: ['Fisher exact test', 'p', 'p-value'],
      see: ['benjamini-hochberg'],
    },
    flagged_per_injury: {
      title: 'athletes flagged for each injured one found',
      definition: 'How many flags it took to find one injury: 263 flagged with 231 injured among them are 1.14.',
      formula: '(tp + fp)/tp = 1/ppv',
      unit: 'athletes',
      source: 'common practice',
      caution: 'It does not say that work would have prevented the injury.',
      see: ['ppv'],
    },
  },
  { where: 'cutoff', later: true },
);

const SEARCHED = topicsOf(
  'statistic',
  {
    cutpoint: {
      title: 'the cut that a search chose',
      definition:
        'An observed value: that with the highest Youden index, the point closest to perfect, or a wanted sensitivity.',
      source: 'J Stat Softw 2021;98(11):1-27 (from memory)',
      caution: 'Chosen on these injured it is exploratory: another log would choose another. It needs new athletes.',
      also: ['best cutoff', 'optimal cutoff'],
      see: ['youden', 'youden_reduced'],
    },
    auc: {
      title: 'area under the ROC curve',
      definition:
        'How often an injured athlete is beyond an uninjured one, ties counting half: 0.5 is chance, 1 is perfect. In the classic five-step ratings 0.893.',
      formula: '(pairs right + 0.5*ties)/(injured*uninjured)',
      unit: '0 to 1',
      source: 'Radiology 1982;143:29-36',
      caution: 'It says how well the measure sorts, not that any cut is good.',
      also: ['AUC', 'ROC', 'ROC curve', 'area under the curve'],
      see: ['delong', 'logit', 'cutpoint'],
    },
    youden_reduced: {
      title: 'Youden index with part of the optimism taken off',
      definition:
        'A cut looks best on the athletes it was searched on. Resampling estimates by how much; the rest is this number.',
      formula: 'J at the cut - mean over resamples of (J of its own cut in the resample - J of that cut in the data)',
      unit: '-1 to 1',
      source: 'from memory',
      caution:
        'The optimism is reduced, not removed: with 20 injured of 100 and no effect it went from .148 to .056 only.',
      also: ['optimism'],
      see: ['bootstrap', 'youden'],
    },
    sensitivity_reduced: {
      title: 'sensitivity with part of the optimism taken off',
      definition: 'As youden_reduced, for the sensitivity of the searched cut.',
      unit: '0 to 1',
      source: 'from memory',
      caution: 'The optimism is reduced, not removed.',
      see: ['youden_reduced'],
    },
    specificity_reduced: {
      title: 'specificity with part of the optimism taken off',
      definition: 'As youden_reduced, for the specificity of the searched cut.',
      unit: '0 to 1',
      source: 'from memory',
      caution: 'The optimism is reduced, not removed.',
      see: ['youden_reduced'],
    },
    auc_difference: {
      title: 'one area less another, same athletes',
      definition: 'Whether one measure sorts the injured better than another does, both on the same athletes.',
      formula: 'auc1 - auc2',
      unit: '-1 to 1',
      source: 'from memory',
      see: ['auc', 'delong'],
    },
  },
  { where: 'cutoff', later: true },
);

/** What `cutoff` works out. The worked example is one published table of 344. */
export const CUTOFF_WORDS = [...COUNTS, ...SEARCHED];
