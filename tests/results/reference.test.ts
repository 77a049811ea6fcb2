import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { round9 } from '../../src/stats/round9.ts';
import { derived, type Person, type Reading } from './build.ts';

// tests/reference/a1-survey: data `survey` of the R package MASS 7.3-58.2, expected columns by R 4.2.2.
const file = (name: string): string => readFileSync(new URL(`../reference/a1-survey/${name}`, import.meta.url), 'utf8');

const [head, ...lines] = file('spans.csv').trimEnd().split('\n');
const names = head.split(',');
const people = lines
  .map((line) => Object.fromEntries(line.split(',').map((cell, at) => [names[at], cell])))
  .filter((row) => row.left !== '' && row.right !== '');

const BODY = 'measures:\n  hand_span: {label: Hand span, unit: cm, sides: each, dominance: writing_hand}\n';
const WANTED = {
  deficit_pct: 'deficit_pct',
  direction_pct: 'right_minus_left_pct_of_max',
  dominance_pct: 'dominant_minus_other_pct_of_max',
  symmetry_angle: 'symmetry_angle',
} as const;

describe('hand spans of 235 people with both hands and a known writing hand', async () => {
  const readings = people.flatMap(({ id, left, right }): Reading[] => [
    { id, measure: 'hand_span', side: 'left', value: Number(left) },
    { id, measure: 'hand_span', side: 'right', value: Number(right) },
  ]);
  const hands = people.map((row): [string, Person] => [
    row.id,
    { dominance: [row.writing_hand === 'Left' ? 'left' : 'right'] },
  ]);
  const rows = await derived(BODY, readings, Object.fromEntries(hands));

  it.each(Object.entries(WANTED))('%s', (field, column) => {
    expect(rows.length).toBe(235);
    for (const [at, row] of rows.entries()) {
      const want = Number(people[at][column]);
      expect(row.athlete_id).toBe(people[at].id);
      expect(Math.abs(row[field as keyof typeof WANTED]! - want)).toBeLessThanOrEqual(1e-9 * Math.abs(want) + 1e-10);
    }
  });

  it('who exceeds 10 %', () => {
    const beyond = rows.filter((row) => round9(row.deficit_pct!) > 10).map((row) => row.athlete_id);
    expect(beyond).toEqual(JSON.parse(file('beyond_10.json')).ids);
  });
});
