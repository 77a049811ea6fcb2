import type { Check } from '../findings/check.ts';
import type { Findings } from '../tables/schemas.ts';

/** Sides on which somebody breaks a rule, as bits. */
export const FOUND = { left: 1, right: 2, other: 4 } as const;

function bitOf(side: string | null): number {
  return side === 'left' ? FOUND.left : side === 'right' ? FOUND.right : FOUND.other;
}

/** Sides on which a row of results breaks a check. */
export function brokenSides({ probes }: Check, row: number): number {
  return probes.reduce((bits, probe) => (probe.isBroken(row) ? bits | bitOf(probe.sideOf(row)) : bits), 0);
}

/** Reads on which sides an athlete has findings on one occasion, by rule, in an array of the reader's own. */
export type FindingReader = (athleteId: string, season: number, day: number) => Uint8Array;

/** @param names rules and built-in statuses in the order of the arrays */
export function findingReader({ columns, length }: Findings, names: readonly string[]): FindingReader {
  const orders = new Map(names.map((name, order) => [name, order]));
  const known = new Map<string, Uint8Array>();
  const keyOf = (athleteId: string, season: number, day: number): string => `${season} ${day} ${athleteId}`;
  for (let row = 0; row < length; row++) {
    const order = orders.get(columns.rule.get(row) ?? '');
    if (order === undefined) continue;
    const key = keyOf(columns.athlete_id.get(row) ?? '', columns.season.values[row], columns.date.days[row]);
    const found = known.get(key) ?? new Uint8Array(names.length);
    known.set(key, found);
    found[order] |= bitOf(columns.side.get(row));
  }
  return (athleteId, season, day) => known.get(keyOf(athleteId, season, day))?.slice() ?? new Uint8Array(names.length);
}
