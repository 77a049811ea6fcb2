import { topicsOf } from './topics_of.ts';

const PURPOSES = topicsOf(
  'word',
  {
    test: {
      title: 'purpose of a reading: the test itself',
      definition: 'The usual purpose: the athlete passes the stations. It is the default.',
      see: ['makeup', 'retest', 'return'],
    },
    makeup: {
      title: 'purpose of a reading: caught up on',
      definition:
        'What an athlete missed is tested later. The reading joins the occasion of the season, however many days later, unless an injury lies in between.',
      see: ['occasion', 'make-up list'],
    },
    retest: {
      title: 'purpose of a reading: tested again',
      definition:
        'The same measure again, to see a change. It is an occasion of its own and never pooled with the test.',
      see: ['occasion', 'retest_by', 'retest_due', 'change'],
    },
    return: {
      title: 'purpose of a reading: return to sport',
      definition: 'Tested on the way back from an injury. It is an occasion of its own.',
      caution:
        'Limits for a screen are not criteria for a return to sport; your medical staff have those, such as a hop index of 90 %.',
      also: ['return to sport', 'return to play', 'return to competition', 'RTS', 'RTP'],
      see: ['occasion'],
    },
  },
  { where: 'screening.yaml, purpose; observations, purpose' },
);

const KEEPS = topicsOf(
  'word',
  {
    best: {
      title: 'the best attempt is kept',
      definition:
        'The highest attempt, or the lowest where lower is better. It is the default. With from: in a rule on a change, it compares with the best test so far.',
      caution: 'The side with more attempts has more chances to be good: give both sides the same number.',
    },
    mean: {
      title: 'the average',
      definition:
        'With keep: the average of the attempts is kept; it is the default with better: between. As an operator: the average of the parts, left with left and right with right. With side: the average of the two sides goes into a total.',
      formula: 'operator: (a + b + ...)/k; error sqrt(sum of s^2)/k',
      see: ['as_percent_of', 'total'],
    },
    median: {
      title: 'the middle attempt is kept',
      definition: 'The attempt in the middle, or the average of the middle two. One bad attempt hardly moves it.',
    },
    first: {
      title: 'the first attempt is kept',
      definition: 'The first measured attempt, whatever the later ones say.',
    },
    last: {
      title: 'the last attempt is kept',
      definition:
        'The last measured attempt, whatever the earlier ones say. With from: in a rule on a change, it compares with the test before.',
    },
  },
  { where: 'protocol.yaml, trials: {keep: …}', see: ['trial', 'keep'] },
);

const BETTER_AND_COMPARE = topicsOf(
  'word',
  {
    higher: {
      title: 'more is better',
      definition: 'The default of better: the lower side is the weaker one, and the highest attempt is the best.',
      where: 'protocol.yaml, better',
    },
    lower: {
      title: 'less is better',
      definition: 'Such as a time, a resting pulse or a count of faults: the higher side is the weaker one.',
      where: 'protocol.yaml, better',
    },
    between: {
      title: 'neither too much nor too little',
      definition:
        'With better: no side is the weaker one, and a rule on worse judges the side farther beyond its limit. In compounds: the mark between the readings of a cell, / unless it says otherwise.',
      where: 'protocol.yaml, better and compounds',
    },
    percent: {
      title: 'sides are compared in percent',
      definition: 'The default of compare: results have deficit_pct and its like, and gap as well.',
      where: 'protocol.yaml, compare',
      caution: 'Not for counts, nor for angles that pass zero: near zero a percentage runs wild.',
      see: ['deficit versus gap', 'gap'],
    },
    gap: {
      title: 'sides are compared in the unit',
      definition:
        'Results have gap, difference and dominance_gap, and nothing in percent. For degrees and centimetres.',
      where: 'protocol.yaml, compare',
      see: ['deficit versus gap', 'percent'],
    },
    none: {
      title: 'nothing of it',
      definition:
        'With sides: the measure has no left and right, and a side column says nothing of it. With compare: the sides are not compared. In the column side: no side is meant.',
      where: 'protocol.yaml, sides and compare; the column side',
    },
  },
  { see: ['better', 'compare'] },
);

const BASES = topicsOf(
  'word',
  {
    occasions: {
      title: 'the test was repeated on another day',
      definition: 'The error that matters for a change: it holds everything that differs between two test days.',
    },
    testers: {
      title: 'the test was repeated by another tester',
      definition: 'The error between testers: it matters where testers replace each other.',
    },
    trials: {
      title: 'attempts; or repeated in one session',
      definition:
        'In protocol.yaml trials: says how many attempts are expected (expect), which is kept (keep) and how far apart they may be (spread_pct). As a basis: the error was found from attempts of one session.',
      caution: 'Between days the error is larger: by a basis of trials alone no change is called clear.',
      see: ['trial', 'keep', 'expect', 'spread_pct'],
    },
  },
  { where: 'protocol.yaml, error: {basis: …} and trials: of a measure; agreement, over', see: ['error', 'basis'] },
);

const ERROR_BASES = topicsOf(
  'word',
  {
    declared: {
      title: 'the protocol states the error',
      definition: 'The error of this very number stands in protocol.yaml, under error: or errors:.',
    },
    derived: {
      title: 'worked out from others',
      definition:
        'As an error basis: the error follows from those of the parts. As a key of protocol.yaml: measures that are worked out from measures, one operator each.',
      caution:
        'Parts are taken as independent; where one tester pulls both readings the same way, the true error differs.',
      see: ['derived measure', 'declared'],
    },
  },
  { where: 'findings, error_basis; protocol.yaml', see: ['error'] },
);

const SIDES = topicsOf(
  'word',
  {
    left: {
      title: 'the left side',
      definition: 'Written L, Lt, Left, (L), LLE, LUE and the like in a sheet.',
      also: ['L', 'Lt', 'LLE', 'LUE'],
    },
    right: {
      title: 'the right side',
      definition: 'Written R, Rt, Right, (R), RLE, RUE and the like in a sheet.',
      also: ['R', 'Rt', 'RLE', 'RUE'],
    },
    both: {
      title: 'both sides',
      definition:
        'In the column side: the two limbs at once. With side: in a total: left plus right goes in. On the roster: neither side is dominant.',
      caution: 'It is not the mean of left and right.',
      see: ['total', 'dominant side'],
    },
    worse: {
      title: 'the worse side goes into a total',
      definition: 'With side: in a total: the lower side, or the higher one where lower is better.',
      see: ['total', 'worse'],
    },
    better: {
      title: 'which way is better',
      definition:
        'In a measure: higher (the default), lower or between. With side: in a total: the better side of each part goes in.',
      see: ['higher', 'lower', 'between', 'total'],
    },
  },
  { where: 'the column side; protocol.yaml', see: ['side'] },
);

const OPERATORS = topicsOf(
  'word',
  {
    ratio: {
      title: 'operator: the first part divided by the second',
      definition: 'Both in one unit. Hip adduction 180 N to hip abduction 225 N is 0.8.',
      formula: 'a/b; error |a/b|*sqrt((s(a)/a)^2 + (s(b)/b)^2)',
      unit: '1',
      caution: 'Both parts must be tested in the same position. A good ratio can be that of two weak parts.',
    },
    sum: {
      title: 'operator: the parts added up',
      definition: 'Such as internal and external rotation to a whole arc: 40 and 35 degrees are 75.',
      formula: 'a + b + ...; error sqrt(sum of s^2)',
    },
    difference: {
      title: 'operator: the first part less the second',
      definition: 'In the unit, with its sign.',
      formula: 'a - b; error sqrt(s(a)^2 + s(b)^2)',
      see: ['difference'],
    },
    per: {
      title: 'operator: the first part for each unit of the second',
      definition: 'Such as a force for each kilogram of body mass: 210 N at 70 kg is 3 N/kg.',
      formula: 'a/b; error |a/b|*sqrt((s(a)/a)^2 + (s(b)/b)^2)',
      unit: 'that of a per that of b',
    },
    percent_of: {
      title: 'operator: the first part in percent of the second',
      definition: 'Such as a hop in percent of body height: 153 cm at 180 cm is 85 %.',
      formula: '100*a/b; error |100*a/b|*sqrt((s(a)/a)^2 + (s(b)/b)^2)',
      unit: '%',
    },
    as_percent_of: {
      title: 'a mean in percent of something',
      definition: 'With the operator mean: the mean of the parts in percent of one more measure.',
      formula: '100*mean/x',
      unit: '%',
      see: ['mean'],
    },
    total: {
      title: 'operator: one number of each part, added up',
      definition:
        'Of a part with sides the worse, the better, the mean or both go in, as side: says. The total has no sides.',
      formula: 'x1 + x2 + ...',
      caution: 'Its error is unknown unless it is declared, and two athletes with one total may need different work.',
      see: ['needs', 'partial_total'],
    },
    z_mean: {
      title: 'operator: the mean of the z of the parts',
      definition:
        'Each part is turned into z within the season and within: (sex, say); parts where lower is better change sign; then their mean. A z of 0.6 and one of -1.4 give -0.4.',
      formula: '(z1 + z2 + ...)/k; error sqrt(sum of (s/SD)^2)/k',
      unit: '1',
      caution: 'It is an average of z, not a z: no percentile is read from it.',
      see: ['z', 'min_group', 'small_group', 'needs'],
    },
  },
  { where: 'protocol.yaml, derived', see: ['derived measure'] },
);

const COMPARATORS = topicsOf(
  'word',
  {
    below: {
      title: 'less than the limit',
      definition: 'below: 0.80 is broken by 0.79, not by 0.80.',
      formula: 'x < limit',
    },
    at_most: {
      title: 'the limit or less',
      definition: 'at_most: 40 is broken by 40, not by 41.',
      formula: 'x <= limit',
    },
    above: {
      title: 'more than the limit',
      definition: 'above: 120 is broken by 121, not by 120.',
      formula: 'x > limit',
    },
    at_least: {
      title: 'the limit or more',
      definition: 'at_least: 15 is broken by 15, not by 14.9.',
      formula: 'x >= limit',
    },
  },
  {
    where: 'protocol.yaml, rules: exactly one of the four, or a status',
    caution: 'Numbers are compared after rounding to nine decimals, so that 18 against 16.2 is exactly 10 %.',
    see: ['rule', 'limit'],
  },
);

const OTHERS = topicsOf('word', {
  strength: {
    title: 'strength staff; how far a source carries; a force',
    definition:
      'As owner of a programme: the strength and conditioning staff lead it. As key of a rule: how strong the evidence for its limit is, in your own words. As a thing tested: a force, held against a dynamometer.',
    where: 'protocol.yaml, programmes and rules; findings and plan, owner',
    see: ['programme', 'rule', 'source'],
  },
  medical: {
    title: 'medical staff',
    definition: 'As owner of a programme: athletic trainers, physiotherapists or physicians lead it.',
    where: 'protocol.yaml, programmes; findings and plan, owner',
    see: ['programme', 'refer'],
  },
  value: {
    title: 'a correction that puts another value',
    definition: 'The cell is read as if the value of the correction stood in it.',
    where: 'corrections, action',
    see: ['corrections', 'action'],
  },
  void: {
    title: 'a correction that takes the cell out',
    definition: 'The reading of the cell does not count: it becomes an observation with status void.',
    where: 'corrections, action',
    see: ['corrections', 'action'],
  },
  confirmed: {
    title: 'a correction that says the cell is right',
    definition:
      'Somebody looked: the odd reading is what was measured. It counts as it is, and recheck does not list it again.',
    where: 'corrections, action',
    see: ['corrections', 'action'],
  },
  kept: {
    title: 'judge the kept reading',
    definition: 'The default of of: in a rule: the number that the trials come to is judged.',
    where: 'protocol.yaml, rules',
    see: ['any_trial', 'keep'],
  },
  any_trial: {
    title: 'judge the worst single trial',
    definition:
      'With of: in a rule: one attempt beyond the limit is enough, such as one raised pressure of the day. The lowest attempt is judged for below and at_most, the highest for above and at_least.',
    where: 'protocol.yaml, rules',
    see: ['kept'],
  },
  before_injury: {
    title: 'compare with the last test before the injury',
    definition: 'With from: in a rule on a change.',
    where: 'protocol.yaml, rules',
    later: true,
    see: ['change'],
  },
  all: {
    title: 'all athletes together',
    definition: 'The group of everybody; each athlete counts once.',
    where: 'cohort, group_kind; later trend, incidence',
    caution: 'Rows of teams do not add up to it: an athlete of two teams counts in both.',
    see: ['group_kind', 'everybody'],
  },
  team: {
    title: 'the athletes of one team',
    definition:
      'An athlete of two teams counts once in each. Other spellings of a team are settled under teams: in screening.yaml.',
    where: 'roster; cohort, group_kind; later trend, incidence',
    see: ['teams', 'sport group'],
  },
  sex: {
    title: 'the athletes of one recorded sex',
    definition: 'As on the roster. In a rule, sex: F or sex: M narrows it to those athletes.',
    where: 'roster; protocol.yaml, rules; cohort, group_kind; later trend, incidence',
    caution: 'An athlete whose sex is unknown is judged by no rule that is narrowed by sex.',
  },
});

/** Words that files may say where the contract names a closed list, and that are no state of anything. */
export const CHOICE_WORDS = [
  ...PURPOSES,
  ...KEEPS,
  ...BETTER_AND_COMPARE,
  ...BASES,
  ...ERROR_BASES,
  ...SIDES,
  ...OPERATORS,
  ...COMPARATORS,
  ...OTHERS,
];
