import stringWidth from 'string-width';
import { describe, expect, test } from 'vitest';
import { type PlanFacts, planText } from '../../src/cli/render/plan.ts';
import { dayOf, hip, one, PROTOCOL, planOf, ROWING, weakTeam } from '../groups/plan_build.ts';

const made = planOf([...weakTeam(), hip('A5', 98, 130, { date: '2026-08-15' }), one('A1', 'systolic', 170)], ROWING, {
  clearance: [{ athleteId: 'A2', status: 'pending' }],
});
const facts: PlanFacts = {
  season: 2026,
  on: dayOf('2026-08-20'),
  by: undefined,
  audience: 'medical',
  names: new Map([['A1', 'Bo Reed\u001b[31m']]),
  knowsClearance: true,
  withoutClearance: Array.from({ length: 30 }, (_, at) => `athlete-${at}`),
  unplanned: made.unplanned,
  total: made.plan.length,
  protocol: PROTOCOL,
};
const text = (width: number, given: Partial<PlanFacts> = {}): string =>
  planText(made.plan, { ...facts, ...given }, { width, color: false });

describe('the plan as text', () => {
  test.each([60, 80, 120])('fits %d columns', (width) => {
    for (const by of [undefined, 'athlete', 'programme'] as const) {
      for (const line of text(width, { by }).split('\n')) expect(stringWidth(line)).toBeLessThanOrEqual(width);
    }
  });

  test('names stand beside ids, and nothing steers the terminal', () => {
    expect(text(80)).toContain('  1  A1 Bo Reed\ufffd[31m, Rowing');
    expect(text(80)).not.toContain('\u001b');
  });

  test('of many athletes without clearance the first are named', () => {
    expect(text(80).replaceAll('\n', ' ')).toContain('30 athletes have no line in clearance.csv');
    expect(text(80)).toContain('and 10 more.');
  });

  test('by athlete and by programme each has a heading; medical staff come first', () => {
    const headings = (by: PlanFacts['by']): string[] =>
      [...text(80, { by }).matchAll(/\n\n([^\n]+)\n/g)].map(([, line]) => line);
    expect(headings('athlete').slice(0, 4)).toEqual([
      'To medical staff: 1',
      'On hold: 1',
      'What teams do together: 1',
      'A1: 1',
    ]);
    expect(headings('programme')).toEqual(
      expect.arrayContaining(['To medical staff: 1', 'On hold: 1', 'Hip work: 2', 'Cautions']),
    );
  });

  test('findings without a line are counted by their reason', () => {
    expect(text(80)).toMatch(/\nFindings without a line: \d+\n +\d+ {2}measured again since\n/);
    expect(text(80, { audience: 'coach' })).not.toContain('Findings without');
  });
});
