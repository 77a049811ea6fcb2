import { GRADES, type Results } from '../tables/schemas.ts';
import { SIDES, type Side } from '../units/sides.ts';
import type { Battery } from './batteries.ts';
import type { Check } from './check.ts';

/** A check that a row of results breaks. */
export interface Hit {
  readonly row: number;
  readonly check: Check;
  readonly side: Side;
  /** the number that breaks the limit; NaN for a mark */
  readonly value: number;
  readonly battery: Battery;
}

/** Sorts hits by athlete, date, protocol order of the measure, rule and side: the order of the findings. */
export function sortHits(hits: Hit[], results: Results): void {
  const { athlete_id, date, season } = results.columns;
  const { texts } = athlete_id.dictionary;
  hits.sort((a, b) => {
    const [codeA, codeB] = [athlete_id.codes[a.row], athlete_id.codes[b.row]];
    if (codeA !== codeB) return texts[codeA] < texts[codeB] ? -1 : 1;
    return (
      date.days[a.row] - date.days[b.row] ||
      season.values[a.row] - season.values[b.row] ||
      a.check.measure.index - b.check.measure.index ||
      a.check.order - b.check.order ||
      SIDES.indexOf(a.side) - SIDES.indexOf(b.side)
    );
  });
}

/** Cuts sorted hits into those of one athlete on one occasion each. */
function* occasionsOf(hits: readonly Hit[], results: Results): Generator<readonly Hit[]> {
  const { athlete_id, date, season } = results.columns;
  const together = (a: number, b: number): boolean =>
    athlete_id.codes[a] === athlete_id.codes[b] &&
    date.days[a] === date.days[b] &&
    season.values[a] === season.values[b];
  let start = 0;
  for (let end = 1; end <= hits.length; end++) {
    if (end < hits.length && together(hits[start].row, hits[end].row)) continue;
    yield hits.slice(start, end);
    start = end;
  }
}

const isSided = (side: Side): boolean => side === 'left' || side === 'right';

/** A hit on one side is borne out by one on the same side, or by one that stands for no single side. */
function sidesAgree(a: Side, b: Side): boolean {
  return a === b || !isSided(a) || !isSided(b);
}

/** Leaves out the hits of rules that hold only where other rules are broken too, and those are not. */
function borneOut(occasion: readonly Hit[]): readonly Hit[] {
  const kept = occasion.filter((hit) =>
    (hit.check.rule?.also ?? []).every((name) =>
      occasion.some((other) => other.check.rule?.name === name && sidesAgree(hit.side, other.side)),
    ),
  );
  // A rule that fell may have borne out another one.
  return kept.length === occasion.length ? kept : borneOut(kept);
}

/** Whether a hit makes another one needless: one mark, found both by a rule and by the built-in check. */
function outweighs(a: Hit, b: Hit): boolean {
  if (a.check.kind !== 'status' || b.check.kind !== 'status' || a.check.status !== b.check.status) return false;
  if (a.row !== b.row || a.side !== b.side || (a.check.rule === undefined) === (b.check.rule === undefined))
    return false;
  const difference = GRADES.indexOf(a.check.grade) - GRADES.indexOf(b.check.grade);
  return difference > 0 || (difference === 0 && a.check.rule !== undefined);
}

/**
 * The hits that become findings. A rule with `also` needs those rules broken by the same athlete on the same occasion,
 * on the same side if both have one. Of a protocol's status rule and the built-in finding on the same mark the higher
 * grade stays, the protocol's rule if they are equal.
 * @param hits sorted
 */
export function standingHits(hits: readonly Hit[], results: Results): Hit[] {
  const standing: Hit[] = [];
  for (const occasion of occasionsOf(hits, results)) {
    const borne = borneOut(occasion);
    for (const hit of borne) if (!borne.some((other) => outweighs(other, hit))) standing.push(hit);
  }
  return standing;
}
