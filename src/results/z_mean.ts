import type { AthleteBook } from '../athletes/book.ts';
import type { Derivation, Measure, Protocol } from '../protocol/types.ts';
import { round9 } from '../stats/round9.ts';
import { mean, sampleSd } from '../stats/simple.ts';
import type { Results } from '../tables/schemas.ts';
import { semAt } from './errors.ts';
import type { Numbers } from './result_row.ts';
import { STATUS_BIT } from './statuses.ts';

type ZMean = Extract<Derivation, { operator: 'z_mean' }>;
type PlaceSide = 'left' | 'right' | 'none';

/** Rows of one occasion: row of each measure in protocol order, -1 where there is none. */
export interface OccasionRows {
  readonly rows: Int32Array;
}

/** Mean and SD of one measure and side in one group; undefined where the group is too small or all are equal. */
interface GroupNorm {
  readonly mean: number;
  readonly sd: number;
}

const SMALLEST_GROUP = 10;

function numberAt(results: Results, row: number, part: Measure, side: PlaceSide): number {
  if (row < 0) return Number.NaN;
  const { columns } = results;
  if (part.sides === 'none') return columns.value.values[row];
  return side === 'left' ? columns.left.values[row] : columns.right.values[row];
}

function semOf(results: Results, row: number, part: Measure, side: PlaceSide): number {
  const { columns } = results;
  if (part.sides === 'none') return columns.sem_value.values[row];
  return side === 'left' ? columns.sem_left.values[row] : columns.sem_right.values[row];
}

/** The group of an athlete in a season, or undefined where one of the `within` facts is not known. */
function groupOf(
  athleteId: string,
  season: number,
  within: readonly string[],
  book: AthleteBook,
  protocol: Protocol,
): string | undefined {
  const facts = book.find(athleteId, season);
  let group = String(season);
  for (const column of within) {
    const at = protocol.dominanceColumns.indexOf(column);
    const value = column === 'sex' ? facts?.sex : column === 'team' ? facts?.team : facts?.dominance[at];
    if (value === null || value === undefined) return undefined;
    group += `\n${value}`;
  }
  return group;
}

/**
 * Works out one z_mean for all occasions: the mean of the parts' z = (x − mean)/SD, sample SD, within season and
 * `within`, over distinct athletes with the first value of their season; the sign of a part that is better lower is
 * turned. Needs max(min_group, 10) athletes and SD > 0. It is an average of z, not a z: no percentile is read from it.
 * @param store takes the numbers of one occasion
 */
export function workZMean(
  measure: Measure,
  derivation: ZMean,
  results: Results,
  occasions: readonly OccasionRows[],
  book: AthleteBook,
  protocol: Protocol,
  store: (row: number, numbers: Numbers) => void,
): void {
  const sides: readonly PlaceSide[] = measure.sides === 'each' ? ['left', 'right'] : ['none'];
  const groups = occasions.map(({ rows }) => {
    const row = rows[measure.index];
    if (row < 0) return undefined;
    const { athlete_id, season } = results.columns;
    return groupOf(athlete_id.get(row)!, season.values[row], derivation.within, book, protocol);
  });
  const norms = new Map<string, (GroupNorm | undefined)[]>();
  for (const [group, gathered] of gather(results, occasions, groups, measure, derivation, sides)) {
    norms.set(
      group,
      gathered.map((values) => normOf(values, derivation.minGroup)),
    );
  }
  for (const [index, { rows }] of occasions.entries()) {
    const row = rows[measure.index];
    if (row < 0) continue;
    const group = groups[index];
    const norm = group === undefined ? undefined : norms.get(group);
    store(row, oneOccasion(measure, derivation, results, rows, sides, norm));
  }
}

/** First values of each athlete and season, by group, then by part and side. */
function gather(
  results: Results,
  occasions: readonly OccasionRows[],
  groups: readonly (string | undefined)[],
  measure: Measure,
  { parts }: ZMean,
  sides: readonly PlaceSide[],
): Map<string, number[][]> {
  const gathered = new Map<string, number[][]>();
  const { athlete_id } = results.columns;
  let last = '';
  let taken: boolean[] = [];
  for (const [index, { rows }] of occasions.entries()) {
    const group = groups[index];
    if (group === undefined) continue;
    const athlete = `${athlete_id.codes[rows[measure.index]]}\n${group}`;
    if (athlete !== last) taken = [];
    last = athlete;
    const values = gathered.get(group) ?? parts.flatMap(() => sides.map((): number[] => []));
    gathered.set(group, values);
    for (const [at, part] of parts.entries()) {
      for (const [of, side] of sides.entries()) {
        const place = at * sides.length + of;
        const value = numberAt(results, rows[part.index], part, side);
        if (taken[place] || Number.isNaN(value)) continue;
        taken[place] = true;
        values[place].push(value);
      }
    }
  }
  return gathered;
}

function normOf(values: readonly number[], minGroup: number): GroupNorm | undefined {
  if (values.length < Math.max(minGroup, SMALLEST_GROUP)) return undefined;
  const sd = sampleSd(values)!;
  return round9(sd) > 0 ? { mean: mean(values)!, sd } : undefined;
}

function oneOccasion(
  measure: Measure,
  { parts, needs }: ZMean,
  results: Results,
  rows: Int32Array,
  sides: readonly PlaceSide[],
  norms: readonly (GroupNorm | undefined)[] | undefined,
): Numbers {
  const numbers: Numbers = {
    left: Number.NaN,
    right: Number.NaN,
    both: Number.NaN,
    value: Number.NaN,
    semLeft: Number.NaN,
    semRight: Number.NaN,
    semValue: Number.NaN,
    statuses: 0,
  };
  for (const [of, side] of sides.entries()) {
    let sum = 0;
    let variance = 0;
    let count = 0;
    for (const [at, part] of parts.entries()) {
      const value = numberAt(results, rows[part.index], part, side);
      const norm = norms?.[at * sides.length + of];
      if (Number.isNaN(value)) {
        numbers.statuses |= STATUS_BIT.missing_part;
        continue;
      }
      if (norm === undefined) {
        numbers.statuses |= STATUS_BIT.small_group;
        continue;
      }
      const z = (value - norm.mean) / norm.sd;
      sum += part.better === 'lower' ? -z : z;
      variance += (semOf(results, rows[part.index], part, side) / norm.sd) ** 2;
      count++;
    }
    if (count < needs) continue;
    if (count < parts.length) numbers.statuses |= STATUS_BIT.partial_total;
    const value = sum / count;
    const sem = measure.error === undefined ? Math.sqrt(variance) / count : semAt(measure.error, value);
    if (side === 'left') {
      numbers.left = value;
      numbers.semLeft = sem;
    } else if (side === 'right') {
      numbers.right = value;
      numbers.semRight = sem;
    } else {
      numbers.value = value;
      numbers.semValue = sem;
    }
  }
  return numbers;
}
