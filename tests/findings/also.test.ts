import { describe, expect, test } from 'vitest';
import { flag } from '../../src/findings/flag.ts';
import { briefly, measureOf, NOBODY, protocolOf, type ResultGiven, type RuleGiven, resultsOf, sides } from './build.ts';

const MEASURES = [measureOf('rotation'), measureOf('arc'), measureOf('sprint', { sides: 'none' })];
const ARC: RuleGiven = { name: 'arc_low', measure: 'arc', comparator: 'below', limit: 100 };
const SPRINT: RuleGiven = { name: 'sprint_slow', measure: 'sprint', comparator: 'above', limit: 5 };
const rotation = (also: string[]): RuleGiven => ({
  name: 'rotation_low',
  measure: 'rotation',
  comparator: 'below',
  limit: 50,
  also,
});

function judge(rules: RuleGiven[], ...rows: ResultGiven[]): string[] {
  return briefly(flag(resultsOf(rows), NOBODY, protocolOf({ measures: MEASURES, rules })));
}

describe('a rule with also', () => {
  test('needs the other rule broken on the same side', () => {
    expect(
      judge(
        [rotation(['arc_low']), ARC],
        { measure: 'rotation', ...sides(40, 40) },
        { measure: 'arc', ...sides(90, 110) },
      ),
    ).toEqual(['A1 rotation_low left', 'A1 arc_low left']);
  });

  test('is borne out on both sides by a rule without sides', () => {
    expect(
      judge(
        [rotation(['sprint_slow']), SPRINT],
        { measure: 'rotation', ...sides(40, 40) },
        { measure: 'sprint', value: 6 },
      ),
    ).toEqual(['A1 rotation_low left', 'A1 rotation_low right', 'A1 sprint_slow none']);
  });

  test('without a side of its own is borne out by either side', () => {
    const slow = { ...SPRINT, also: ['arc_low'] };
    expect(judge([slow, ARC], { measure: 'sprint', value: 6 }, { measure: 'arc', ...sides(110, 90) })).toEqual([
      'A1 arc_low right',
      'A1 sprint_slow none',
    ]);
  });

  test('needs all of the rules that it names', () => {
    const rules = [rotation(['arc_low', 'sprint_slow']), ARC, SPRINT];
    const rows: ResultGiven[] = [
      { measure: 'rotation', ...sides(40, 60) },
      { measure: 'arc', ...sides(90, 90) },
    ];
    expect(judge(rules, ...rows, { measure: 'sprint', value: 4 })).not.toContain('A1 rotation_low left');
    expect(judge(rules, ...rows, { measure: 'sprint', value: 6 })).toContain('A1 rotation_low left');
  });

  test.each([[{ date: '2026-10-12' }], [{ season: 2025 }], [{ athlete_id: 'A2' }]])(
    'is not borne out by a rule broken elsewhere: %o',
    (other) => {
      expect(
        judge(
          [rotation(['arc_low']), ARC],
          { measure: 'rotation', ...sides(40, 60) },
          { measure: 'arc', ...sides(90, 110), ...other },
        ).filter((finding) => finding.includes('rotation_low')),
      ).toEqual([]);
    },
  );

  test('falls with a rule that falls itself', () => {
    const rules = [rotation(['arc_low']), { ...ARC, also: ['sprint_slow'] }, SPRINT];
    expect(
      judge(
        rules,
        { measure: 'rotation', ...sides(40, 60) },
        { measure: 'arc', ...sides(90, 110) },
        { measure: 'sprint', value: 4 },
      ),
    ).toEqual([]);
  });

  test('is not borne out where the other rule does not apply', () => {
    const rules = [rotation(['arc_low']), { ...ARC, sex: 'F' }];
    expect(judge(rules, { measure: 'rotation', ...sides(40, 60) }, { measure: 'arc', ...sides(90, 110) })).toEqual([]);
  });
});
