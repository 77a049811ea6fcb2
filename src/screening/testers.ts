import type { Readings } from '../findings/suspects/readings.ts';
import { measuredFor } from '../groups/rule_needs.ts';
import type { Measure } from '../protocol/types.ts';

/**
 * Who tested an athlete at a measure, or at what it is made of, on an occasion.
 * @param day first day of the occasion, in days since 1970-01-01
 */
export type TesterReader = (athleteId: string, measure: Measure, day: number) => readonly string[];

/** @param occasionDays days after the first within which a day still belongs to an occasion */
export function testerReader(readings: Readings, occasionDays: number): TesterReader {
  let byAthlete: Map<number, number[]> | undefined;
  return (athleteId, measure, day) => {
    byAthlete ??= byAthleteOf(readings);
    const wanted = new Set(measuredFor(measure));
    const testers = new Set<string>();
    for (const at of byAthlete.get(readings.athletes.dictionary.find(athleteId)) ?? []) {
      if (!wanted.has(readings.measure[at])) continue;
      if (readings.day[at] < day || readings.day[at] > day + occasionDays) continue;
      const tester = readings.testers.get(readings.tester[at]);
      if (tester !== null) testers.add(tester);
    }
    return [...testers].sort();
  };
}

/** Places of each athlete's readings that name a tester. */
function byAthleteOf({ athlete, tester, length }: Readings): Map<number, number[]> {
  const places = new Map<number, number[]>();
  for (let at = 0; at < length; at++) {
    if (tester[at] < 0) continue;
    const own = places.get(athlete[at]);
    if (own) own.push(at);
    else places.set(athlete[at], [at]);
  }
  return places;
}
