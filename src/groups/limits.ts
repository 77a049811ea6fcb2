import type { Desk, Standing } from '../athletes/desk.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import { foldKey } from '../units/keys.ts';
import { measuredFor } from './rule_needs.ts';

const SIDE_WORDS: ReadonlySet<string> = new Set(
  'left right l r lt rt both bilateral bilaterally side sides'.split(' '),
);
const BETWEEN = /[;,/&+]/;

/** The parts of the body that a region names, folded and without sides: "Right knee; groin" is knee and groin. */
export function regionParts(region: string): readonly string[] {
  const named = region.split(BETWEEN).flatMap((piece) => ` ${foldKey(piece)} `.split(' and '));
  const bare = named.map((part) =>
    part
      .split(' ')
      .filter((word) => word !== '' && !SIDE_WORDS.has(word))
      .join(' '),
  );
  return [...new Set(bare)].filter((part) => part !== '');
}

/** Parts of the body that the rules of a protocol have as their region. */
export function partsOfRules({ rules }: Protocol): ReadonlySet<string> {
  return new Set(rules.flatMap(({ region }) => (region === undefined ? [] : regionParts(region))));
}

/** From what medical staff keep an athlete. */
export interface Limits {
  /** everything: so it was said, or nobody can say what is left free */
  readonly isWhole: boolean;
  /** parts of the body, as `regionParts` names them */
  readonly parts: ReadonlySet<string>;
  /** those of them that no rule of the protocol has */
  readonly unplaced: readonly string[];
}

const NO_LIMITS: Limits = { isWhole: false, parts: new Set(), unplaced: [] };
const ALL_LIMITS: Limits = { ...NO_LIMITS, isWhole: true };

/** Finds from what an athlete is kept. A region that no rule has holds everything: nobody knows which work would load it. */
export function limitsReader(protocol: Protocol): (standing: Standing) => Limits {
  const known = partsOfRules(protocol);
  return ({ availability, regions }) => {
    if (availability !== 'limited') return availability === 'held' ? ALL_LIMITS : NO_LIMITS;
    const named = regions.map(regionParts);
    const parts = new Set(named.flat());
    const unplaced = [...parts].filter((part) => !known.has(part));
    const isSaid = named.length > 0 && named.every((own) => own.length > 0);
    return { isWhole: !isSaid || unplaced.length > 0, parts, unplaced };
  };
}

/** Whether limits keep an athlete from work on some parts of the body; where none is named nobody knows, and they do. */
export function keepsFrom({ isWhole, parts }: Limits, regions: readonly string[]): boolean {
  return isWhole || (parts.size > 0 && (regions.length === 0 || regions.some((region) => parts.has(region))));
}

/** Parts of the body that the rules on a measure are about, or on what is worked out from it; by index of the measure. */
export function partsByMeasure({ rules }: Protocol): ReadonlyMap<number, ReadonlySet<string>> {
  const byMeasure = new Map<number, Set<string>>();
  for (const { region, measure } of rules) {
    if (region === undefined) continue;
    for (const index of measuredFor(measure)) {
      const parts = byMeasure.get(index) ?? new Set();
      byMeasure.set(index, parts);
      for (const part of regionParts(region)) parts.add(part);
    }
  }
  return byMeasure;
}

/** Whether medical staff keep an athlete from a test. */
export type HeldTestReader = (athleteId: string, measure: Measure) => boolean;

/**
 * Who is held does no test; who is limited none of those with a rule on the limited part of the body. A measure that no
 * rule places, such as height, stays.
 */
export function heldTestReader(protocol: Protocol, desk: Desk): HeldTestReader {
  const limitsOf = limitsReader(protocol);
  const partsOf = partsByMeasure(protocol);
  const known = new Map<string, Limits>();
  return (athleteId, { index }) => {
    const limits = known.get(athleteId) ?? limitsOf(desk.standing(athleteId));
    known.set(athleteId, limits);
    return limits.isWhole || [...(partsOf.get(index) ?? [])].some((part) => limits.parts.has(part));
  };
}
