import type { Results } from '../../tables/schemas.ts';
import { SIDES, type Side } from '../../units/sides.ts';
import type { Readings } from '../suspects/readings.ts';
import { scoresOf } from './cells.ts';

/**
 * Finds the reading behind a kept score: among those of its athlete, measure, side and season, from the first day of the
 * occasion on, the one with that value, else (a mean or a median) the nearest; of several the earliest.
 * @returns a row of the readings; -1 if there is none. Looks through the readings of the athlete.
 */
export function behindReader(results: Results, readings: Readings): (row: number, side: Side) => number {
  const { order, starts } = byAthlete(readings);
  const { athletes, day, measure, season, side: sides, trial, value } = readings;
  const { columns } = results;
  const codeOf = columns.athlete_id.dictionary.texts.map((id) => athletes.dictionary.find(id));
  const indexOf = columns.measure.dictionary.texts.map((name) => readings.protocol.byName.get(name)?.index ?? -1);
  return (row, side) => {
    const athlete = codeOf[columns.athlete_id.codes[row]];
    const index = indexOf[columns.measure.codes[row]];
    const year = columns.season.values[row];
    const first = columns.date.days[row];
    const score = scoresOf(results, side).values[row];
    const place = SIDES.indexOf(side);
    let best = -1;
    if (athlete < 0) return best;
    let least = Number.POSITIVE_INFINITY;
    for (let next = starts[athlete]; next < starts[athlete + 1]; next++) {
      const at = order[next];
      if (measure[at] !== index || sides[at] !== place || season[at] !== year || day[at] < first) continue;
      const off = Math.abs(value[at] - score);
      if (best >= 0 && (off - least || day[at] - day[best] || trial[at] - trial[best]) >= 0) continue;
      best = at;
      least = off;
    }
    return best;
  };
}

/** Readings of athlete `a` are `order` from starts[a] to starts[a + 1], in order of appearance: a counting sort. */
function byAthlete({ length, athlete, athletes }: Readings): { order: Int32Array; starts: Int32Array } {
  const starts = new Int32Array(athletes.dictionary.size + 1);
  for (let at = 0; at < length; at++) starts[athlete[at] + 1]++;
  for (let at = 1; at < starts.length; at++) starts[at] += starts[at - 1];
  const next = starts.slice();
  const order = new Int32Array(length);
  for (let at = 0; at < length; at++) order[next[athlete[at]]++] = at;
  return { order, starts };
}
