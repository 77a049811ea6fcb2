import type { Results } from '../tables/schemas.ts';
import { comparesSides, type PlanFinding } from './plan_findings.ts';
import { lastReadReader, type ReadPart, type ReadWhat } from './read_again.ts';

/** The day on which what a finding judged was last read again, later in the same season; undefined: it was not. */
export type AgainReader = (finding: PlanFinding) => number | undefined;

/**
 * Finds out what was measured again. A newer finding of the rule on the same side proves a newer reading; results tell of
 * those that are within the limits too.
 */
export function againReader(findings: readonly PlanFinding[], results: Results | undefined): AgainReader {
  const lastRead = results && lastReadReader(results, findings.map(readOf));
  const newest = newestOfRules(findings);
  return (finding) => {
    const { day } = finding;
    const found = newest.get(ruleKey(finding)) ?? day;
    const read = lastRead?.(readOf(finding), partOf(finding), day) ?? day;
    const last = Math.max(found, read);
    return last > day ? last : undefined;
  };
}

const readOf = ({ athleteId, season, measure }: PlanFinding): ReadWhat => ({
  athleteId,
  season,
  measure: measure.name,
});

/** What a reading has to tell of to take the place of the one that a finding judged. */
export function partOf(finding: Pick<PlanFinding, 'field' | 'side'>): ReadPart {
  if (comparesSides(finding)) return 'each';
  return finding.side === 'left' || finding.side === 'right' ? finding.side : 'whole';
}

function ruleKey(finding: PlanFinding): string {
  const { athleteId, season, measure, rule, side } = finding;
  return `${season} ${measure.name} ${athleteId}\n${rule}\n${comparesSides(finding) ? '' : side}`;
}

function newestOfRules(findings: readonly PlanFinding[]): Map<string, number> {
  const newest = new Map<string, number>();
  for (const finding of findings) {
    const key = ruleKey(finding);
    newest.set(key, Math.max(finding.day, newest.get(key) ?? finding.day));
  }
  return newest;
}
