import { withoutClearance } from '../athletes/without_clearance.ts';
import type { Provenance } from '../files/metadata.ts';
import { cohort } from '../groups/cohort.ts';
import { plan } from '../groups/plan.ts';
import { namesOf } from '../screening/names.ts';
import type { Findings, Plan } from '../tables/schemas.ts';
import { isoDay } from '../units/days.ts';
import { findingTest } from './audience/private_rules.ts';
import { viewFor } from './audience/view.ts';
import { hiddenNote } from './audience/who.ts';
import type { AudienceOptions } from './audience.ts';
import type { Io } from './io.ts';
import { judgeJob } from './judged.ts';
import type { OnOptions } from './on_day.ts';
import type { FolderOptions } from './options.ts';
import { checkPlanWanted, isPersonWanted, type PlanWanted, wantedLines } from './plan_wanted.ts';
import { counted } from './render/counted.ts';
import type { PlanFacts } from './render/plan.ts';

/** The plan that a command line asks for. */
export interface PlanJob {
  readonly lines: Plan;
  readonly facts: PlanFacts;
  /** what is to be said beside it */
  readonly notes: readonly string[];
  /** absolute paths of what was read */
  readonly inputs: readonly string[];
  provenance(): Promise<Provenance>;
}

type Flags = FolderOptions & OnOptions & AudienceOptions & PlanWanted;

export async function planJob(io: Io, names: readonly string[], flags: Flags): Promise<PlanJob> {
  const judged = await judgeJob(io, names, flags, 'bilat plan');
  const { setup, results, findings, book, season, desk } = judged;
  const { protocol, past } = setup;
  const members = season === null ? [] : judged.members(season);
  checkPlanWanted(flags, members, season);
  const seasons = season === null ? [] : [season];
  const shares = cohort(results, findings, book, protocol, {
    members: judged.members,
    past,
    seasons,
    kinds: ['all', 'team'],
  });
  const planned = plan(findings, shares, book, protocol, { desk, members: judged.members, season, results });
  const view = viewFor(flags.audience, protocol)(planned.plan);
  // Lines are chosen from what the audience sees: what it sees of one line may hang on another one.
  const { lines, leftOff } = wantedLines(view, flags, members);
  const isWanted = isPersonWanted(flags, members);
  const isShown = findingTest(flags.audience, protocol);
  const facts: PlanFacts = {
    season,
    on: desk.on,
    by: flags.by,
    audience: flags.audience,
    names: namesOf(setup),
    knowsClearance: desk.knowsClearance,
    withoutClearance: withoutClearance(desk, members)
      .filter(({ athleteId, team }) => isWanted(athleteId, team))
      .map(({ athleteId }) => athleteId),
    unplanned: planned.unplanned.filter(
      ({ finding }) => isWanted(finding.athleteId, finding.team) && isShown(finding.rule, finding.measure),
    ),
    total: view.length,
    protocol,
  };
  // A line that an audience sees in several parts has one priority.
  const seen = new Set(Array.from({ length: view.length }, (_, row) => view.columns.priority.get(row)));
  const hidden = hiddenNote(planned.plan.length - seen.size, flags.audience);
  const notes = [
    hidden.replace(/^note: /, '').trimEnd(),
    leftOff === 0 ? '' : `${counted(lines.length, 'line')} of ${lines.length + leftOff}; --limit left off ${leftOff}`,
    lines.length === 0 && flags.athlete !== undefined ? `${flags.athlete} has no line in the plan` : '',
    laterNote(findings, season, desk.on),
  ].filter((note) => note !== '');
  return { lines, facts, notes, inputs: judged.inputs, provenance: judged.provenance };
}

/** Findings of days after the one that is looked at from are planned all the same: nothing that alarms is left out. */
function laterNote({ columns, length }: Findings, season: number | null, on: number): string {
  let later = 0;
  for (let row = 0; row < length; row++) {
    if (columns.season.get(row) === season && columns.date.days[row] > on) later++;
  }
  return later === 0 ? '' : `${counted(later, 'finding')} of days after ${isoDay(on)} planned all the same`;
}
