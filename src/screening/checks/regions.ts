import type { Problem } from '../../problems/problem.ts';
import { nearest } from '../../protocol/nearest.ts';
import type { Protocol } from '../../protocol/types.ts';
import { foldKey } from '../../units/keys.ts';
import { quoted } from './wording.ts';

const LONGEST_REGION = 80;

/** A region that a row of injuries or history names. */
export interface NamedRegion {
  readonly region: string;
  readonly file: string;
  readonly line: number | null;
}

/** Regions of injuries that are nearly, and not quite, a region of the rules: they are not counted as the same. */
export function checkRegions({ rules }: Protocol, named: readonly NamedRegion[]): Problem[] {
  const known = new Map(
    rules.flatMap(({ region }) => (region === undefined ? [] : [[foldKey(region), region] as const])),
  );
  const told = new Set<string>();
  return named.flatMap(({ region, file, line }): Problem[] => {
    const key = region.length > LONGEST_REGION ? '' : foldKey(region);
    if (key === '' || known.has(key) || told.has(`${file}\n${key}`)) return [];
    told.add(`${file}\n${key}`);
    const near = nearest(key, known.keys());
    if (near === undefined) return [];
    const meant = known.get(near)!;
    const message = `region ${quoted(region)} is no region of the rules, and ${quoted(meant)} is: the two are not taken for one`;
    const hint = `If they are one, write ${quoted(meant)} in both files.`;
    return [{ severity: 'note', code: 'region_near', file, line, column: null, message, hint, paste: null }];
  });
}
