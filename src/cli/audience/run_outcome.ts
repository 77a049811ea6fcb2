import type { Protocol } from '../../protocol/types.ts';
import type { RunOutcome } from '../../screening/run.ts';
import type { Summary } from '../../screening/summary.ts';
import { viewFor } from './view.ts';
import type { Audience } from './who.ts';

/** What a run has found, as far as an audience may see it; the tables on the disk are whole. */
export function outcomeFor(outcome: RunOutcome, audience: Audience, protocol: Protocol): RunOutcome {
  if (audience === 'medical') return outcome;
  const view = viewFor(audience, protocol);
  const work = { ...outcome, plan: view(outcome.plan), coverage: view(outcome.coverage) };
  if (audience === 'coach') return work;
  return {
    ...work,
    results: view(outcome.results),
    findings: view(outcome.findings),
    recheck: view(outcome.recheck),
    cohort: view(outcome.cohort),
    rejects: view(outcome.rejects),
  };
}

/** The summary as data, as far as an audience may see it. */
export function summaryFor(summary: Summary, audience: Audience): Partial<Summary> {
  const { season, on, work, toCall } = summary;
  if (audience === 'medical') return summary;
  if (audience === 'coach') return { season, on, work, toCall };
  const { toRetake, suspects, tallies, knowsClearance } = summary;
  return { season, on, toRetake, suspects, work, knowsClearance, tallies, toCall };
}
