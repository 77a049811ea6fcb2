import type { Results } from '../tables/schemas.ts';
import { comparesSides, type PlanFinding } from './plan_findings.ts';

/** What was read of one measure of an athlete on one occasion. */
interface Reading {
  /** days since 1970-01-01 */
  readonly day: number;
  readonly left: boolean;
  readonly right: boolean;
  /** both limbs at once, or a measure without sides */
  readonly whole: boolean;
}

/** The day on which what a finding judged was last read again, later in the same season; undefined: it was not. */
export type AgainReader = (finding: PlanFinding) => number | undefined;

/**
 * Finds out what was measured again. A newer finding of the rule on the same side proves a newer reading; results tell of
 * those that are within the limits too.
 */
export function againReader(findings: readonly PlanFinding[], results: Results | undefined): AgainReader {
  // Only what a finding judged is kept of the results, which are many more.
  const readings = new Map<string, Reading[]>(
    findings.map(({ athleteId, season, measure }) => [keyOf(athleteId, season, measure.name), []]),
  );
  if (results) {
    const { athlete_id, season, measure, date, left, right, both, value } = results.columns;
    for (let row = 0; row < results.length; row++) {
      const own = readings.get(keyOf(athlete_id.get(row) ?? '', season.values[row], measure.get(row) ?? ''));
      if (own === undefined) continue;
      const isThere = (column: typeof left): boolean => !Number.isNaN(column.values[row]);
      own.push({
        day: date.days[row],
        left: isThere(left),
        right: isThere(right),
        whole: isThere(both) || isThere(value),
      });
    }
  }
  const newest = newestOfRules(findings);
  return (finding) => {
    const { athleteId, season, measure, day } = finding;
    const own = newest.get(ruleKey(finding)) ?? day;
    const later = (readings.get(keyOf(athleteId, season, measure.name)) ?? []).filter((one) => reads(one, finding));
    const last = later.reduce((latest, reading) => Math.max(latest, reading.day), own);
    return last > day ? last : undefined;
  };
}

const keyOf = (athleteId: string, season: number, measure: string): string => `${season} ${measure} ${athleteId}`;

function ruleKey(finding: PlanFinding): string {
  const { athleteId, season, measure, rule, side } = finding;
  return `${keyOf(athleteId, season, measure.name)}\n${rule}\n${comparesSides(finding) ? '' : side}`;
}

function newestOfRules(findings: readonly PlanFinding[]): Map<string, number> {
  const newest = new Map<string, number>();
  for (const finding of findings) {
    const key = ruleKey(finding);
    newest.set(key, Math.max(finding.day, newest.get(key) ?? finding.day));
  }
  return newest;
}

/** Whether a reading tells of what a finding judged. */
function reads({ left, right, whole }: Reading, finding: PlanFinding): boolean {
  if (comparesSides(finding)) return left && right;
  if (finding.side === 'left') return left;
  if (finding.side === 'right') return right;
  return whole || (left && right);
}
