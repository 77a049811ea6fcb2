import { describe, expect, test } from 'vitest';
import { readRoster } from '../../src/athletes/roster.ts';
import type { Problem } from '../../src/problems/problem.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { checkEntries, type FoundEntry } from '../../src/screening/checks/entries.ts';
import { checkNamesInSettings } from '../../src/screening/checks/names_in_settings.ts';
import { checkProtocol } from '../../src/screening/checks/protocol.ts';
import { fieldRange, largestZ } from '../../src/screening/checks/ranges.ts';
import { checkClearanceRegions, checkHistories, checkRegions } from '../../src/screening/checks/regions.ts';
import { checkRoster } from '../../src/screening/checks/roster.ts';
import { isMisspelling, nearestTeam } from '../../src/screening/checks/team_names.ts';
import { checkRuleTeams, checkTeams } from '../../src/screening/checks/teams.ts';
import { yamlPlaces } from '../../src/screening/checks/yaml_places.ts';
import { loadScreening } from '../../src/screening/config.ts';
import { marked } from '../protocol/marked.ts';

const FILE = 'p.yaml';

/** Three measures and what is worked out from them; every rule has its source and strength. */
const HEAD = `bilat: 1
measures:
  push: { unit: N, sides: each, plausible: [10, 1000], error: { sem_pct: 6, basis: occasions }, headings: [push] }
  bend: { unit: deg, sides: each, compare: gap, plausible: [-10, 90], error: { mdc: 8, basis: occasions }, headings: [bend] }
  faults: { unit: "1", sides: none, better: lower, levels: [0, 1, 2, 3], error: { sem: 0.5, basis: testers } }
  mass: { unit: kg, sides: none, plausible: [30, 250], error: { sem: 0.5, basis: occasions }, headings: [weight] }
derived:
  push_per_kg: { per: [push, mass] }
  push_z: { z_mean: [push, push_per_kg], within: [sex], min_group: 10 }
`;

const SAID = 'grade: watch, source: "J 2001;1:1-2", strength: weak';
const rules = (...lines: string[]): string => `${HEAD}rules:\n${lines.map((line) => `  ${line}\n`).join('')}`;

function problemsIn(text: string): { problems: Problem[]; places: readonly string[] } {
  const { text: plain, places } = marked(text, FILE);
  const problems = checkProtocol(loadProtocol(plain, FILE), yamlPlaces(plain, FILE));
  return { problems, places };
}

const placeOf = ({ file, line, column }: Problem): string => `${file}:${line}:${column}`;

test('the protocol of these tests has nothing to be said about', () => {
  const clean = rules(`a: { measure: push, field: deficit_pct, at_least: 30, ${SAID} }`);
  expect(problemsIn(clean).problems).toEqual([]);
});

describe('each rule of good practice finds its fault, with its place, and leaves the clean neighbour alone', () => {
  test.each<[string, Problem['severity'], string, string, string, string, string]>([
    [
      'a rule without source',
      'warning',
      'rule_without_source',
      rules('»a: { measure: faults, at_least: 2, grade: act, strength: weak }'),
      'rule a says no source, so nobody can tell what it rests on',
      'Add source: the study, "common practice" or "from memory".',
      rules(`a: { measure: faults, at_least: 2, ${SAID} }`),
    ],
    [
      'rules without strength',
      'note',
      'rule_without_strength',
      rules(
        '»a: { measure: faults, at_least: 2, grade: act, source: x }',
        'b: { measure: push, below: 50, grade: act, source: x }',
      ),
      '2 rules without strength of evidence: a and b',
      'Add strength: in whom the limit was found, and how many.',
      rules(`a: { measure: faults, at_least: 2, ${SAID} }`),
    ],
    [
      'custom in place of a study',
      'note',
      'source_is_custom',
      rules(
        `z: { measure: push, below: 50, ${SAID} }`,
        'a: { measure: faults, at_least: 2, grade: act, strength: weak, source: »Common practice }',
        'b: { measure: push, below: 60, grade: watch, strength: weak, source: from memory }',
      ),
      '2 of 3 rules rest on common practice or memory alone, no study: a and b',
      'Confirm them with your team physician before they decide anything.',
      rules(`a: { measure: faults, at_least: 2, ${SAID} }`),
    ],
    [
      'measures without error',
      'note',
      'error_not_declared',
      rules(`a: { measure: mass, above: 150, ${SAID} }`, `b: { measure: push_per_kg, below: 1, ${SAID} }`).replace(
        /mass: (.*)error: [^}]*}, /,
        '»mass: $1',
      ),
      '2 measures without a measurement error, so that their findings say error_unknown: mass and push_per_kg',
      'Add error: to a measure, or to those it is worked out from, once you know yours.',
      rules(`a: { measure: mass, above: 150, ${SAID} }`, `b: { measure: push_per_kg, below: 1, ${SAID} }`),
    ],
    [
      // 1.96·√2·6·0.9 = 14.97 at a deficit of 10 %; √2·1.96·sem of an MDC95 of 8 is 8.
      'limits inside the error',
      'note',
      'limit_within_error',
      rules(
        `a: { measure: push, field: deficit_pct, at_least: »10, ${SAID} }`,
        `b: { measure: bend, field: gap, at_least: 7, ${SAID} }`,
      ),
      '2 limits inside the measurement error: a (10 in ±15 %) and b (7 in ±8 deg)',
      'A reading near such a limit is within_error: repeat the test before acting on it.',
      rules(
        `a: { measure: push, field: deficit_pct, at_least: 15, ${SAID} }`,
        `b: { measure: bend, field: gap, at_least: 8, ${SAID} }`,
      ),
    ],
    [
      'a declared error of the field itself',
      'note',
      'limit_within_error',
      rules(`a: { measure: bend, field: gap, at_least: »9, ${SAID} }`).replace(
        'headings: [bend]',
        'errors: { gap: { sem: 5, basis: occasions } }, headings: [bend]',
      ),
      '1 limit inside the measurement error: a (9 in ±9.8 deg)',
      'A reading near such a limit is within_error: repeat the test before acting on it.',
      rules(`a: { measure: bend, field: gap, at_least: 10, ${SAID} }`).replace(
        'headings: [bend]',
        'errors: { gap: { sem: 5, basis: occasions } }, headings: [bend]',
      ),
    ],
    [
      'grades out of order',
      'warning',
      'grades_out_of_order',
      rules(
        `a: { measure: push, below: 50, ${SAID} }`,
        `b: { measure: push, at_most: »60, ${SAID.replace('watch', 'act')} }`,
      ),
      'rule b (act, value at most 60) is broken sooner than a (watch, value below 50), which has the weaker grade',
      'Change the two limits over, or their grades.',
      rules(
        `a: { measure: push, below: 60, ${SAID} }`,
        `b: { measure: push, at_most: 50, ${SAID.replace('watch', 'act')} }`,
        `c: { measure: push, above: 700, ${SAID.replace('watch', 'refer')} }`,
        `d: { measure: push, below: 70, sex: F, ${SAID.replace('watch', 'act')} }`,
        `e: { measure: push, below: 80, also: [c], ${SAID.replace('watch', 'act')} }`,
      ),
    ],
    [
      'a rule said twice',
      'warning',
      'rule_repeated',
      rules(`a: { measure: push, below: 50, ${SAID} }`, `»b: { measure: push, below: 50, ${SAID} }`),
      'rule b judges push value below 50, as a does in line 11: the athlete is told twice',
      'Take one of them out, or narrow them to different athletes.',
      rules(`a: { measure: push, below: 50, sex: M, ${SAID} }`, `b: { measure: push, below: 50, sex: F, ${SAID} }`),
    ],
    [
      'a limit that no reading reaches',
      'warning',
      'limit_unreachable',
      rules(`a: { measure: push, below: »10, ${SAID} }`),
      'rule a: no push can be value below 10, since plausible readings give 10 to 1000 N: the rule is never broken',
      'Check the limit, its direction and its unit, or the plausible range of the measure.',
      rules(`a: { measure: push, at_most: 10, ${SAID} }`),
    ],
    [
      'a gap wider than the range',
      'warning',
      'limit_unreachable',
      rules(`a: { measure: bend, field: gap, above: »100, ${SAID} }`),
      'rule a: no bend can be gap above 100, since plausible readings give 0 to 100 deg: the rule is never broken',
      'Check the limit, its direction and its unit, or the plausible range of the measure.',
      rules(`a: { measure: bend, field: gap, at_least: 100, ${SAID} }`),
    ],
    [
      'a score that there is not',
      'warning',
      'limit_unreachable',
      rules(`a: { measure: faults, at_least: »4, ${SAID} }`),
      'rule a: no faults can be value at least 4, since plausible readings give 0 to 3: the rule is never broken',
      'Check the limit, its direction and its unit, or the plausible range of the measure.',
      rules(`a: { measure: faults, at_least: 3, ${SAID} }`),
    ],
    [
      // 10 N by 250 kg to 1000 N by 30 kg.
      'a limit that a worked-out measure never reaches',
      'warning',
      'limit_unreachable',
      rules(`a: { measure: push_per_kg, above: »34, ${SAID} }`),
      'rule a: no push_per_kg can be value above 34, since plausible readings give 0.04 to 33.333 N/kg: the rule is never broken',
      'Check the limit, its direction and its unit, or the plausible range of the measure.',
      rules(`a: { measure: push_per_kg, above: 33, ${SAID} }`),
    ],
    [
      'a limit that everybody breaks',
      'warning',
      'limit_always_broken',
      rules(`a: { measure: push, field: deficit_pct, at_least: »0, ${SAID} }`),
      'rule a: every plausible push is deficit_pct at least 0 (they give 0 to 99 %), so everybody is flagged',
      'Check the limit, its direction and its unit.',
      rules(`a: { measure: push, field: deficit_pct, above: 30, ${SAID} }`),
    ],
    [
      // (10 − 1)/√10 = 2.846
      'a z that ten athletes cannot hold',
      'error',
      'z_unreachable',
      rules(`a: { measure: push_z, below: »-2.85, ${SAID} }`),
      'rule a: no push_z can be value below −2.85, since among 10 athletes no z lies beyond ±2.846, which is (n − 1)/√n',
      'Choose a limit nearer to 0, or raise min_group.',
      rules(`a: { measure: push_z, below: -2.84, ${SAID} }`),
    ],
    [
      'a measure in no battery',
      'warning',
      'rule_without_battery',
      `${rules(`a: { measure: »faults, at_least: 2, ${SAID} }`)}everyone: [push, bend, mass, push_z]\n`,
      'rule a judges faults, which is in no sport group and not in everyone: it applies to nobody',
      'Add the measure to a sport group or to everyone.',
      `${rules(`a: { measure: faults, at_least: 2, ${SAID} }`)}everyone: [push, bend, mass, push_z, faults]\n`,
    ],
    [
      'a rule for teams that are not given its measure',
      'warning',
      'rule_without_team',
      `${rules(`»a: { measure: faults, at_least: 2, teams: [Judo], ${SAID} }`)}everyone: [push, bend, mass, push_z]
sport_groups: { feet: { teams: [Rowing], measures: [faults] } }\n`,
      'rule a is narrowed to teams that are not given faults: it applies to nobody of a single team',
      'Widen teams or sport_groups of the rule, or add the measure to their sport group.',
      `${rules(`a: { measure: faults, at_least: 2, teams: [rowing], ${SAID} }`)}everyone: [push, bend, mass, push_z]
sport_groups: { feet: { teams: [Rowing], measures: [faults] } }\n`,
    ],
    [
      'rules that no team is given together',
      'warning',
      'also_never_met',
      `${rules(`a: { measure: faults, at_least: 2, also: [»b], ${SAID} }`, `b: { measure: bend, below: 20, ${SAID} }`)}everyone: [push, mass, push_z]
sport_groups: { feet: { teams: [Rowing], measures: [faults] }, hips: { teams: [Judo], measures: [bend] } }\n`,
      'rule a asks for b as well, and no team is given both: it is hardly ever broken',
      'Put both measures into one sport group, or take the name out of also.',
      `${rules(`a: { measure: faults, at_least: 2, also: [b], ${SAID} }`, `b: { measure: bend, below: 20, ${SAID} }`)}everyone: [push, mass, push_z]
sport_groups: { feet: { teams: [Rowing], measures: [faults] }, hips: { teams: [Judo, Rowing], measures: [bend] } }\n`,
    ],
    [
      'rules for two sexes',
      'warning',
      'also_never_met',
      rules(
        `a: { measure: faults, at_least: 2, sex: F, also: [»b], ${SAID} }`,
        `b: { measure: bend, below: 20, sex: M, ${SAID} }`,
      ),
      'rule a asks for b as well, and one is for sex F, the other for M: it is hardly ever broken',
      'Put both measures into one sport group, or take the name out of also.',
      rules(
        `a: { measure: faults, at_least: 2, sex: F, also: [b], ${SAID} }`,
        `b: { measure: bend, below: 20, ${SAID} }`,
      ),
    ],
    [
      'a heading of two measures',
      'warning',
      'heading_shared',
      HEAD.replace('headings: [bend]', 'headings: [bend, Weight]').replace('[weight]', '[»weight]'),
      'heading "weight" of mass is one of bend too, in line 4: a column of that name is not read',
      'Take it out of one of them.',
      HEAD.replace('headings: [bend]', 'headings: [bend, bending]'),
    ],
    [
      'a heading that is also what is worked out',
      'warning',
      'heading_shared',
      HEAD.replace('headings: [push]', 'headings: [push, push per kg]').replace('  push_per_kg', '  »push_per_kg'),
      'heading "push_per_kg" of push_per_kg is one of push too, in line 3: a column of worked-out numbers is then read as measured',
      'Take it out of one of them.',
      HEAD,
    ],
    [
      'a heading that is the word for a role',
      'warning',
      'heading_is_role',
      HEAD.replace('headings: [bend]', 'headings: [bend, »Leg]'),
      'heading "Leg" of bend is also the word for a column of side, and is read as that',
      'Choose a heading that names the test.',
      HEAD.replace('headings: [bend]', 'headings: [bend, leg bend]'),
    ],
    [
      'a heading that is the third trial of another measure',
      'warning',
      'heading_reads_otherwise',
      HEAD.replace('headings: [bend]', 'headings: [bend, »3 push]'),
      'heading "3 push" of bend reads as push, trial 3 as well, and is never taken for that',
      'Choose another heading if your sheets mean that by it.',
      HEAD.replace('headings: [bend]', 'headings: [bend, deep push]'),
    ],
    [
      'a heading with a side in it',
      'warning',
      'heading_reads_otherwise',
      HEAD.replace('headings: [push]', 'headings: [push, »push left]'),
      'heading "push left" of push reads as push, left as well, and is never taken for that',
      'Choose another heading if your sheets mean that by it.',
      HEAD,
    ],
    [
      'a heading that is a side',
      'warning',
      'heading_reads_otherwise',
      HEAD.replace('headings: [push]', 'headings: [push, »RT]'),
      'heading "RT" of push reads as right as well, and is never taken for that',
      'Choose another heading if your sheets mean that by it.',
      HEAD.replace('headings: [push]', 'headings: [push, RTX]'),
    ],
    [
      'measures that nothing uses',
      'note',
      'measure_unused',
      `${HEAD.replace('  faults', '  »faults')}everyone: [push_z, bend]\n`,
      '1 measure that no sport group, rule or other measure uses: faults',
      'Add them to a sport group or to everyone, or take them out.',
      `${HEAD}everyone: [push_z, bend, faults]\n`,
    ],
    [
      'a programme that nobody prescribes',
      'note',
      'programme_unused',
      `${HEAD}programmes:\n  »more: { owner: strength, individual: More of it. }\n`,
      '1 programme that no rule prescribes: more',
      'Name them in a rule with programme:, or take them out.',
      HEAD,
    ],
    [
      'a programme for a group that has no words for one',
      'warning',
      'programme_without_shared',
      `${rules(`a: { measure: push, below: 50, share: yes, programme: more, ${SAID} }`)}programmes:\n  »more: { owner: strength, individual: More. }\n`,
      'programme more has no shared text, and a whole group may be given it by rule a',
      'Add shared: what the group does, or share: no to the rule.',
      `${rules(`a: { measure: push, below: 50, share: no, programme: more, ${SAID} }`)}programmes:\n  more: { owner: strength, individual: More. }\n`,
    ],
    [
      'a programme for single athletes that has no words for them, in the American spelling',
      'warning',
      'programme_without_individual',
      `${rules(`a: { measure: push, field: deficit_pct, at_least: 30, program: more, ${SAID} }`)}programs:\n  »more: { owner: strength, shared: More. }\n`,
      'programme more has no individual text, and single athletes are given it by rule a',
      'Add individual: what one athlete does.',
      `${rules(`a: { measure: push, field: deficit_pct, at_least: 30, program: more, ${SAID} }`)}programs:\n  more: { owner: strength, individual: More. }\n`,
    ],
  ])('%s', (_, severity, code, faulty, message, hint, neighbour) => {
    const { problems, places } = problemsIn(faulty);
    const found = problems.filter((problem) => problem.code === code);
    expect(found.map((problem) => ({ ...problem, at: placeOf(problem) }))).toEqual([
      expect.objectContaining({ severity, message, hint, at: places[0] }),
    ]);
    expect(problemsIn(neighbour).problems.filter((problem) => problem.code === code)).toEqual([]);
  });
});

describe('ranges', () => {
  test('no z of n athletes lies beyond (n − 1)/√n', () => {
    // One athlete at 9, nine at −1: mean 0, sample SD √((81 + 9)/9) = √10, z = 9/√10.
    expect(largestZ(10)).toBeCloseTo(9 / Math.sqrt(10), 12);
    expect(largestZ(25)).toBeCloseTo(4.8, 12);
  });

  test.each([
    ['value', [0, 50]],
    ['worse', [0, 50]],
    ['gap', [0, 50]],
    ['difference', [-50, 50]],
    ['deficit_pct', [0, 100]],
    ['direction_pct', [-100, 100]],
    ['change', undefined],
    ['status', undefined],
  ] as const)('of %s', (field, range) => {
    const { byName } = loadProtocol(
      'bilat: 1\nmeasures: { x: { unit: cm, sides: each, plausible: [0, 50] }, y: { unit: cm, sides: each } }\n',
      FILE,
    );
    expect(fieldRange(byName.get('x')!, field)).toEqual(range);
    if (field === 'value') expect(fieldRange(byName.get('y')!, field)).toEqual([-Infinity, Infinity]);
    if (field === 'deficit_pct') expect(fieldRange(byName.get('y')!, field)).toEqual([0, 100]);
  });

  test('of what is worked out, in its own unit', () => {
    const { byName } = loadProtocol(
      `bilat: 1
measures:
  hop: { unit: cm, sides: each, plausible: [50, 250] }
  height: { unit: m, sides: none, plausible: [1, 2] }
  count: { unit: "1", sides: each, better: lower, levels: [0, 1, 2, 3] }
  count_too: { unit: "1", sides: none, better: lower, levels: [0, 1, 2] }
derived:
  by_height: { percent_of: [hop, height] }
  longer: { difference: [hop, height] }
  middle: { mean: [hop, height] }
  tally: { total: [count, count_too], side: both }
  apart: { ratio: [hop, longer] }
`,
      FILE,
    );
    const range = (name: string) =>
      fieldRange(byName.get(name)!, 'value')?.map((bound) => Math.round(bound * 1e9) / 1e9);
    expect(range('by_height')).toEqual([25, 250]);
    expect(range('longer')).toEqual([-150, 150]);
    expect(range('middle')).toEqual([75, 225]);
    expect(range('tally')).toEqual([0, 8]);
    expect(range('apart')).toEqual([-Infinity, Infinity]);
  });
});

describe('teams', () => {
  const GROUPS = `${HEAD}sport_groups:
  feet: { teams: [Soccer, WP], measures: [faults] }
  hips: { teams: [Judo, Soccer], measures: [push, bend, push_z] }
`;
  const protocol = loadProtocol(GROUPS, FILE);
  const places = yamlPlaces(GROUPS, FILE);
  const alone = (team: string, athletes: number): string =>
    `team "${team}" (${athletes} athletes) is in no sport group, so it is given the measures of everyone only`;
  const said = (teams: Record<string, number>, aliases: Record<string, string> = {}) =>
    checkTeams(
      protocol,
      new Map(Object.entries(teams)),
      { teamAliases: new Map(Object.entries(aliases)) },
      'r.csv',
      places,
    ).map(({ severity, code, file, line, message, hint, paste }) => [
      severity,
      code,
      `${file}:${line}`,
      message,
      hint,
      ...(paste === null ? [] : [paste]),
    ]);

  test('that go together, folded, and no roster at all', () => {
    expect(said({ soccer: 3, JUDO: 2, wp: 1 })).toEqual([]);
    expect(said({})).toEqual([]);
  });

  test('of the roster that are in no sport group, with the one that may be meant', () => {
    expect(said({ "Women's soccer": 3, "Men's Soccer": 2, Judo: 2, WP: 1, Chess: 1 })).toEqual([
      [
        'warning',
        'team_without_sport_group',
        'r.csv:null',
        'team "Chess" (1 athlete) is in no sport group, so it is given the measures of everyone only',
        'Add it to teams: of a sport group in the protocol, if it should be given more.',
      ],
      [
        'warning',
        'team_without_sport_group',
        'r.csv:null',
        'teams "Women\'s soccer" (3 athletes) and "Men\'s Soccer" (2 athletes) are in no sport group, so they are given the measures of everyone only',
        'Sport group feet has "Soccer" (line 11). If they belong there, write in place of its teams:',
        'teams: [Soccer, "WP", "Women\'s soccer", "Men\'s Soccer"]',
      ],
      [
        'warning',
        'team_without_sport_group',
        'r.csv:null',
        'teams "Women\'s soccer" (3 athletes) and "Men\'s Soccer" (2 athletes) are in no sport group, so they are given the measures of everyone only',
        'Sport group hips has "Soccer" (line 12). If they belong there, write in place of its teams:',
        'teams: [Judo, Soccer, "Women\'s soccer", "Men\'s Soccer"]',
      ],
    ]);
  });

  test('of two sports in one cell are parted by a semicolon', () => {
    const found = said({ 'Soccer / Judo': 1, 'Soccer and Judo': 1, Soccer: 3, Judo: 2, WP: 1 });
    const hint = 'Two teams of one athlete are parted by a semicolon: write "Soccer;Judo" in the roster.';
    expect(found.map((one) => one[4])).toEqual([hint, hint]);
    expect(said({ 'Track and field': 1, WP: 1, Soccer: 1, Judo: 1 })[0][4]).toMatch(/^Add it to teams/);
  });

  test('that stand in one group only, while another has a name that nobody has', () => {
    const text = GROUPS.replace('[Soccer, WP]', '["Women\'s soccer", WP]');
    const check = (yaml: string) =>
      checkTeams(
        loadProtocol(yaml, FILE),
        new Map([
          ["Women's soccer", 3],
          ['WP', 1],
          ['Judo', 2],
        ]),
        { teamAliases: new Map() },
        'r.csv',
        yamlPlaces(yaml, FILE),
      ).map(({ severity, line, message, paste }) => [severity, line, message, paste]);
    expect(check(text).slice(0, 1)).toEqual([
      [
        'warning',
        12,
        'sport group hips has team "Soccer", which is not on the roster; the roster has "Women\'s soccer", and other groups have it',
        'teams: [Judo, Soccer, "Women\'s soccer"]',
      ],
    ]);
    const pasted = text.replace('[Judo, Soccer]', '[Judo, Soccer, "Women\'s soccer"]');
    expect(check(pasted).map(([severity]) => severity)).toEqual(['note']);
  });

  test('with a slip of one letter or two get one alias each, all in one block', () => {
    const found = said({ Socer: 3, Scocer: 1, 'Ju-do': 2 });
    const paste = 'teams:\n  Soccer: { also: [Socer] }\n  Judo: { also: ["Ju-do"] }';
    const hint = (group: string, team: string, line: number): string =>
      `Sport group ${group} has "${team}" (line ${line}). If that is one team, write it in one way in both files, or add to screening.yaml:`;
    expect(found.filter((one) => one.length > 5)).toEqual([
      ['warning', 'team_without_sport_group', 'r.csv:null', alone('Socer', 3), hint('feet', 'Soccer', 11), paste],
      ['warning', 'team_without_sport_group', 'r.csv:null', alone('Ju-do', 2), hint('hips', 'Judo', 12), paste],
    ]);
    expect(loadScreening(`${paste}\nsheets: [a.csv]\n`, 's.yaml', '/x', new Set()).teamAliases.get('socer')).toBe(
      'Soccer',
    );
    expect(said({ Socer: 3 }, { wp: 'WP' })[0].slice(4)).toEqual([
      hint('feet', 'Soccer', 11).replace('add to', 'add below teams: of'),
      '  Soccer: { also: [Socer] }',
    ]);
  });

  test('in a long list are pasted in lines that are not too long, and read as one list', () => {
    const many = Array.from({ length: 9 }, (_, at) => `Women's team of the ${at}`);
    const text = GROUPS.replace('[Soccer, WP]', `[Rowing, ${many.map((team) => JSON.stringify(team)).join(', ')}]`);
    const [first] = checkTeams(
      loadProtocol(text, FILE),
      new Map([["Men's rowing", 4], ...many.map((team) => [team, 1] as const), ['Judo', 1], ['Soccer', 1]]),
      { teamAliases: new Map() },
      'r.csv',
      yamlPlaces(text, FILE),
    );
    const lines = first.paste!.split('\n');
    for (const line of lines) expect(line.length).toBeLessThan(74);
    const pasted = `${HEAD}sport_groups:\n  feet:\n    ${lines.join('\n')}\n    measures: [faults]\n`;
    expect(loadProtocol(pasted, FILE).sportGroups[0].teams).toEqual(['Rowing', ...many, "Men's rowing"]);
  });

  test('that a sport group calls by another name than the roster', () => {
    expect(said({ Soccer: 3, Judo: 2, 'Water polo': 4 }, { wp: 'Water polo' })).toEqual([
      [
        'warning',
        'team_without_sport_group',
        'r.csv:null',
        'team "Water polo" (4 athletes) is in no sport group, so it is given the measures of everyone only',
        'Sport group feet has "WP" (line 11). Write "Water polo" there.',
      ],
    ]);
  });

  test('that are like one that has its place are none the less others', () => {
    const text = GROUPS.replace('[Soccer, WP]', '[Soccer, WP, Basketball, Baseball]');
    const found = checkTeams(
      loadProtocol(text, FILE),
      new Map([
        ['Soccer', 1],
        ['Basketball', 1],
        ['Judo', 1],
      ]),
      { teamAliases: new Map() },
      'r.csv',
      yamlPlaces(text, FILE),
    );
    expect(found.map(({ severity, message }) => [severity, message])).toEqual([
      ['note', '2 teams of sport groups not on the roster: "WP" and "Baseball"'],
    ]);
  });

  test('are told in one line where there are too many for slips', () => {
    const found = said(Object.fromEntries(Array.from({ length: 51 }, (_, at) => [`T${at}`, 1])));
    expect(found.map(([, code, , message]) => [code, message])).toEqual([
      [
        'team_without_sport_group',
        '51 teams are in no sport group, so they are given the measures of everyone only: "T0", "T1", "T2", "T3", "T4", "T5", "T6", "T7" and 43 more',
      ],
    ]);
  });

  test('of sport groups that nobody is on are told in one note', () => {
    expect(said({ Soccer: 3 })).toEqual([
      [
        'note',
        'sport_group_team_absent',
        `${FILE}:11`,
        '2 teams of sport groups not on the roster: "WP" and "Judo"',
        'Leave them if they will come, or take them out.',
      ],
    ]);
  });

  test.each([
    ["Women's Soccer", ['Judo', 'Soccer'], 'Soccer'],
    ['Fenicng', ['Fencing', 'Judo'], 'Fencing'],
    ["Women's Soccer", ["Women's Judo"], undefined],
    ['X', ['Judo'], undefined],
  ])('%s among %j', (team, known, near) => expect(nearestTeam(team, known)).toBe(near));

  test.each([
    ['Swiming', 'Swimming', true],
    ['Womens Soccer', "Women's Soccer", true],
    ['Waterpolo', 'Water polo', true],
    ['Vollyeball', 'Volleyball', true],
    ["Men's Swimming", "Women's Swimming", false],
    ['M Soccer', 'W Soccer', false],
    ['Mens Soccer', 'Womens Soccer', false],
    ['Judo', 'Polo', false],
    ['Baseball', 'Basketball', false],
    ['Softball', 'Football', false],
    ['Swimming', "Men's Swimming", false],
  ])('%s and %s: a slip %s', (one, other, is) => {
    expect(isMisspelling(one, other)).toBe(is);
    expect(isMisspelling(other, one)).toBe(is);
  });

  test('that rules are narrowed to and nobody has', () => {
    const {
      text,
      places: [at],
    } = marked(
      `${rules(`a: { measure: faults, at_least: 2, teams: [Judo, »Scocer, JUDO], ${SAID} }`)}sport_groups: { feet: { teams: [Soccer], measures: [faults] } }\n`,
      FILE,
    );
    const found = checkRuleTeams(loadProtocol(text, FILE), new Map([['Judo', 1]]), yamlPlaces(text, FILE));
    expect(found.map((one) => [one.code, placeOf(one), one.message, one.hint])).toEqual([
      [
        'rule_team_unknown',
        at,
        'rule a is narrowed to team "Scocer", which is neither on the roster nor in a sport group',
        'Did you mean Soccer?',
      ],
    ]);
  });

  test.each([
    [
      'a slip',
      'Scocer: { also: [Fut] }',
      { Soccer: 2 },
      'teams: gives other spellings of "Scocer", which is neither on the roster nor in a sport group',
      'Did you mean Soccer?',
    ],
    [
      'a slip that the roster follows',
      'Scocer: { also: [Soccer] }',
      { Scocer: 2 },
      'teams: gives other spellings of "Scocer", which no sport group has',
      'Did you mean Soccer?',
    ],
    [
      'nobody',
      'Chess: { also: [Ch] }',
      { Soccer: 2 },
      'teams: gives other spellings of "Chess", which is neither on the roster nor in a sport group',
      'Write the team as the roster or the protocol has it.',
    ],
  ])('of other spellings: %s', (_, teams, roster, message, hint) => {
    const text = `teams:\n  ${teams}\nsheets: [a.csv]\n`;
    const check = (yaml: string) =>
      checkNamesInSettings(
        loadScreening(yaml, 's.yaml', '/x', new Set()),
        new Map(Object.entries(roster)),
        new Set(),
        yamlPlaces(yaml, 's.yaml'),
        protocol,
      ).map((one) => [one.code, placeOf(one), one.message, one.hint]);
    expect(check(text)).toEqual([['alias_team_unknown', 's.yaml:2:3', message, hint]]);
    expect(check('teams:\n  Soccer: { also: [Fut] }\nsheets: [a.csv]\n')).toEqual([]);
  });

  test('and a name where an id should stand is not repeated', () => {
    const text = 'people: { K1: "Jane Roe" }\nsheets: [a.csv]\n';
    const screening = loadScreening(text, 's.yaml', '/x', new Set());
    const found = checkNamesInSettings(screening, new Map(), new Set(['K1']), yamlPlaces(text, 's.yaml'), undefined);
    expect(found.map(({ message }) => message)).toEqual([
      'people: leads to what is no athlete_id, which is not on the roster',
    ]);
  });

  test('and athletes that the settings name and nobody knows', () => {
    const text = `people: { Bo: K1, Mo: K9 }
sheets: [{ files: a.csv, team: Judo }, { files: b.csv, team: Jduo }]
`;
    const screening = loadScreening(text, 's.yaml', '/x', new Set());
    const found = checkNamesInSettings(
      screening,
      new Map([['Judo', 2]]),
      new Set(['K1', 'K2']),
      yamlPlaces(text, 's.yaml'),
      undefined,
    );
    expect(found.map((problem) => [problem.code, placeOf(problem), problem.message, problem.hint])).toEqual([
      [
        'entry_team_unknown',
        's.yaml:2:62',
        'entry 2 says team "Jduo", which is not on the roster',
        'Did you mean Judo?',
      ],
      [
        'person_unknown',
        's.yaml:1:23',
        'people: leads to athlete_id "K9", which is not on the roster',
        'Did you mean K1?',
      ],
    ]);
  });
});

describe('roster', () => {
  const COLUMNS = 'athlete_id,last_name,first_name,sex,birth_date,entry_year,left_on,foot';
  const said = (...lines: string[]) => saidOf(COLUMNS, false, ...lines);
  const saidOf = (columns: string, needsTeams: boolean, ...lines: string[]) => {
    const text = `${columns}\n${lines.join('\n')}\n`;
    const spec = { key: 'roster', file: 'r.csv', columns: new Map<string, string>() };
    const problems = checkRoster(text, spec, readRoster(text, spec, ['foot'], new Map()), ['foot'], needsTeams);
    return problems.map(({ severity, code, line, message }) => [severity, code, line, message]);
  };

  test('without fault', () => {
    expect(said('K1,Ash,Bo,F,2005-01-02,2023,2026-05-01,left', 'K2,Ash,Mo,m,2005-01-02,2023,,R')).toEqual([]);
  });

  test.each([
    [
      ['K1,Ash,Bo,F,2015-01-02,2023,,left'],
      ['warning', 'dates_odd', 2, 'K1 was born on 2015-01-02 and entered in 2023, at the age of 8'],
    ],
    [
      ['K1,Ash,Bo,F,2005-01-02,2023,2022-05-01,left'],
      ['warning', 'dates_odd', 2, 'K1 left on 2022-05-01, before the entry year 2023'],
    ],
    [
      ['K1,Ash,Bo,F,2005-01-02,,1999-05-01,left'],
      ['warning', 'dates_odd', 2, 'K1 left on 1999-05-01, before being born on 2005-01-02'],
    ],
    [
      ['K1,Ash,Bo,F,2005-01-02,,,left', 'K2,Bo,Ash,F,2005-01-02,,,left'],
      [
        'warning',
        'athlete_twice',
        3,
        'K1 and K2 have one name and one birth date: a sheet that names it without id is held back',
      ],
    ],
    [
      ['K1,Ash,Bo,F,2005-01-02,,,left', 'K2,ÁSH,Bo,F,2004-01-02,,,left'],
      ['note', 'name_twice', 3, 'K1 and K2 have one name: a sheet that names it without id is held back'],
    ],
    [
      ['K1,Ash,Bo,F,,,,left', 'K2,Elm,Bo,X,,,,left', 'K3,Oak,Bo,X,,,,left'],
      [
        'note',
        'sex_other',
        3,
        'sex "X" of 2 athletes is kept as written and is neither F nor M: rules for one sex leave them out',
      ],
    ],
    [
      ['K1,Ash,Bo,F,,,,', 'K2,Elm,Bo,F,,,,left'],
      [
        'note',
        'dominance_empty',
        null,
        'foot is empty for 1 of 2 athletes, so that their dominant side is unknown: K1',
      ],
    ],
    [
      ['K1,Ash,Bo,F,,,,left', 'k1,Elm,Bo,F,,,,left'],
      [
        'warning',
        'ids_alike',
        3,
        'athlete_id "k1" and "K1" differ in capitals, spaces or leading zeros alone: a spreadsheet program may make one of the other',
      ],
    ],
    [
      ['K1,Ash,Bo,Bo 4,,,,left'],
      [
        'note',
        'sex_other',
        2,
        'sex of 1 athlete is kept as written and is neither F nor M: rules for one sex leave them out',
      ],
    ],
  ])('%j', (lines, expected) => expect(said(...lines)).toEqual([expected]));

  test('so many of one kind are told in one line', () => {
    const rows = Array.from({ length: 7 }, (_, at) => `K${at},Ash,Bo,Q${at},,,,left`);
    expect(said(...rows).map(([, code, , message]) => [code, message])).toEqual([
      ['name_twice', 'K0 and K1 have one name: a sheet that names it without id is held back; so in 5 more cases'],
      [
        'sex_other',
        'sex "Q0" of 1 athlete is kept as written and is neither F nor M: rules for one sex leave them out; so in 6 more cases',
      ],
    ]);
  });

  const FOLLOWS = 'are given the measures of everyone only, unless a sheet says the team';
  test.each<[string, string[], unknown[]]>([
    [
      'no column team',
      ['athlete_id', 'K1'],
      ['warning', 'roster_without_team', null, `has no column team, so its athletes ${FOLLOWS}`],
    ],
    [
      'blank teams',
      ['athlete_id,team', 'K1,Judo', 'K2,', 'K3,'],
      ['warning', 'team_empty', 3, `team is empty for 2 of 3 athletes, who ${FOLLOWS}: K2 and K3`],
    ],
    [
      'a name among the teams',
      ['athlete_id,last_name,team', 'K1,Roe,Judo', 'K2,Ash,Jane Roe'],
      [
        'warning',
        'team_is_name',
        3,
        'team of 1 athlete holds a word that is a name on the roster, and is not repeated here',
      ],
    ],
  ])('with %s', (_, [columns, ...lines], expected) => {
    expect(saidOf(columns, true, ...lines)).toEqual([expected]);
    expect(saidOf(columns, false, ...lines)).toEqual(expected[1] === 'team_is_name' ? [expected] : []);
    expect(
      saidOf(
        'athlete_id,last_name,team',
        true,
        'K1,Field,Track and field',
        'K2,Ash,Track and field',
        'K3,Oak,Track and field',
      ),
    ).toEqual([]);
  });
});

test('regions that are nearly those of the rules', () => {
  const protocol = loadProtocol(rules(`a: { measure: push, below: 50, region: groin, ${SAID} }`), FILE);
  const named = ['Groin', 'gronn', 'gronn', 'head', '', 'g'.repeat(100_000)];
  const found = checkRegions(
    protocol,
    named.map((region, at) => ({ region, file: 'injuries.csv', line: at + 2 })),
  );
  expect(found.map(({ severity, line, message, hint }) => [severity, line, message, hint])).toEqual([
    [
      'note',
      3,
      'region "gronn" is no region of the rules, and "groin" is: the two are not taken for one',
      'If they are one, write "groin" in both files.',
    ],
  ]);
});

describe('regions of clearance', () => {
  const protocol = loadProtocol(
    rules(
      `a: { measure: push, below: 50, region: Groin, ${SAID} }`,
      `b: { measure: bend, below: 9, region: knee, ${SAID} }`,
    ),
    FILE,
  );
  const said = (...regions: readonly string[]) =>
    checkClearanceRegions(
      protocol,
      regions.map((region, at) => ({ region, file: 'clearance.csv', line: at + 2, isName: region === 'Reed' })),
    ).map(({ severity, code, line, message, hint }) => [severity, code, line, message, hint]);
  const held = 'is no region of the rules: whoever is limited there is held from everything';

  test('that no rule has are said once, with the nearest', () => {
    expect(said('kneee', 'kneee', 'Reed', 'lower limb', 'groin; wrist')).toEqual([
      ['warning', 'clearance_region_unknown', 2, `region "kneee" ${held}`, 'Did you mean knee?'],
      ['warning', 'clearance_region_unknown', 4, `region ${held}`, 'Regions of the rules: groin, knee.'],
      ['warning', 'clearance_region_unknown', 5, `region "lower limb" ${held}`, 'Regions of the rules: groin, knee.'],
      ['warning', 'clearance_region_unknown', 6, `region "groin; wrist" ${held}`, 'Regions of the rules: groin, knee.'],
    ]);
  });

  test('that rules have are sound, with a side, in either case, and several at once', () => {
    expect(said('', 'n/a', 'GROIN', 'right knee', 'knee (L) and groin', 'Knee/groin')).toEqual([]);
  });
});

describe('rules for athletes with an earlier injury', () => {
  const text = rules(`a: { measure: push, below: 50, history: { region: groin }, ${SAID} }`);
  const said = (regions: readonly string[], files: readonly string[], isName = false) =>
    checkHistories(
      loadProtocol(text, FILE),
      regions.map((region, at) => ({ region, file: files[0], line: at + 2, isName })),
      files,
      yamlPlaces(text, FILE),
    ).map(({ severity, code, line, message, hint }) => [severity, code, line, message, hint]);
  const line = text.split('\n').findIndex((row) => row.includes('history')) + 1;

  test('without a list of injuries judge nobody', () => {
    expect(said([], [])).toEqual([
      [
        'warning',
        'history_without_file',
        line,
        'rule a is for athletes with an earlier injury, and neither injuries.csv nor history.csv is there: it judges nobody',
        'Write earlier injuries into history.csv, with athlete_id, region, side and date.',
      ],
    ]);
  });

  test('whose region no list names judge nobody; the nearest one is named, unless it may be somebody', () => {
    const message =
      'rule a is for athletes with an earlier injury of "groin", a region that injuries.csv and history.csv do not name: it judges nobody';
    const files = ['injuries.csv', 'history.csv'];
    const meant = 'If "Gronn" is meant, write it alike in both files.';
    const right = 'If nobody was hurt there, that is right; else write the region as the lists have it.';
    expect(said(['Gronn', ''], files)).toEqual([['warning', 'history_region_unknown', line, message, meant]]);
    expect(said(['Gronn'], files, true)).toEqual([['warning', 'history_region_unknown', line, message, right]]);
    expect(said(['adductor'], ['history.csv'])).toEqual([
      [
        'warning',
        'history_region_unknown',
        line,
        'rule a is for athletes with an earlier injury of "groin", a region that history.csv does not name: it judges nobody',
        right,
      ],
    ]);
  });

  test('whose region a list names are sound', () => {
    expect(said(['knee', ' GROIN '], ['injuries.csv'])).toEqual([]);
    expect(said(['groin'], ['injuries.csv'], true)).toEqual([]);
  });
});

describe('entries', () => {
  const entry = (files: readonly string[], isPlain = false, pattern = 'x'): FoundEntry => ({
    patterns: [{ pattern, files }],
    isPlain,
    path: ['sheets', 0],
    patternPath: () => ['sheets', 0],
  });
  const said = (entries: FoundEntry[], inSheets: string[], workbooks: string[] = [], out = 'out') =>
    checkEntries({ entries, inSheets, workbooks, out }, undefined).map(({ severity, code, message }) => [
      severity,
      code,
      message,
    ]);

  test.each<[string, ReturnType<typeof said>, string[][]]>([
    ['sound', said([entry(['sheets/a.csv'])], ['sheets/a.csv']), []],
    ['no sheet yet', said([entry([], true, 'sheets/*.csv')], []), [['note', 'no_sheets', 'there is no sheet yet']]],
    [
      'a pattern that finds nothing',
      said([entry(['sheets/a.csv']), entry([], false, 'sheets/hop-*.csv')], ['sheets/a.csv']),
      [['warning', 'pattern_without_file', '"sheets/hop-*.csv" matches no file']],
    ],
    [
      'an entry behind a wider one',
      said([entry(['sheets/a.csv', 'sheets/b.csv'], true), entry(['sheets/b.csv'])], ['sheets/a.csv', 'sheets/b.csv']),
      [
        [
          'warning',
          'entry_never_used',
          'entry 2 names nothing but sheets/b.csv, which entry 1 has taken already: the first entry holds, and this one says nothing',
        ],
      ],
    ],
    [
      'an overlap',
      said([entry(['sheets/a.csv']), entry(['sheets/a.csv', 'sheets/b.csv'])], ['sheets/a.csv', 'sheets/b.csv']),
      [
        [
          'note',
          'entries_overlap',
          'entry 2 also names sheets/a.csv, which entry 1 has taken already: the first entry holds',
        ],
      ],
    ],
    [
      'a pattern that gathers what is left',
      said([entry(['sheets/a.csv']), entry(['sheets/a.csv', 'sheets/b.csv'], true)], ['sheets/a.csv', 'sheets/b.csv']),
      [],
    ],
    [
      'sheets that nobody reads',
      said([entry(['sheets/a.csv'])], ['sheets/a.csv', 'sheets/new/b.csv'], ['sheets/c.xlsx']),
      [
        ['warning', 'sheet_unread', '1 file that no entry of screening.yaml reads: sheets/new/b.csv'],
        [
          'warning',
          'sheet_is_workbook',
          '1 workbook of a spreadsheet program, which bilat does not read: sheets/c.xlsx',
        ],
      ],
    ],
    [
      'tables among sheets',
      said([entry(['sheets/a.csv'])], ['sheets/a.csv'], [], 'sheets/out'),
      [
        [
          'warning',
          'out_among_sheets',
          'out: "sheets/out" lies among the sheets, so that tables of a run lie beside them',
        ],
      ],
    ],
  ])('%s', (_, found, expected) => expect(found).toEqual(expected));
});
