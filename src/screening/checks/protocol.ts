import type { Problem } from '../../problems/problem.ts';
import type { Protocol } from '../../protocol/types.ts';
import { checkErrors } from './errors.ts';
import { checkHeadings } from './headings.ts';
import { checkLimits } from './limits.ts';
import { checkProgrammes } from './programmes.ts';
import { checkReach, checkUnused } from './reach.ts';
import { checkRulePairs } from './rule_pairs.ts';
import { checkSources } from './sources.ts';
import type { YamlPlaces } from './yaml_places.ts';

const CHECKS: readonly ((protocol: Protocol, places: YamlPlaces) => Problem[])[] = [
  checkLimits,
  checkRulePairs,
  checkReach,
  checkHeadings,
  checkProgrammes,
  checkSources,
  checkErrors,
  checkUnused,
];

/** Everything that a loaded protocol says and that will bite, or that one should know; in no particular order. */
export function checkProtocol(protocol: Protocol, places: YamlPlaces): Problem[] {
  return CHECKS.flatMap((check) => check(protocol, places));
}
