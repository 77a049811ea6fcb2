import type { HurtSide } from '../athletes/side_cells.ts';
import { foldKey } from '../units/keys.ts';
import type { HistoryRow } from './history.ts';
import type { InjuryRow } from './injury_log.ts';

/** An injury of earlier days, from injuries.csv or history.csv. */
export interface PastInjury {
  /** as written */
  readonly region: string;
  /** null: not said */
  readonly side: HurtSide | null;
  /** days since 1970-01-01; null: not said, and it counts for every day */
  readonly day: number | null;
}

/** Everybody's earlier injuries. */
export interface PastInjuries {
  /**
   * Injuries of a region before a day; regions are compared folded. One without a day counts for every day: what may
   * have been before the test is not to be overlooked.
   * @param day days since 1970-01-01 of the test; injuries of the day itself do not count
   */
  of(athleteId: string, region: string, day: number): readonly PastInjury[];
}

const NONE: readonly PastInjury[] = [];
export const NO_PAST: PastInjuries = { of: () => NONE };

/** Earlier injuries of the injury log and of the history together; one that stands in both is there twice. */
export function pastInjuries(injuries: readonly InjuryRow[], history: readonly HistoryRow[]): PastInjuries {
  const byAthlete = new Map<string, Map<string, PastInjury[]>>();
  for (const { athleteId, region, side, day } of [...injuries, ...history]) {
    const key = foldKey(region);
    if (key === '') continue;
    const regions = byAthlete.get(athleteId) ?? new Map<string, PastInjury[]>();
    byAthlete.set(athleteId, regions);
    regions.set(key, [...(regions.get(key) ?? []), { region, side, day }]);
  }
  if (byAthlete.size === 0) return NO_PAST;
  return {
    of(athleteId, region, before) {
      const known = byAthlete.get(athleteId)?.get(foldKey(region));
      return known?.filter(({ day }) => day === null || day < before) ?? NONE;
    },
  };
}
