import { ruleNames } from '../groups/verdicts.ts';
import { didYouMean } from '../protocol/nearest.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Results } from '../tables/schemas.ts';
import { UsageError } from './options.ts';

/**
 * Checks the rules and seasons that a command line asks for.
 * @throws UsageError for one that there is not, with those that there are
 */
export function checkWanted(
  rules: readonly string[] | undefined,
  seasons: readonly number[] | 'pooled' | undefined,
  protocol: Protocol,
  { columns, length }: Results,
): void {
  const known = ruleNames(protocol);
  for (const rule of rules ?? []) {
    if (known.includes(rule)) continue;
    throw new UsageError(`--rule: there is no rule ${rule} in ${protocol.file}. ${didYouMean(rule, known)}`);
  }
  if (seasons === undefined || seasons === 'pooled') return;
  const tested = new Set(columns.season.values.subarray(0, length));
  for (const season of seasons) {
    if (tested.has(season)) continue;
    const list = [...tested].sort((a, b) => a - b).join(', ');
    throw new UsageError(
      `--season: nobody was tested in season ${season}; ${list === '' ? 'there are no results' : `seasons with results: ${list}`}`,
    );
  }
}
