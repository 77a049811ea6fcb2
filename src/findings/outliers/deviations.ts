import { mean, median } from '../../stats/simple.ts';
import { grouped } from '../../tables/grouped.ts';
import type { FirstScore } from './first_scores.ts';

/** What may read apart. */
export const SOURCES = ['tester', 'device'] as const;
export type Source = (typeof SOURCES)[number];

/** How far an athlete's number lies from that of athletes who are alike. */
export interface Deviation {
  /** code of the tester or device */
  readonly code: number;
  readonly value: number;
  /** a row of the readings behind it */
  readonly at: number;
}

export interface Deviations {
  readonly all: readonly Deviation[];
  /** groups of athletes who are alike; the middle of each is taken off */
  readonly centres: number;
}

type Told = (score: FirstScore) => number;

/** Scores against those of athletes of the same sex and sport groups. */
export function scoreDeviations(scores: readonly FirstScore[], season: number, source: Source, of: Told): Deviations {
  const own = scores.filter((score) => score.season === season);
  return centred(own.map((score) => ({ peers: score.peers, code: score[source], value: of(score), at: score.at })));
}

/**
 * Changes since the athlete's last earlier season, against those of athletes of the same sex and sport groups. They vary
 * far less than the scores of different athletes do, so that they show smaller differences.
 * @param scores by athlete and season
 */
export function changeDeviations(scores: readonly FirstScore[], season: number, source: Source, of: Told): Deviations {
  const changes: Held[] = [];
  for (const [at, score] of scores.entries()) {
    const before = scores[at - 1];
    if (score.season !== season || before?.athlete !== score.athlete) continue;
    changes.push({ peers: score.peers, code: score[source], value: of(score) - of(before), at: score.at });
  }
  return centred(changes);
}

interface Held extends Deviation {
  readonly peers: string;
}

/**
 * Takes off the middle of each group of peers: the mean of the medians of its testers, so that the tester of most of them
 * does not pull it over. Peers who all were measured by one tell nothing about testers.
 */
function centred(held: readonly Held[]): Deviations {
  const known = held.filter(({ code, value }) => code >= 0 && !Number.isNaN(value));
  const all: Deviation[] = [];
  let centres = 0;
  for (const peers of grouped(known, ({ peers: group }) => group).values()) {
    const byCode = [...grouped(peers, ({ code }) => code).values()];
    if (byCode.length < 2) continue;
    centres++;
    const middle = mean(byCode.map((list) => median(list.map(({ value }) => value))!))!;
    for (const { code, value, at } of peers) all.push({ code, value: value - middle, at });
  }
  return { all, centres };
}
