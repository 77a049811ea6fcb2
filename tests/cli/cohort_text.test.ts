import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { cohortText } from '../../src/cli/render/cohort.ts';
import { percentText, ratioText } from '../../src/cli/render/cohort_numbers.ts';
import { shareBar } from '../../src/cli/render/share_bar.ts';
import { measureOf, protocolOf, type ResultGiven, sides } from '../findings/build.ts';
import { cohortOf, type People } from '../groups/build.ts';

// Worked out by hand: sign i of a line of w stands for i/w to (i + 1)/w.
describe('a share as a bar', () => {
  test.each([
    [{ share: 0.5, low: 0.25, high: 0.75 }, 9, '··──█──··'],
    [{ share: 0, low: 0, high: 0.2 }, 10, '█─········'],
    [{ share: 1, low: 0.8, high: 1 }, 10, '········─█'],
    [{ share: 0.3, low: 0.3, high: 0.3 }, 10, '···█······'],
    [{ share: 0.5, low: 0, high: 1 }, 1, '█'],
  ])('%j', (interval, width, bar) => {
    expect(shareBar(interval, width)).toBe(bar);
  });
});

test.each([
  [0.45, 0.33, '45'],
  [0.326, 0.33, '32.6'],
  [0.3333, 0.33, '33'],
  [0.33, 0.33, '33'],
  [0.004, 0.33, '<1'],
  [0.996, 0.33, '>99'],
  [0, 0.33, '0'],
  [1, 0.33, '100'],
])('a share of %d beside a limit of %d is %s %%', (share, limit, text) => {
  expect(percentText(share, limit)).toBe(text);
});

test.each([
  [2.144, '2.1'],
  [0.456, '0.46'],
  [0.004, '<0.01'],
  [0.9961, '0.996'],
  [1.0002, '1.0002'],
  [1, '1'],
  [123.4, '120'],
])('a ratio of %d is %s', (ratio, text) => {
  expect(ratioText(ratio)).toBe(text);
});

const PROTOCOL = protocolOf({
  measures: [measureOf('hip', { label: 'Hip strength' }), measureOf('knee', { label: 'Knee strength' })],
  rules: [
    { name: 'hip_low', measure: 'hip', comparator: 'below', limit: 200, grade: 'watch', share: true },
    { name: 'knee_low', measure: 'knee', comparator: 'below', limit: 200, grade: 'refer' },
    { name: 'knee_high', measure: 'knee', comparator: 'above', limit: 900 },
  ],
});

/** Some of a team weak at the hip, of whom the first at the knee too. */
function team(name: string, count: number, weak: number): { people: People; rows: ResultGiven[] } {
  const ids = Array.from({ length: count }, (_, at) => `${name}-${at}`);
  return {
    people: Object.fromEntries(ids.map((id, at) => [id, { team: name, sex: at % 2 ? 'F' : 'M' }])),
    rows: ids.flatMap((athlete_id, at) => [
      { athlete_id, team: name, measure: 'hip', ...sides(at < weak ? 150 : 250, 250) },
      { athlete_id, team: name, measure: 'knee', ...sides(at < 1 && weak > 0 ? 150 : 250, 250) },
    ]),
  };
}

const LONG = 'Combined novice and varsity synchronised swimming';
const TEAMS = [team('Rowing', 10, 4), team('Judo', 8, 6), team('Chess', 6, 0), team(LONG, 3, 2)];
const PEOPLE: People = Object.assign({}, ...TEAMS.map(({ people }) => people));
const ROWS = TEAMS.flatMap(({ rows }) => rows);
const textAt = (width: number, rows = ROWS, options = {}): string =>
  cohortText(cohortOf(rows, PEOPLE, PROTOCOL, options), PROTOCOL, { width, color: false });
const oneLine = (text: string): string => text.replace(/\s+/g, ' ');

describe('the text', () => {
  test.each([40, 60, 80, 110, 200])('fits a terminal of %d columns', (width) => {
    for (const options of [{}, { seasons: 'pooled' }]) {
      for (const line of textAt(width, ROWS, options).split('\n')) {
        expect(stringWidth(line)).toBeLessThanOrEqual(Math.min(width, 110));
      }
    }
  });

  test('rules by grade, then groups: shared work first, then by share', () => {
    const text = textAt(110);
    const order = text
      .slice(text.indexOf('knee_low (refer)'))
      .match(/^(\w+ \((refer|act|watch)\)| {2}(everybody|team \w+|sex \w))/gm);
    // Worked out by hand: knee 3 of 14 of M, 1 of 8, 1 of 10; hip 6 of 8, 6 of 13 of F, 6 of 14 of M, 4 of 10.
    expect(order).toEqual([
      'knee_low (refer)',
      '  everybody',
      '  sex M',
      '  team Judo',
      '  team Rowing',
      'hip_low (watch)',
      '  everybody',
      '  team Judo',
      '  sex F',
      '  sex M',
      '  team Rowing',
    ]);
  });

  test('what is too few, clear, kept, and not to be added up', () => {
    const text = oneLine(textAt(80));
    expect(text).toContain(
      'Season 2026: 2 rules that somebody breaks Shared work: team Judo: hip_low, 6 of 8 tested (75 %).',
    );
    expect(text).toContain(`Too few: team ${LONG} (3 tested, 5 needed; 2 flagged).`);
    expect(text).toContain('Nobody flagged: team Chess.');
    expect(text).toContain('Nobody tested breaks 4 rules: knee_high, pain, unable, one_side.');
    expect(text).toContain('An athlete counts in each of their teams: rows do not add up to all.');
    expect(text).toMatch(/\d of \d+ intervals of ratios excludes? 1; about [\d.]+ expected by chance\./);
    expect(text).toContain('A screen finds limits; it does not diagnose, and no finding is not clearance.');
    expect(text).not.toMatch(/signific|at risk/i);
  });

  test('a rule that flags more than half of everybody is questioned, one that flags half is not', () => {
    const sentence = 'hip_low flags more than half of everybody: check device, unit and tester first.';
    expect(oneLine(textAt(80))).not.toContain(sentence);
    const weak = ROWS.map((row) => (row.measure === 'hip' ? { ...row, ...sides(150, 250) } : row));
    expect(oneLine(textAt(80, weak))).toContain(sentence);
  });

  test('who was not tested is told, with what the share would be at the least and at the most', () => {
    const rows = ROWS.filter(
      ({ athlete_id, measure }) => measure !== 'hip' || !/^(Rowing-9|Judo-7)$/.test(athlete_id!),
    );
    const text = oneLine(textAt(110, rows));
    // Worked out by hand: 12 of 25 tested are weak, 27 in all; 6 of 7 of Judo, where the eighth cannot turn the decision.
    expect(text).toContain('Not tested: everybody (2 of 27; with them it is 44 % at least and 52 % at most)');
    expect(text).not.toContain('team Judo (1 of 8');
    expect(text).toContain('Whoever was not tested for a rule is in none of its shares.');
  });

  test('several seasons: no decision, and a word on who counts how often', () => {
    const later = ROWS.map((row) => ({ ...row, season: 2027, date: '2027-08-12' }));
    const text = oneLine(textAt(80, [...ROWS, ...later], { seasons: 'pooled' }));
    expect(text).toContain('All seasons together: 2 rules that somebody breaks');
    expect(text).toContain('An athlete counts in each season; the intervals allow for that.');
    expect(text).not.toContain('Shared work');
    expect(text).not.toContain('decision');
    const both = textAt(80, [...ROWS, ...later]);
    expect(both.indexOf('Season 2027')).toBeLessThan(both.indexOf('Season 2026'));
  });

  test('a name that steers the terminal is made harmless', () => {
    const rows = [{ athlete_id: 'X1', team: 'a\u001b[2J', measure: 'hip', ...sides(150, 250) }];
    expect(cohortText(cohortOf(rows, {}, PROTOCOL), PROTOCOL, { width: 80, color: false })).not.toContain('\u001b');
  });

  test('nothing to say', () => {
    expect(textAt(80, [])).toBe('No rows.\n');
    expect(oneLine(textAt(80, [{ athlete_id: 'Chess-0', measure: 'knee', ...sides(250, 250) }]))).toContain(
      'Season 2026: 0 rules that somebody breaks No group shares work.',
    );
  });
});
