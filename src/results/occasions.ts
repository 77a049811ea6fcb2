import { PURPOSES } from '../sheets/entry.ts';
import { OBSERVATION_STATUSES } from '../units/statuses.ts';
import type { TrialStore } from './trials.ts';

/** The days on which one athlete passed the stations once. */
export interface Occasion {
  readonly firstDay: number;
  readonly season: number;
  /** attempts, as indices into the store, by day and appearance */
  readonly trials: readonly number[];
}

const MAKEUP = PURPOSES.indexOf('makeup');
const TEST = PURPOSES.indexOf('test');
/** Tests of a day before its make-ups, retests last. */
const KINDS = [TEST, MAKEUP, ...PURPOSES.keys()].filter((kind, at, all) => all.indexOf(kind) === at);
/** Statuses that count as having been tested; after the others the test is still to come. */
const TRIED = ['measured', 'pain', 'unable'].map((status) => OBSERVATION_STATUSES.indexOf(status as never));

interface Stream {
  occasion: (Occasion & { readonly trials: number[] }) | undefined;
  /** measure and side → day on which it was first read in this occasion */
  read: Map<number, number>;
}

/**
 * Parts the attempts of one athlete into occasions. A day belongs to the occasion that is open if it lies within
 * `occasionDays` of its first day; the same measure and side on a later day, an injury in between or another season
 * begins a new one. Make-ups join the latest occasion of their season whatever the distance. Retests and returns form
 * occasions of their own and leave the open one open: other stations may still be testing.
 * @param trials indices of the athlete's attempts, in order of appearance
 * @param injuries days of the athlete's injuries, ascending
 * @returns by first day; a test before a retest of the same day
 */
export function occasionsOf(
  store: TrialStore,
  trials: readonly number[],
  occasionDays: number,
  injuries: readonly number[],
): Occasion[] {
  const { day, purpose } = store;
  if (isOneVisit(store, trials)) {
    return [{ firstDay: day[trials[0]], season: store.season[trials[0]], trials }];
  }
  const sorted = [...trials].sort((a, b) => day[a] - day[b] || a - b);
  const streams = PURPOSES.map((): Stream => ({ occasion: undefined, read: new Map() }));
  const occasions: Occasion[] = [];
  for (let start = 0; start < sorted.length; ) {
    let end = start + 1;
    while (end < sorted.length && day[sorted[end]] === day[sorted[start]]) end++;
    const today = sorted.slice(start, end);
    for (const kind of KINDS) {
      const rows = today.filter((trial) => purpose[trial] === kind);
      if (rows.length > 0) place(store, rows, kind, streams, occasions, occasionDays, injuries);
    }
    start = end;
  }
  return occasions.sort((a, b) => a.firstDay - b.firstDay);
}

/** One day and one purpose, as nearly everybody has it: nothing to part. */
function isOneVisit({ day, purpose, season }: TrialStore, trials: readonly number[]): boolean {
  const first = trials[0];
  for (const trial of trials) {
    if (day[trial] !== day[first] || purpose[trial] !== purpose[first] || season[trial] !== season[first]) return false;
  }
  return trials.length > 0;
}

function place(
  store: TrialStore,
  rows: readonly number[],
  kind: number,
  streams: readonly Stream[],
  occasions: Occasion[],
  occasionDays: number,
  injuries: readonly number[],
): void {
  const today = store.day[rows[0]];
  const season = store.season[rows[0]];
  const stream = streams[kind === MAKEUP ? TEST : kind];
  const joins =
    kind === MAKEUP
      ? stream.occasion?.season === season
      : stream.occasion !== undefined && belongs(store, rows, stream, today, season, occasionDays, injuries);
  if (!joins) {
    stream.occasion = { firstDay: today, season, trials: [] };
    stream.read = new Map();
    occasions.push(stream.occasion);
  }
  for (const trial of rows) {
    stream.occasion!.trials.push(trial);
    const key = store.measure[trial] * 4 + store.side[trial];
    if (TRIED.includes(store.status[trial]) && !stream.read.has(key)) stream.read.set(key, today);
  }
}

function belongs(
  store: TrialStore,
  rows: readonly number[],
  { occasion, read }: Stream,
  today: number,
  season: number,
  occasionDays: number,
  injuries: readonly number[],
): boolean {
  const { firstDay } = occasion!;
  if (season !== occasion!.season || today - firstDay > occasionDays) return false;
  if (injuries.some((injury) => injury > firstDay && injury <= today)) return false;
  return !rows.some((trial) => {
    const before = read.get(store.measure[trial] * 4 + store.side[trial]);
    return before !== undefined && before < today && TRIED.includes(store.status[trial]);
  });
}
