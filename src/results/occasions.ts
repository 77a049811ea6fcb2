import { PURPOSES } from '../sheets/entry.ts';
import { SIDES } from '../units/sides.ts';
import { OBSERVATION_STATUSES } from '../units/statuses.ts';
import type { TrialStore } from './trials.ts';

/** The days on which one athlete passed the stations once. */
export interface Occasion {
  readonly firstDay: number;
  readonly season: number;
  /** attempts, as indices into the store, by day and appearance */
  readonly trials: readonly number[] | Int32Array;
}

interface OpenOccasion extends Occasion {
  readonly trials: number[];
  /** measure and side → day on which it was first read */
  readonly read: Map<number, number>;
}

/** Attempts of one day, purpose and season. */
interface Visit {
  readonly day: number;
  readonly season: number;
  readonly purpose: number;
  readonly trials: number[];
}

const TEST = PURPOSES.indexOf('test');
const MAKEUP = PURPOSES.indexOf('makeup');
/** By status: whether it counts as having been tested; after the others the test is still to come. */
const IS_TRIED = OBSERVATION_STATUSES.map(
  (status) => status === 'measured' || status === 'pain' || status === 'unable',
);

/** Whether an attempt counts as a reading of its day: measured, painful or unable. */
export function isTried(store: TrialStore, trial: number): boolean {
  return IS_TRIED[store.status[trial]];
}

const placeOf = (store: TrialStore, trial: number): number => store.measure[trial] * SIDES.length + store.side[trial];

/**
 * Parts the attempts of one athlete into occasions. A day belongs to the occasion that is open if it lies within
 * `occasionDays` of its first day; the same measure and side on a later day, an injury in between or another season
 * begins a new one. Make-ups join the open occasion of tests of their season, whatever the distance and what was read
 * before, unless an injury lies in between.
 * Retests and returns form occasions of their own and leave the open one open: other stations may still be testing.
 * Where an occasion of tests begins on the same day, they join it, unless a measure was read in it: only then does one
 * day begin two occasions.
 * @param trials indices of the athlete's attempts, in order of appearance
 * @param injuries days of the athlete's injuries, ascending
 * @returns by first day; a test before a retest of the same day
 */
export function occasionsOf(
  store: TrialStore,
  trials: Int32Array,
  occasionDays: number,
  injuries: readonly number[],
): Occasion[] {
  if (isOneVisit(store, trials)) {
    return [{ firstDay: store.day[trials[0]], season: store.season[trials[0]], trials }];
  }
  const open: (OpenOccasion | undefined)[] = PURPOSES.map(() => undefined);
  const occasions: OpenOccasion[] = [];
  for (const visit of visitsOf(store, trials)) {
    const { purpose, season, day } = visit;
    const line = purpose === MAKEUP ? TEST : purpose;
    const joined =
      purpose === MAKEUP
        ? [open[TEST]].find((occasion) => occasion?.season === season && !isInjured(occasion, day, injuries))
        : [open[line], sameDay(open[TEST], visit, store)].find(
            (occasion) => occasion && belongs(store, visit, occasion, occasionDays, injuries),
          );
    const occasion = joined ?? { firstDay: day, season, trials: [], read: new Map<number, number>() };
    if (joined === undefined) occasions.push(occasion);
    if (joined === undefined || purpose !== MAKEUP) open[line] = occasion;
    for (const trial of visit.trials) {
      occasion.trials.push(trial);
      const place = placeOf(store, trial);
      if (isTried(store, trial) && !occasion.read.has(place)) occasion.read.set(place, day);
    }
  }
  return occasions;
}

/** One day and one purpose, as nearly everybody has it: nothing to part. */
function isOneVisit({ day, purpose, season }: TrialStore, trials: Int32Array): boolean {
  const first = trials[0];
  for (const trial of trials) {
    if (day[trial] !== day[first] || purpose[trial] !== purpose[first] || season[trial] !== season[first]) return false;
  }
  return trials.length > 0;
}

/** By day; on one day tests come before make-ups, which find them to join, and retests last, as PURPOSES stands. */
function visitsOf(store: TrialStore, trials: Int32Array): Visit[] {
  const { day, purpose, season } = store;
  const sorted = [...trials].sort(
    (a, b) => day[a] - day[b] || purpose[a] - purpose[b] || season[a] - season[b] || a - b,
  );
  const visits: Visit[] = [];
  for (const trial of sorted) {
    const last = visits.at(-1);
    if (last && last.day === day[trial] && last.purpose === purpose[trial] && last.season === season[trial]) {
      last.trials.push(trial);
    } else visits.push({ day: day[trial], season: season[trial], purpose: purpose[trial], trials: [trial] });
  }
  return visits;
}

/** The occasion of tests that began on the day of a retest, if it has read none of the retest's measures. */
function sameDay(tests: OpenOccasion | undefined, visit: Visit, store: TrialStore): OpenOccasion | undefined {
  if (tests?.firstDay !== visit.day) return undefined;
  const isRead = (trial: number): boolean =>
    SIDES.some((_, side) => tests.read.has(store.measure[trial] * SIDES.length + side));
  return visit.trials.some(isRead) ? undefined : tests;
}

/** Whether an injury lies between the first day of an occasion and a day. */
function isInjured({ firstDay }: OpenOccasion, day: number, injuries: readonly number[]): boolean {
  return injuries.some((injury) => injury > firstDay && injury <= day);
}

function belongs(
  store: TrialStore,
  { day, season, trials }: Visit,
  occasion: OpenOccasion,
  occasionDays: number,
  injuries: readonly number[],
): boolean {
  const { firstDay, read } = occasion;
  if (season !== occasion.season || day - firstDay > occasionDays) return false;
  if (isInjured(occasion, day, injuries)) return false;
  return !trials.some((trial) => {
    const before = read.get(placeOf(store, trial));
    return before !== undefined && before < day && isTried(store, trial);
  });
}
