import { topicsOf } from './topics_of.ts';

const TERMS = topicsOf('word', {
  measure: {
    title: 'one thing tested',
    definition:
      'Such as hip adduction strength: a name, a unit, sides or none, and how its trials are kept. Protocols list them under measures:.',
    see: ['measures', 'derived measure', 'side', 'trial'],
  },
  'derived measure': {
    title: 'a measure that is worked out',
    definition:
      'Worked out from others by one operator: ratio, sum, difference, per, mean, percent_of, total or z_mean. Left goes with left, right with right.',
    caution: 'Where a part is missing there is no number, and the status says missing_part.',
    see: ['ratio', 'sum', 'difference', 'per', 'mean', 'percent_of', 'total', 'z_mean'],
  },
  side: {
    title: 'left, right, both or none',
    definition:
      'The side of the body that a reading is of. With side: in a total: which side of a part goes in (worse, better, mean, both).',
    see: ['left', 'right', 'both', 'none'],
  },
  trial: {
    title: 'one attempt',
    definition: 'One attempt at one measure on one side. What the trials come to is decided by keep: in the protocol.',
    see: ['keep', 'expect', 'spread_pct'],
  },
  occasion: {
    title: 'one pass through the stations',
    definition:
      'The days on which one athlete passes the stations once: within 14 days of the first one, unless occasion_days says otherwise. The same measure on a later day, or an injury in between, starts a new one.',
    caution: 'A retest is never pooled with the test.',
    see: ['occasion_days', 'makeup', 'retest', 'later_days'],
  },
  season: {
    title: 'the year in which it starts',
    definition: 'Four digits from the date: with season_starts "07-01", 2026-08-12 and 2027-03-02 both belong to 2026.',
    see: ['season_starts'],
  },
  rule: {
    title: 'a limit on a result',
    definition:
      'A measure, a field of its result, one limit, a grade, and where the limit comes from. A result beyond it is a finding.',
    caution: 'A rule describes the athletes of its source; it does not predict an injury of one athlete.',
    see: ['finding', 'field', 'grade', 'source', 'below'],
  },
  finding: {
    title: 'a rule that a result breaks',
    definition: 'One athlete, one day, one rule: with value, limit, measurement error, certainty and grade.',
    caution: 'It is no diagnosis, and no finding is not clearance.',
    see: ['rule', 'certainty', 'grade', 'within error'],
  },
  'built-in finding': {
    title: 'pain, unable and one_side',
    definition:
      'Findings that no protocol has to ask for: pain during a test (refer), a test that could not be done (act), one side left out (watch). statuses: in the protocol changes the grades.',
    see: ['pain', 'unable', 'one_side', 'statuses'],
  },
  one_side: {
    title: 'only one side has a reading',
    definition:
      'A built-in finding: one side has a reading and the other has none (not done, or not read), so that nobody can compare them. Look under Not read first, else test the other side.',
    where: 'findings, rule; protocol.yaml, statuses',
    see: ['missing_left', 'missing_right', 'built-in finding'],
  },
  grade: {
    title: 'watch, act or refer',
    definition:
      'How much a finding matters, as its rule says: watch is the lowest, refer the highest. Grades are words; colour only supports them.',
    see: ['watch', 'act', 'refer'],
  },
  'sport group': {
    title: 'teams with a common injury pattern',
    definition:
      'Its teams are given its measures on top of those of everyone. A team may be in several; each measure is then tested once.',
    also: ['sport_group'],
    see: ['sport_groups', 'battery', 'team'],
  },
  programme: {
    title: 'what is prescribed',
    definition:
      'It has an owner (strength or medical staff), a shared form for a whole group and an individual form for one athlete.',
    also: ['program'],
    see: ['programmes', 'owner', 'retest_days'],
  },
  battery: {
    title: 'the tests that an athlete is given',
    definition:
      'The measures of everyone, and those of each sport group that holds a team of the athlete, each measure once.',
    caution: 'A rule judges an athlete only if its measure is in the battery of that athlete.',
    see: ['everyone', 'sport group'],
  },
  'screening folder': {
    title: 'a folder with everything of a screening',
    definition:
      'protocol.yaml, the sheets, and as far as there are any screening.yaml, roster.csv and the other files. Tables go to out/.',
    caution: 'Sheets are never changed: a wrong cell is put right in corrections.csv.',
    see: ['protocol', 'roster', 'sheets', 'corrections', 'out'],
  },
  ledger: {
    title: 'where every cell went',
    definition:
      'One row a sheet: all its non-empty cells, and how many of them became readings, statuses, context, ignored or rejected. The five add up to the whole.',
    formula: 'cells = measured + not_measured + context + ignored + rejected',
    where: 'ledger.csv',
    see: ['reject', 'ignored cell'],
  },
  reject: {
    title: 'a cell, row or file that was not taken',
    definition:
      'Nobody can say for certain what it means, so it becomes no number. rejects.csv says where it is, why, and what to do.',
    caution:
      'A rejected reading is a reading that the athlete does not have: settle it while the athlete is still in the building.',
    see: ['code', 'suggestion', 'corrections'],
  },
  'ignored cell': {
    title: 'a cell left aside on purpose',
    definition:
      'Titles, footnotes, averages, remarks and columns set to ignore. ignored.csv names each with its reason.',
    caution: 'A remark may say what matters ("hurt last week"): bilat does not read it, you should.',
    see: ['reason', 'ignored'],
  },
});

const JUDGING = topicsOf('word', {
  'dominant side': {
    title: 'the side of the roster, by measure',
    definition:
      'The side that the roster names for the measure, such as the kicking foot or the throwing hand. The other one is the non-dominant side.',
    caution: 'It is never taken to be the right. In sheets, D and ND need it, and are rejects without it.',
    also: ['dominant', 'dominance', 'non-dominant', 'D', 'ND', 'kicking leg', 'throwing arm'],
    see: ['dominance_pct', 'no_dominant_side', 'side_needs_roster'],
  },
  'deficit versus gap': {
    title: 'percent or unit',
    definition:
      'A deficit is in percent of the larger side: for strengths and hops. A gap is in degrees or centimetres: for ranges of motion and reaches, since 5 degrees are 5 degrees at 20 and at 120. compare: in the protocol says which.',
    formula: 'deficit 100*(max - min)/max; gap |right - left|',
    caution: 'Near zero a percentage runs wild: 2 against 4 degrees is 50 %.',
    see: ['deficit_pct', 'gap', 'compare'],
  },
  margin: {
    title: 'how far beyond the limit',
    definition: 'The distance between value and limit, never negative, in the unit of the value.',
    formula: '|value - limit|',
    see: ['error', 'certainty', 'within error'],
  },
  error: {
    title: 'measurement error',
    definition:
      'How far a reading may be off in 19 of 20 tests, although nothing is wrong. State it in protocol.yaml: error: {sem | sem_pct | mdc | mdc_pct, basis, n, source}. At a standard error of 6 N it is 11.76 N.',
    formula: 'value: 1.959963985*sem; change: 1.959963985*sqrt(sem(before)^2 + sem(after)^2)',
    unit: 'that of the number',
    where: 'findings; protocol.yaml, error and errors',
    source: 'J Strength Cond Res 2005;19:231-240, doi 10.1519/15184.1',
    caution: 'A device that reads low for everybody is not in it.',
    also: ['measurement error', 'sem_pct', 'mdc_pct'],
    see: ['sem', 'mdc', 'certainty', 'basis'],
  },
  'within error': {
    title: 'why a flag is within error',
    definition:
      'The value is beyond the limit, but by less than the measurement error: if the athlete were tested again, it could well be on the other side. Repeat the test, with the same number of trials on both sides, before you prescribe weeks of work. Sides of 25 and 20 with 5 % error each: a deficit of 20 %, give or take 11.09 points.',
    formula: 'margin < error; of a deficit z95*(100/M)*sqrt(s(m)^2 + (m/M)^2*s(M)^2)',
    where: 'findings, certainty and message',
    caution: 'A refer stands all the same, and within error does not mean that all is well.',
    also: ['why is this flag within error', 'not distinguishable from the limit'],
    see: ['within_error', 'error', 'unequal_trials', 'clear'],
  },
  UCUM: {
    title: 'unified code for units of measure',
    definition:
      'An open standard of writing units without doubt: N, kg, cm, deg, mm[Hg], kgf, [lbf_av]. In YAML write codes with brackets in quotes. lb, kg, N, mmHg, degrees and in are understood too.',
    source: 'common practice',
    also: ['unit code'],
    see: ['kgf', 'lbf', 'N', 'deg'],
  },
  N: {
    title: 'newton',
    definition: 'The unit of force. 1 kgf is 9.80665 N and 1 lbf is 4.4482216152605 N: 100 lbf are 444.822 N.',
    source: 'NIST SP 811',
    also: ['newton', 'newtons'],
    see: ['kgf', 'lbf'],
  },
  deg: {
    title: 'degree of angle',
    definition: 'The unit of ranges of motion.',
    caution: 'A tape gives centimetres and an inclinometer degrees of the same lunge: they are two measures.',
    also: ['degree', 'degrees'],
  },
  kgf: {
    title: 'kilogram-force: the kg of a dynamometer',
    definition:
      'A dynamometer that shows kg shows the weight of that mass: kilograms-force. Under a measure of force, kg in a sheet is taken for kgf; under body mass it is the kilogram. 20 kg on the display are 196.133 N.',
    formula: '1 kgf = 9.80665 N',
    source: 'NIST SP 811',
    caution:
      'If no cell, heading or file says kg, lb or N, the reading is held back: look at the display before you state a unit.',
    also: ['kg', 'kp', 'kilogram', 'kilograms', 'kilogram-force', 'the kg of a dynamometer'],
    see: ['lbf', 'N', 'unit_unknown', 'written_in'],
  },
  lbf: {
    title: 'pound-force: the lb of a dynamometer',
    definition:
      'Under a measure of force, lb, lbs and # are taken for pounds-force; under body mass they are the pound. Its UCUM code is [lbf_av]. 100 lb on the display are 444.822 N.',
    formula: '1 lbf = 4.4482216152605 N',
    source: 'NIST SP 811',
    caution: 'Pounds taken for kilograms make everybody 2.2 times as strong: look at the display.',
    also: ['lb', 'lbs', 'pound', 'pounds', '[lbf_av]', 'pound-force'],
    see: ['kgf', 'N', 'unit_unknown'],
  },
});

const FIELDS = topicsOf(
  'field',
  {
    value: {
      title: 'the kept reading',
      definition: 'The default. Of a measure with sides left and right are judged each, and each may be a finding.',
    },
    worse: {
      title: 'the worse side',
      definition:
        'The lower side, or the higher one where lower is better; with better: between the side farther beyond the limit.',
      see: ['worse', 'better'],
    },
    deficit_pct: {
      title: 'side-to-side deficit',
      definition: 'In percent of the larger side, without a sign: 25 and 20 give 20 %.',
      formula: '100*(max - min)/max',
      unit: '%',
      caution: 'Error alone makes a deficit: at 5 % error a side about 14 % of symmetric athletes read beyond 10 %.',
      see: ['deficit'],
    },
    gap: {
      title: 'side-to-side gap',
      definition: 'In the unit, without a sign.',
      formula: '|right - left|',
      caution: 'Error alone makes a gap.',
      see: ['deficit versus gap'],
    },
    difference: { title: 'right minus left', definition: 'In the unit, with its sign.', formula: 'right - left' },
    direction_pct: {
      title: 'right minus left, in percent',
      definition: 'In percent of the larger side, with its sign.',
      formula: '100*(right - left)/max',
      unit: '%',
    },
    dominance_pct: {
      title: 'dominant minus other side, in percent',
      definition: 'In percent of the larger side: positive if the dominant side is larger.',
      formula: '100*(dominant - other)/max',
      unit: '%',
      caution: 'Judged only where the roster says the dominant side.',
      see: ['dominant side'],
    },
    dominance_gap: {
      title: 'dominant minus other side',
      definition:
        'In the unit: negative if the dominant side is smaller, as with a loss of internal rotation of the throwing shoulder.',
      formula: 'dominant - other',
      caution: 'Judged only where the roster says the dominant side.',
      see: ['dominant side'],
    },
    z: {
      title: 'the reading among those of the group',
      definition: 'In standard deviations from the mean of the group that within: names.',
      formula: '(x - mean)/SD',
      unit: '1',
      later: true,
      see: ['z', 'within'],
    },
    change: {
      title: 'the change since an earlier test',
      definition: 'After minus before; from: says which test before: last, best or before_injury.',
      formula: 'after - before',
      later: true,
      see: ['last', 'best', 'before_injury'],
    },
    status: {
      title: 'what became of the attempts',
      definition: 'For rules without a limit: status: pain or status: unable on any attempt.',
      see: ['pain', 'unable'],
    },
  },
  { where: 'protocol.yaml, rules; findings, field', see: ['rule'] },
);

const FIELD_WORD = topicsOf('word', {
  field: {
    title: 'which number of a result a rule judges',
    definition:
      'value (the default), worse, deficit_pct, gap, difference, direction_pct, dominance_pct, dominance_gap, z, change or status.',
    where: 'protocol.yaml, rules',
    see: ['rule', 'value', 'worse', 'deficit_pct', 'dominance_gap'],
  },
});

/** Words of the trade and of bilat itself. */
export const TERM_WORDS = [...TERMS, ...JUDGING, ...FIELDS, ...FIELD_WORD];
