import { expect, test } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import { expectTroubles, failureOf, marked } from './marked.ts';

const HEAD = `bilat: 1
measures:
  force: {unit: N, sides: each, dominance: kicking_foot}
  force_too: {unit: kgf, sides: each}
  angle: {unit: deg, sides: each, compare: gap}
  bare: {unit: cm, sides: each, compare: none}
  height: {unit: cm, sides: none, better: between}
  arch: {unit: cm, sides: each, better: between}
`;

const measure = (line: string): string => `bilat: 1\nmeasures:\n  x: ${line}\n`;
const derived = (line: string): string => `${HEAD}derived:\n  x: ${line}\n`;
const rule = (line: string): string => `${HEAD}rules:\n  r: ${line}\n`;

test.each<[string, string, ...string[]]>([
  [
    'an unknown key',
    measure('{unit: N, sides: each, »betterr: lower}'),
    'x: unknown key "betterr" | Did you mean better?',
  ],
  [
    'an unknown key that is near none',
    `${measure('{unit: N, sides: each}')}»whatever: 1\n`,
    'unknown key "whatever" | Known: bilat, name, measures, derived, compounds, rules, sport_groups, everyone, programmes, statuses, sharing.',
  ],
  [
    'a measure without sides',
    measure('{unit: N}').replace('  x', '  »x'),
    'x has no sides | Add sides: each for left and right, none for a measure without sides.',
  ],
  [
    'a measure without unit',
    measure('{sides: each}').replace('  x', '  »x'),
    'x has no unit | Add unit: the UCUM code that results are kept in, for example N, cm, deg or mm[Hg].',
  ],
  [
    'a missing key that is there with a slip is told once',
    measure('{unti: N, sides: each}').replace('unti', '»unti'),
    'x: unknown key "unti" | Did you mean unit?',
  ],
  ['no measures', '»bilat: 1\n', 'measures is missing | Add measures: what is tested, one entry a measure.'],
  [
    'no version',
    `»${measure('{unit: N, sides: each}').replace('bilat: 1\n', '')}`,
    'bilat is missing | Add bilat: 1, the version of this format.',
  ],
  [
    'a later version',
    'bilat: »2\nmeasures: {x: 5}\n',
    'the protocol is written for a later version (bilat: 2); this one reads bilat: 1 | Update bilat, or write the protocol in the earlier form.',
  ],
  [
    'a quoted version',
    measure('{unit: N, sides: each}').replace('1', '»"1"'),
    'bilat "1" is text, not 1 | Take the quotes away: 1.',
  ],
  [
    'an empty file',
    '»',
    'the file holds no keys at its top level | Write each line as key: value, with a space after the colon.',
  ],
  [
    'a unit that UCUM does not know',
    measure('{unit: »degg, sides: each}'),
    'x.unit "degg" is no UCUM unit known here | Did you mean deg?',
  ],
  [
    'a unit near one that others of its kind differ from by a factor',
    measure('{unit: »kgff, sides: each}'),
    'x.unit "kgff" is no UCUM unit known here | Write one of N, kgf, [lbf_av].',
  ],
  [
    'readings in a unit near one of the wrong factor',
    measure('{unit: N, written_in: »lbx, sides: each}'),
    'x.written_in "lbx" is no UCUM unit known here | Write one of N, kgf, [lbf_av].',
  ],
  [
    'readings in no unit where one alone is asked for',
    measure('{unit: deg, written_in: »dgr, sides: each, compare: gap}'),
    'x.written_in "dgr" is no UCUM unit known here | Write deg.',
  ],
  [
    'readings in a unit of another kind by a hand',
    measure('{unit: kg, written_in: »lbf, sides: each}'),
    'x.written_in "lbf" does not convert into kg, the unit it stands for | Write a unit of the same kind.',
  ],
  [
    'a unit near none',
    measure('{unit: »furlongs, sides: each}'),
    'x.unit "furlongs" is no UCUM unit known here | Write a UCUM code such as N, kgf, [lbf_av], N.m, kg, [lb_av], m, cm, mm, [in_i], [ft_i], deg, s, ms, min, mm[Hg], /min, W, N/kg, kg/m2, %, 1.',
  ],
  [
    'readings in a unit of another kind',
    measure('{unit: N, written_in: »cm, sides: each}'),
    'x.written_in "cm" does not convert into N, the unit it stands for | Write a unit of the same kind.',
  ],
  [
    'mass pounds under a force',
    measure('{unit: N, written_in: »"[lb_av]", sides: each}'),
    'x.written_in "[lb_av]" does not convert into N, the unit it stands for | A force is read in N, kgf or [lbf_av].',
  ],
  [
    'a word that is none of a list',
    measure('{unit: N, sides: each, trials: {keep: »bst}}'),
    'x.trials.keep "bst" is not one of best, mean, median, first, last | Did you mean best?',
  ],
  [
    'a whole number',
    measure('{unit: N, sides: each, trials: {expect: »1.5}}'),
    'x.trials.expect 1.5 is not a whole number',
  ],
  [
    'a number that is too small',
    measure('{unit: N, sides: each, trials: {expect: »0}}'),
    'x.trials.expect 0 is below 1',
  ],
  [
    'a number that must be above zero',
    measure('{unit: N, sides: each, trials: {spread_pct: »0}}'),
    'x.trials.spread_pct 0 is not above 0',
  ],
  ['an infinite number', measure('{unit: N, sides: each, plausible: [0, ».inf]}'), 'x.plausible .inf is not a number'],
  [
    'a number in quotes',
    measure('{unit: N, sides: each, plausible: [»"0", 5]}'),
    'x.plausible "0" is text, not a number | Take the quotes away: 0.',
  ],
  [
    'a text for a list',
    measure('{unit: N, sides: each, headings: »hip}'),
    'x.headings "hip" is not a list | Put it in brackets: headings: [hip].',
  ],
  [
    'a number for a text',
    measure('{unit: N, sides: each, label: »007}'),
    'x.label 007 is read as a number, not as text | Put it in quotes: "007".',
  ],
  [
    'a text for a mapping',
    measure('{unit: N, sides: each, trials: »best}'),
    'x.trials "best" is not a mapping of keys to values | Its keys are keep, expect, spread_pct.',
  ],
  ['a mapping for a text', measure('{unit: N, sides: each, label: »{a: b}}'), 'x.label is a mapping, not text'],
  [
    'a range of one number',
    measure('{unit: N, sides: each, plausible: »[5]}'),
    'x.plausible has 1 entry, and takes at least 2',
  ],
  [
    'a range upside down',
    measure('{unit: N, sides: each, plausible: »[9, 5]}'),
    'x.plausible [9, 5] does not go from a lower to a higher number | Turn the two around.',
  ],
  // statistics, section 0: rounding is defined up to a million
  [
    'a range beyond a million',
    measure('{unit: N, sides: each, plausible: »[0, 2000000]}'),
    'x.plausible [0, 2000000] goes beyond a million | Choose a larger unit.',
  ],
  [
    'angles that pass zero in percent, by default',
    measure('{unit: deg, sides: each, plausible: »[-10, 60]}'),
    'x may read below 0 (plausible from -10), so its sides cannot be compared in percent | Add compare: gap. Angles that pass zero are never percent.',
  ],
  [
    'angles that pass zero in percent, as written',
    measure('{unit: deg, sides: each, compare: »percent, plausible: [-10, 60]}'),
    'x may read below 0 (plausible from -10), so its sides cannot be compared in percent',
  ],
  [
    'scores in percent',
    measure('{unit: 1, sides: each, levels: [0, 1], compare: »percent}'),
    'x.compare "percent" does not go with levels: scores are never percent | Write compare: gap or compare: none.',
  ],
  [
    'levels that fall',
    measure('{unit: 1, sides: each, levels: [0, 2, »1]}'),
    'x.levels are not ascending: 1 follows 2',
  ],
  [
    'best of a range in between',
    measure('{unit: deg, sides: none, better: between, trials: {keep: »best}}'),
    'x.trials.keep "best" does not go with better: between, where no attempt is the best | Write keep: mean, median, first or last.',
  ],
  [
    'both limbs of a measure without sides',
    measure('{unit: N, sides: none, »plausible_both: [1, 2]}'),
    'x.plausible_both is for the two limbs at once, and x has no sides | Take it out.',
  ],
  [
    'a dominant side without sides',
    measure('{unit: N, sides: none, »dominance: kicking_foot}'),
    'x.dominance names a dominant side, and x has no sides | Take it out.',
  ],
  [
    'a dominance column that tells no side',
    measure('{unit: N, sides: each, dominance: »sex}'),
    'x.dominance "sex" is a roster column that does not tell a side | Name a column of your own, for example kicking_foot.',
  ],
  [
    'an error without a number',
    measure('{unit: N, sides: each, »error: {basis: occasions}}'),
    'x.error needs exactly one of sem, sem_pct, mdc, mdc_pct, and has none of them',
  ],
  [
    'an error with two numbers',
    measure('{unit: N, sides: each, »error: {sem: 1, mdc: 2, basis: occasions}}'),
    'x.error needs exactly one of sem, sem_pct, mdc, mdc_pct, and has sem and mdc',
  ],
  [
    'an error without basis',
    measure('{unit: N, sides: each, »error: {sem: 1}}'),
    'x.error has no basis | Add basis: what was repeated to find it: occasions, testers or trials.',
  ],
  [
    'a level of a standard error',
    measure('{unit: N, sides: each, error: {sem: 1, »level: 90, basis: trials}}'),
    'x.error.level belongs to mdc or mdc_pct, not to sem | Take it out.',
  ],
  [
    'another level',
    measure('{unit: N, sides: each, error: {mdc: 1, level: »80, basis: trials}}'),
    'x.error.level 80 is not one of 95, 90',
  ],
  [
    'an error of a field that is not there',
    measure('{unit: N, sides: none, errors: {»gap: {sem: 1, basis: trials}}}'),
    'x.errors.gap: x has no sides, so it has no gap | Take it out.',
  ],
  [
    'a name with capitals and hyphens',
    measure('{unit: N, sides: each}').replace('  x', '  »Hip-Add'),
    '"Hip-Add" cannot be a name in measures: small letters, digits and _, a letter first | Write hip_add and give the text as its label.',
  ],
  [
    'a name that objects have of their own',
    measure('{unit: N, sides: each}').replace('  x', '  »__proto__'),
    '__proto__ cannot be used as a name | Choose another name.',
  ],
])('measures: %s', (_, text, ...told) => {
  const given = marked(text, 'protocol.yaml');
  expectTroubles(
    given,
    failureOf(() => loadProtocol(given.text, 'protocol.yaml')),
    told,
  );
});

test.each<[string, string, ...string[]]>([
  [
    'no operator',
    derived('{label: X}').replace('  x', '  »x'),
    'x needs exactly one operator, and has none | The operators are ratio, difference, per, percent_of, sum, mean, total, z_mean.',
  ],
  [
    'two operators',
    derived('{ratio: [force, force_too], sum: [force, force_too]}').replace('  x', '  »x'),
    'x needs exactly one operator, and has ratio and sum',
  ],
  ['an unknown part', derived('{ratio: [force, »forc_too]}'), 'there is no measure forc_too | Did you mean force_too?'],
  ['itself', derived('{sum: [force, »x]}'), 'x.sum names itself | Name what it is worked out from.'],
  [
    'a part further down',
    derived('{sum: [force, »y]}\n  y: {sum: [force, force_too]}'),
    'x.sum names y, which stands further down | Move y above x.',
  ],
  ['a part twice', derived('{sum: [force, »force]}'), 'x.sum names force twice | Take one out.'],
  [
    'three parts of a ratio',
    derived('{ratio: »[force, force_too, angle]}'),
    'x.ratio has 3 entries, and takes at most 2',
  ],
  [
    'parts of two kinds',
    derived('{sum: [force, »angle]}'),
    'x.sum takes force in N and angle in deg, which do not convert into each other | Take measures of one kind.',
  ],
  [
    'a ratio of two kinds',
    derived('{ratio: [force, »height]}'),
    'x.ratio takes force in N and height in cm, which do not convert into each other | For a quotient of different kinds use per.',
  ],
  [
    'percent of without a mean',
    derived('{sum: [force, force_too], »as_percent_of: height}'),
    'x.as_percent_of goes with mean only, not with sum | Take it out.',
  ],
  [
    'percent of another kind',
    derived('{mean: [force, force_too], as_percent_of: »height}'),
    'x.as_percent_of takes height in cm, and the mean is in N | Take a measure of the same kind.',
  ],
  [
    'percent of nothing',
    derived('{mean: [force, force_too], as_percent_of: »hight}'),
    'there is no measure hight | Did you mean height?',
  ],
  [
    'a side of a sum',
    derived('{sum: [force, force_too], »side: worse}'),
    'x.side goes with total only, not with sum | Take it out.',
  ],
  [
    'a total that does not say which side',
    derived('{total: [force, force_too]}').replace('  x', '  »x'),
    'x has no side, and force has two | Add side: worse, better, mean or both.',
  ],
  [
    'the worse side where none is',
    derived('{total: [height, arch], side: »worse}'),
    'x.side "worse" does not go with arch, where neither higher nor lower is better | Write side: mean or both.',
  ],
  [
    'more parts than there are',
    derived('{total: [force, force_too], side: both, needs: »3}'),
    'x.needs 3 is more than its 2 parts',
  ],
  [
    'needs some',
    derived('{total: [force, force_too], side: both, needs: »some}'),
    'x.needs "some" is not one of all, a number',
  ],
  [
    'a mean z without within',
    derived('{z_mean: [force, height]}').replace('  x', '  »x').replace('height]}', 'angle]}'),
    'x has no within | Add within: [sex], or within: [] to compare with everybody.',
  ],
  [
    'a mean z within an unknown column',
    derived('{z_mean: [force, angle], within: [sex, »kicking_fot]}'),
    'there is no column kicking_fot | Did you mean kicking_foot?',
  ],
  [
    'a mean z of a range in between',
    derived('{z_mean: [force, »height], within: []}'),
    'x.z_mean takes height, where neither higher nor lower is better | Take it out of the list.',
  ],
  // statistics, section 3: n ≥ max(min_group, 10)
  ['a small group', derived('{z_mean: [force, angle], within: [], min_group: »5}'), 'x.min_group 5 is below 10'],
  [
    'a unit of another kind',
    derived('{sum: [force, force_too], unit: »cm}'),
    'x.unit "cm" does not convert into N, the unit it stands for',
  ],
  ['trials', derived('{sum: [force, force_too], »trials: {keep: mean}}'), 'x: unknown key "trials"'],
  [
    'the name of a measure',
    derived('{sum: [force, force_too]}').replace('  x', '  »force'),
    'force is the name of a measure already | Choose another name.',
  ],
])('derived measures: %s', (_, text, ...told) => {
  const given = marked(text, 'protocol.yaml');
  expectTroubles(
    given,
    failureOf(() => loadProtocol(given.text, 'protocol.yaml')),
    told,
  );
});

test.each<[string, string, ...string[]]>([
  [
    'no grade',
    rule('{measure: force, below: 1}').replace('  r', '  »r'),
    'r has no grade | Add grade: watch, act or refer.',
  ],
  [
    'an unknown measure',
    rule('{measure: »forse, below: 1, grade: act}'),
    'there is no measure forse | Did you mean force?',
  ],
  [
    'an unknown field',
    rule('{measure: force, field: »deficit, below: 1, grade: act}'),
    'r.field "deficit" is not one of value, worse, deficit_pct, gap, difference, direction_pct, dominance_pct, dominance_gap, z, change, status',
  ],
  [
    'no limit',
    rule('{measure: force, grade: act}').replace('  r', '  »r'),
    'rule r needs exactly one of below, at_most, above, at_least or status, and has none',
  ],
  [
    'two limits',
    rule('{measure: force, below: 1, »at_least: 2, grade: act}'),
    'rule r needs exactly one of below, at_most, above, at_least or status, and has below and at_least',
  ],
  [
    'a limit and a status',
    rule('{measure: force, below: 1, »status: pain, grade: act}'),
    'rule r needs exactly one of below, at_most, above, at_least or status, and has below and status',
  ],
  [
    'a decimal comma',
    rule('\n    measure: force\n    below: »0,80\n    grade: act'),
    'r.below "0,80" is not a number | Write a decimal point: 0.80.',
  ],
  [
    'a decimal comma between braces',
    rule('{measure: force, below: 0,»80, grade: act}'),
    'r: unknown key "80" | If it is the end of a decimal number, write a decimal point.',
  ],
  [
    'a key that sticks to its value',
    rule('{measure: force, below: 1, grade: act, »of:kept}'),
    'r: unknown key "of:kept" | Put a space after the colon.',
  ],
  [
    'a deficit of a measure without sides',
    rule('{measure: height, field: »deficit_pct, above: 1, grade: act}'),
    'rule r: height has no sides, so it has no deficit_pct | Write field: value.',
  ],
  [
    'the worse side of a measure without sides',
    rule('{measure: height, field: »worse, above: 1, grade: act}'),
    'rule r: height has no sides, so it has no worse | Write field: value.',
  ],
  [
    'percent of a measure compared by its gap',
    rule('{measure: angle, field: »deficit_pct, above: 1, grade: act}'),
    'rule r: angle compares its sides by compare: gap, so it has no deficit_pct | Write another field, or change how the measure compares its sides.',
  ],
  [
    'a gap of a measure that is not compared',
    rule('{measure: bare, field: »gap, above: 1, grade: act}'),
    'rule r: bare says compare: none, so it has no gap',
  ],
  [
    'dominance without a column',
    rule('{measure: angle, field: »dominance_gap, above: 1, grade: act}'),
    'rule r: angle names no dominance column, so it has no dominance_gap',
  ],
  [
    'any trial of a deficit',
    rule('{measure: force, field: deficit_pct, of: »any_trial, above: 1, grade: act}'),
    'rule r has of: any_trial, which goes with field: value or worse only | Take it out.',
  ],
  [
    'any trial of a derived measure',
    `${HEAD}derived:\n  x: {sum: [force, force_too]}\nrules:\n  r: {measure: x, of: »any_trial, above: 1, grade: act}\n`,
    'rule r has of: any_trial, and x is worked out from kept readings | Take it out.',
  ],
  [
    'a status of a derived measure',
    `${HEAD}derived:\n  x: {sum: [force, force_too]}\nrules:\n  r: {measure: »x, status: pain, grade: act}\n`,
    'rule r asks for a status of x, which is worked out and never attempted | Write the rule for its parts: force, force_too.',
  ],
  [
    'a status with another field',
    rule('{measure: force, field: »gap, status: pain, grade: act}'),
    'rule r has a status and field: gap | Take the field out.',
  ],
  [
    'a field status that does not say which',
    rule('{measure: force, field: »status, grade: act}'),
    'rule r has field: status and does not say which | Add status: pain or status: unable.',
  ],
  [
    'an unknown rule under also',
    rule('{measure: force, below: 1, grade: act, also: [»rr]}'),
    'there is no rule rr | Known: r.',
  ],
  [
    'itself under also',
    rule('{measure: force, below: 1, grade: act, also: [»r]}'),
    'rule r names itself under also | Take it out.',
  ],
  [
    'rules that wait for each other',
    `${HEAD}rules:\n  a: {measure: force, below: 1, grade: act, also: [b]}\n  b: {measure: force, below: 1, grade: act, also: [c]}\n  c: {measure: force, below: 1, grade: act, also: [»a]}\n`,
    'rules wait for each other in a circle: a, b, c, a | Take one out.',
  ],
  [
    'an unknown programme',
    rule('{measure: force, below: 1, grade: act, program: »hips}'),
    'there is no programme hips | Describe it under programmes.',
  ],
  [
    'an unknown sport group',
    rule('{measure: force, below: 1, grade: act, sport_groups: [»groin]}'),
    'there is no sport group groin | There is none to choose from yet.',
  ],
  [
    'a sex that is recorded otherwise',
    rule('{measure: force, below: 1, grade: act, sex: »female}'),
    'rule r: sex "female" is kept as F | Write sex: F.',
  ],
  [
    'neither yes nor no',
    rule('{measure: force, below: 1, grade: act, share: »maybe}'),
    'r.share "maybe" is not one of true, false, yes, no',
  ],
  [
    'an urgency without a referral',
    rule('{measure: force, below: 1, grade: act, »urgency: now}'),
    'rule r has an urgency, and its grade is act: only referrals are more or less urgent | Take it out, or write grade: refer.',
  ],
  [
    'a slip inside history',
    rule('{measure: force, below: 1, grade: act, history: {region: groin, »within_day: 365}}'),
    'r.history: unknown key "within_day" | Did you mean within_days?',
  ],
  [
    'a change',
    rule('{measure: force, field: »change, from: last, below: 1, grade: act}'),
    'rule r uses field: change, which this version cannot judge yet | Take the rule out, or keep it in a comment until then.',
  ],
  [
    'a z',
    rule('{measure: force, field: »z, within: [sex], below: -1, grade: act}'),
    'rule r uses field: z, which this version cannot judge yet | Take the rule out, or keep it in a comment until then.',
  ],
  [
    'from without a change',
    rule('{measure: force, »from: last, below: 1, grade: act}'),
    'rule r has from, which goes with field: change only | Take it out.',
  ],
])('rules: %s', (_, text, ...told) => {
  const given = marked(text, 'protocol.yaml');
  expectTroubles(
    given,
    failureOf(() => loadProtocol(given.text, 'protocol.yaml')),
    told,
  );
});

test.each<[string, string, ...string[]]>([
  [
    'everyone has an unknown measure',
    `${HEAD}everyone: [height, »heigt]\n`,
    'there is no measure heigt | Did you mean height?',
  ],
  [
    'a sport group has an unknown measure',
    `${HEAD}sport_groups:\n  g: {teams: [Rowing], measures: [»forse]}\n`,
    'there is no measure forse | Did you mean force?',
  ],
  [
    'a sport group has no teams',
    `${HEAD}sport_groups:\n  »g: {measures: [force]}\n`,
    'g has no teams | Add teams: a list of teams.',
  ],
  [
    'a programme has no owner',
    `${HEAD}programs:\n  »p: {shared: x}\n`,
    'p has no owner | Add owner: strength or medical, the staff who lead it.',
  ],
  [
    'a compound has an unknown part',
    `${HEAD}compounds:\n  c: {headings: [c], parts: [force, »forse]}\n`,
    'there is no measure forse | Did you mean force?',
  ],
  [
    'a compound has a derived part',
    `${HEAD}derived:\n  x: {sum: [force, force_too]}\ncompounds:\n  c: {headings: [c], parts: [force, »x]}\n`,
    'c.parts names x, which is worked out, so no cell holds it | Take it out.',
  ],
  [
    'a compound has the name of a measure',
    `${HEAD}compounds:\n  »force: {headings: [c], parts: [force, force_too]}\n`,
    'force is the name of a measure already | Choose another name.',
  ],
  [
    'a status has an unknown grade',
    `${HEAD}statuses: {pain: »reffer}\n`,
    'statuses.pain "reffer" is not one of watch, act, refer | Did you mean refer?',
  ],
  ['a share beyond one', `${HEAD}sharing: {from_share: »33}\n`, 'sharing.from_share 33 is above 1'],
  [
    'both spellings of programmes',
    `${HEAD}programs: {}\n»programmes: {}\n`,
    'programmes is given twice, first in line 9 | Take one of them out.',
  ],
])('groups: %s', (_, text, ...told) => {
  const given = marked(text, 'protocol.yaml');
  expectTroubles(
    given,
    failureOf(() => loadProtocol(given.text, 'protocol.yaml')),
    told,
  );
});

test('all troubles are told at once, in the order of the file', () => {
  const given = marked(
    `bilat: 1
measures:
  force: {unit: N, sides: each, »colour: red}
  power: {unit: »Wat, sides: each}
  speed: {unit: cm, sides: »both}
derived:
  mix: {ratio: [force, »foce]}
  slow: {ratio: [speed, force]}
rules:
  weak: {measure: »frce, below: 1, grade: act}
  weaker: {measure: force, below: 1, grade: »axt, also: [weak]}
  weakest: {measure: speed, below: 1, grade: act, also: [weaker]}
everyone: [»hight, speed]
`,
    'protocol.yaml',
  );
  expectTroubles(
    given,
    failureOf(() => loadProtocol(given.text, 'protocol.yaml')),
    [
      'force: unknown key "colour"',
      'power.unit "Wat" is no UCUM unit known here',
      'speed.sides "both" is not one of each, none',
      'there is no measure foce',
      'there is no measure frce',
      'weaker.grade "axt" is not one of watch, act, refer',
      'there is no measure hight',
    ],
  );
});

test('a trouble reads as one line with its place and one with its cure', () => {
  const failure = failureOf(() => loadProtocol(measure('{unit: degg, sides: each}'), 'protocol.yaml'));
  expect(failure.message).toBe('protocol.yaml:3:13: x.unit "degg" is no UCUM unit known here\n  Did you mean deg?');
});
