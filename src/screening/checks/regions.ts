import { isNotSaid } from '../../athletes/side_cells.ts';
import { partsOfRules, regionParts } from '../../groups/limits.ts';
import type { Problem } from '../../problems/problem.ts';
import { nearest } from '../../protocol/nearest.ts';
import type { Protocol } from '../../protocol/types.ts';
import { foldKey } from '../../units/keys.ts';
import { quoted } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

const LONGEST_REGION = 80;

/** A region that a row of injuries, history or clearance names. */
export interface NamedRegion {
  readonly region: string;
  readonly file: string;
  readonly line: number | null;
  /** whether it may be the name of somebody, which no message repeats */
  readonly isName?: boolean;
}

/** '' for what is no region, but a text. */
const keyOf = (region: string): string => (region.length > LONGEST_REGION ? '' : foldKey(region));

/** Regions of injuries that are nearly, and not quite, a region of the rules: they are not counted as the same. */
export function checkRegions({ rules }: Protocol, named: readonly NamedRegion[]): Problem[] {
  const known = new Map(
    rules
      .flatMap(({ region, history }) => [region, history?.region])
      .flatMap((region) => (region === undefined ? [] : [[foldKey(region), region] as const])),
  );
  const told = new Set<string>();
  return named.flatMap(({ region, file, line, isName }): Problem[] => {
    const key = keyOf(region);
    if (isName || key === '' || known.has(key) || told.has(`${file}\n${key}`)) return [];
    told.add(`${file}\n${key}`);
    const near = nearest(key, known.keys());
    if (near === undefined) return [];
    const meant = known.get(near)!;
    const message = `region ${quoted(region)} is no region of the rules, and ${quoted(meant)} is: the two are not taken for one`;
    const hint = `If they are one, write ${quoted(meant)} in both files.`;
    return [{ severity: 'note', code: 'region_near', file, line, column: null, message, hint, paste: null }];
  });
}

/** Regions of clearance that no rule has, each once: nobody knows from which work they keep an athlete. */
export function checkClearanceRegions(protocol: Protocol, named: readonly NamedRegion[]): Problem[] {
  const known = partsOfRules(protocol);
  const told = new Set<string>();
  return named.flatMap(({ region, file, line, isName }): Problem[] => {
    const parts = isNotSaid(region) ? [] : regionParts(region);
    const strange = parts.filter((part) => !known.has(part) && !told.has(part));
    if (strange.length === 0) return [];
    for (const part of strange) told.add(part);
    const near = strange.flatMap((part) => (part.length > LONGEST_REGION ? [] : (nearest(part, known) ?? [])));
    const message = `region${isName ? '' : ` ${quoted(region)}`} is no region of the rules: whoever is limited there is held from everything`;
    const hint =
      near.length > 0 ? `Did you mean ${near.join(', ')}?` : `Regions of the rules: ${[...known].join(', ')}.`;
    return [
      { severity: 'warning', code: 'clearance_region_unknown', file, line, column: null, message, hint, paste: null },
    ];
  });
}

/**
 * Rules for athletes with an earlier injury of a region that no injury names: they judge nobody.
 * @param files lists of injuries that are there
 */
export function checkHistories(
  { rules }: Protocol,
  named: readonly NamedRegion[],
  files: readonly string[],
  places: YamlPlaces,
): Problem[] {
  const known = new Set(named.map(({ region }) => keyOf(region)));
  const shown = new Map(named.flatMap(({ region, isName }) => (isName ? [] : [[keyOf(region), region] as const])));
  return rules.flatMap(({ name, history }): Problem[] => {
    if (history === undefined) return [];
    const { region } = history;
    if (files.length === 0) {
      const message = `rule ${name} is for athletes with an earlier injury, and neither injuries.csv nor history.csv is there: it judges nobody`;
      const hint = 'Write earlier injuries into history.csv, with athlete_id, region, side and date.';
      return [places.problem('warning', 'history_without_file', ['rules', name, 'history'], message, hint, 'key')];
    }
    if (known.has(foldKey(region))) return [];
    const near = nearest(foldKey(region), shown.keys());
    const message = `rule ${name} is for athletes with an earlier injury of ${quoted(region)}, a region that ${files.join(' and ')} ${files.length === 1 ? 'does' : 'do'} not name: it judges nobody`;
    const hint =
      near === undefined
        ? 'If nobody was hurt there, that is right; else write the region as the lists have it.'
        : `If ${quoted(shown.get(near)!)} is meant, write it alike in both files.`;
    return [places.problem('warning', 'history_region_unknown', ['rules', name, 'history', 'region'], message, hint)];
  });
}
