import { topicsOf } from './topics_of.ts';

const TOP = topicsOf(
  'word',
  {
    bilat: {
      title: 'version of the format',
      definition: 'Always 1: the version of the format of protocol.yaml. Needed.',
    },
    name: {
      title: 'name of the protocol',
      definition:
        'What the protocol is called. As a role of a column in a sheet: the cell holds the name of the athlete.',
      see: ['protocol', 'columns'],
    },
    measures: {
      title: 'what is measured',
      definition: 'One entry a measure: unit, sides, how trials are kept, error. Needed.',
      see: ['measure'],
    },
    compounds: {
      title: 'several measures in one cell',
      definition: 'Such as a pressure of 118/72: the headings, the measures in order, and the mark between them.',
      also: ['compound', 'combined cell'],
      see: ['between'],
    },
    rules: {
      title: 'the limits',
      definition: 'One entry a rule: measure, field, limit, grade, source.',
      see: ['rule', 'field'],
    },
    sport_groups: {
      title: 'teams with a common injury pattern',
      definition: 'One entry a group: its teams, and the measures that they are given on top of everyone.',
      see: ['sport group', 'battery'],
    },
    everyone: {
      title: 'measures that all athletes are given',
      definition: 'A list of measures, whatever the team.',
      caution: 'A measure that is neither here nor in a sport group is judged by no rule.',
      see: ['battery'],
    },
    programmes: {
      title: 'what is prescribed',
      definition: 'One entry a programme: owner, a shared form, an individual form, days until the retest, source.',
      also: ['programs'],
      see: ['programme', 'retest_days'],
    },
    statuses: {
      title: 'grades of the built-in findings',
      definition: 'The grades of pain (refer), unable (act) and one_side (watch), if they are to differ from these.',
      see: ['built-in finding'],
    },
    sharing: {
      title: 'when a whole group does a programme',
      definition:
        'from_share (0.33), min_tested (5) and at_most_programmes (2): from which share on, with how many tested, and how many programmes at once. They make the decision of cohort and the shared work of the plan.',
      see: ['shared', 'shared work', 'from_share', 'min_tested', 'at_most_programmes'],
    },
  },
  { where: 'protocol.yaml, top level' },
);

const OF_MEASURES = topicsOf(
  'word',
  {
    label: {
      title: 'the name as people read it',
      definition: 'Without it the name is shown, with spaces for its underscores.',
    },
    unit: {
      title: 'unit that results are kept in',
      definition: 'A UCUM code such as N, cm, deg or mm[Hg]. Readings in any unit of the same kind are turned into it.',
      see: ['UCUM', 'written_in'],
    },
    written_in: {
      title: 'unit of bare readings',
      definition:
        'Taken only where neither cell, heading nor screening.yaml names a unit. For forces nothing else is ever assumed.',
      caution:
        'State it only if every station writes in it: a wrong one makes every reading wrong by 2.2, 4.4 or 9.8 times.',
      see: ['kgf', 'lbf', 'unit_unknown', 'units'],
    },
    sides: {
      title: 'each or none',
      definition: 'each: left and right are tested. none: the measure has no sides.',
      see: ['side', 'none'],
    },
    dominance: {
      title: 'roster column of the dominant side',
      definition:
        'Names the column that says left, right or both for this measure, such as kicking_foot or throwing_hand.',
      see: ['dominant side'],
    },
    compare: {
      title: 'how sides are compared',
      definition: 'percent (the default), gap or none.',
      see: ['percent', 'gap', 'none', 'deficit versus gap'],
    },
    keep: {
      title: 'which attempt counts',
      definition: 'best (the default), mean (the default with better: between), median, first or last.',
      see: ['best', 'mean', 'median', 'first', 'last'],
    },
    expect: {
      title: 'how many trials are expected',
      definition: '1 unless it says otherwise. A side with fewer has the status few_trials.',
      see: ['few_trials'],
    },
    spread_pct: {
      title: 'how far apart the trials may be',
      definition: 'In percent of their mean. Beyond it the result has the status wide_spread.',
      see: ['wide_spread', 'spread'],
    },
    plausible: {
      title: 'what a reading can be',
      definition:
        'Lowest and highest reading, in the unit, both allowed. A reading outside is an entry error and is not counted.',
      caution: 'Set it by what a body can do, not by what you hope to see: it is no limit for findings.',
      also: ['plausible_both'],
      see: ['implausible'],
    },
    levels: {
      title: 'what a score can be',
      definition: 'For scores: the list of their levels, ascending, such as [0, 1, 2, 3].',
    },
    headings: {
      title: 'column headings that mean the measure',
      definition: 'A list; case and punctuation do not matter. The name and the label are known without it.',
      see: ['columns'],
    },
    errors: {
      title: 'measurement error of single fields',
      definition: 'Such as that of deficit_pct, where a study gives it. It wins over an error that is worked out.',
      see: ['error', 'declared'],
    },
    basis: {
      title: 'what was repeated to find the error',
      definition: 'occasions, testers or trials.',
      see: ['occasions', 'testers', 'trials'],
    },
    level: {
      title: 'confidence of a minimal detectable change',
      definition: '95 (the default) or 90. Studies print either: look before you copy one.',
      see: ['mdc95', 'mdc90'],
    },
    needs: {
      title: 'how many parts must be there',
      definition:
        'For total and z_mean: all (the default), or a number. With fewer parts than all the status is partial_total.',
      see: ['total', 'z_mean', 'partial_total'],
    },
    within: {
      title: 'with whom an athlete is compared',
      definition: 'For z_mean and z: sex, team or a dominance column; [] compares with everybody of the season.',
      see: ['z', 'z_mean'],
    },
    min_group: {
      title: 'smallest group that is compared in',
      definition: 'For z_mean: 10 unless it is set higher. In smaller groups no z is worked out.',
      see: ['small_group', 'z'],
    },
  },
  { where: 'protocol.yaml, measures and derived' },
);

const OF_RULES = topicsOf(
  'word',
  {
    also: {
      title: 'only together with other rules',
      definition: 'The rule makes a finding only where the rules named here are broken too.',
    },
    share: {
      title: 'may the whole group be given it',
      definition: 'yes or no. Without it: no for rules on a side or a status, yes for the others.',
      caution:
        'A rule of grade refer, a finding with pain and a finding on a side are for single athletes all the same.',
      see: ['sharing', 'shared'],
    },
    region: {
      title: 'part of the body the rule is about',
      definition:
        'In your own words, the same as in injuries.csv, history.csv and clearance.csv: by it earlier injuries and limits meet the findings.',
    },
    within_days: {
      title: 'how far back an earlier injury counts',
      definition:
        'Of history: in a rule: so many days before the day of the test, that day included. Without it every earlier injury counts.',
      caution: 'An injury without a day counts however many days are given.',
      see: ['history', 'injuries'],
    },
    of: {
      title: 'kept or any_trial',
      definition: 'Which reading the rule judges: the kept one, or the worst single trial.',
      see: ['kept', 'any_trial'],
    },
    source: {
      title: 'where a limit or an error comes from',
      definition: 'Journal, year, volume and pages; or "common practice", or "from memory".',
      caution: 'A source says where a number is from, not that it holds for your athletes.',
    },
    retest_days: {
      title: 'days until the retest',
      definition:
        'Of a programme: after so many days of work the measure is tested again. plan and coverage give the day.',
      see: ['retest', 'retest_by', 'retest_due'],
    },
    owner: { title: 'who leads the programme', definition: 'strength or medical.', see: ['strength', 'medical'] },
    from_share: {
      title: 'from which share on a group works together',
      definition:
        'Of sharing: 0.33 unless it says otherwise. A team of which so many are beyond a limit does the programme together.',
      see: ['sharing', 'share'],
    },
    min_tested: {
      title: 'how many must be tested to decide for a group',
      definition: 'Of sharing: 5 unless it says otherwise. Nothing is decided for a team of which fewer were tested.',
      see: ['sharing', 'too_few'],
    },
    at_most_programmes: {
      title: 'how many programmes at once',
      definition:
        'Of sharing: 2 unless it says otherwise. So many a team does together, and so many an athlete alone; the plan says what it left out for that.',
      see: ['sharing', 'scope'],
    },
  },
  { where: 'protocol.yaml, rules, programmes and sharing' },
);

/** Keys of protocol.yaml that are not explained as words of another kind. */
export const PROTOCOL_KEY_WORDS = [...TOP, ...OF_MEASURES, ...OF_RULES];
