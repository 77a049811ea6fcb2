import { makeCollege } from './college.ts';
import { drawsOf } from './draws.ts';
import { PLANTERS, type Plant } from './plants.ts';
import { type Checked, cellsOf, check } from './read.ts';

export interface Outcome {
  readonly name: string;
  planted: number;
  /** listed with a cell of the slip; a whole column or sheet: with half of its cells */
  found: number;
  /** under the kind that it is */
  foundAsSuch: number;
  /** readings called suspect that no slip had touched */
  falseAlarms: number;
  readings: number;
  /** planted and found by how much the number changed: below 15 %, below 40 %, more */
  readonly bySize: { planted: number; found: number }[];
  readonly missed: Plant[];
}

const SIZES = [0.15, 0.4, Number.POSITIVE_INFINITY];
/** Kinds that say the same of a reading: a value that cannot be is known by one of them. */
const ALIKE: Readonly<Record<string, readonly string[]>> = {
  unit_slip: ['unit_slip', 'implausible', 'column_unit_slip'],
  digit_slip: ['digit_slip', 'implausible'],
  column_unit_slip: ['column_unit_slip'],
};

export function emptyOutcome(name: string): Outcome {
  const bySize = SIZES.map(() => ({ planted: 0, found: 0 }));
  return { name, planted: 0, found: 0, foundAsSuch: 0, falseAlarms: 0, readings: 0, bySize, missed: [] };
}

export function score(checked: Checked, plants: readonly Plant[], outcome: Outcome): void {
  const kinds = new Map<string, Set<string>>();
  for (const suspect of checked.suspects) {
    for (const cell of cellsOf(checked, suspect)) kinds.set(cell, (kinds.get(cell) ?? new Set()).add(suspect.kind));
  }
  const touched = new Set(plants.flatMap(({ cells }) => cells));
  outcome.readings += checked.readings.length + checked.rejects.length;
  for (const cell of kinds.keys()) if (!touched.has(cell)) outcome.falseAlarms++;
  for (const plant of plants) {
    const listed = plant.cells.filter((cell) => kinds.has(cell));
    const isWide = plant.cells.length > 100;
    const isFound = isWide ? listed.length > plant.cells.length / 2 : listed.length > 0;
    const own = ALIKE[plant.kind] ?? [plant.kind];
    const asSuch = listed.filter((cell) => own.some((kind) => kinds.get(cell)!.has(kind)));
    outcome.planted++;
    if (isFound) outcome.found++;
    else outcome.missed.push(plant);
    if (isFound && asSuch.length > (isWide ? plant.cells.length / 2 : 0)) outcome.foundAsSuch++;
    if (plant.change === undefined) continue;
    const size = outcome.bySize[SIZES.findIndex((limit) => plant.change! < limit)];
    size.planted++;
    if (isFound) size.found++;
  }
}

/** Plants one kind of slip in colleges of their own until there are enough of it. */
export async function measurePlanter(
  planter: (typeof PLANTERS)[number],
  seed: number,
  perSeason: number,
  enough: number,
): Promise<Outcome> {
  const outcome = emptyOutcome(planter.name);
  for (let round = 0; outcome.planted < enough; round++) {
    const college = makeCollege(seed + round, perSeason);
    const draws = drawsOf(seed + 7919 * (round + 1));
    const plants = planter.plant(college, draws, Math.min(planter.perCollege, enough - outcome.planted));
    score(await check(college), plants, outcome);
  }
  return outcome;
}

export async function measureClean(
  seed: number,
  perSeason: number,
): Promise<{ outcome: Outcome; checked: Checked; athletes: number }> {
  const outcome = emptyOutcome('nothing planted');
  const checked = await check(makeCollege(seed, perSeason));
  score(checked, [], outcome);
  return { outcome, checked, athletes: checked.readings.athletes.dictionary.size };
}

/** A handful of every kind in the same sheets. */
export async function measureTogether(seed: number, perSeason: number, each: number): Promise<Outcome> {
  const outcome = emptyOutcome('all kinds in the same sheets');
  const college = makeCollege(seed, perSeason);
  const draws = drawsOf(seed + 1);
  const plants = PLANTERS.filter(({ perCollege }) => perCollege >= 100).flatMap(({ plant }) =>
    plant(college, draws, each),
  );
  score(await check(college), plants, outcome);
  return outcome;
}

export { PLANTERS };
