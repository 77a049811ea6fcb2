import type { Measure } from '../../protocol/types.ts';
import { slipFactors } from '../../sheets/unit_slip.ts';
import type { Rejects } from '../../tables/schemas.ts';
import { addTo } from './lists.ts';
import type { Model } from './model.ts';
import type { Suspect } from './types.ts';
import { mixedUp } from './words.ts';

/** From so many on, rejects of a column that one slip explains are one line. */
const FEWEST_IN_COLUMN = 5;
const MOST_OF_COLUMN = 0.8;

/** Where a reject stands, as the set of confirmed cells names it. */
export function rejectKey(rejects: Rejects, row: number): string {
  const { file, line, column } = rejects.columns;
  return `${file.get(row) ?? ''}\n${line.values[row]}\n${column.values[row]}`;
}

/** Least and most that a measure may be; NaN: any. */
function limitsOf(measure: Measure | undefined): readonly [number, number] {
  const levels = measure?.levels;
  if (measure?.plausible !== undefined) return measure.plausible;
  return levels === undefined ? [Number.NaN, Number.NaN] : [Math.min(...levels), Math.max(...levels)];
}

/** The implausible readings among the rejects. */
export function implausibleRejects(rejects: Rejects, isOpen: (reject: number) => boolean): number[] {
  const { code } = rejects.columns;
  return Array.from({ length: rejects.length }, (_, row) => row).filter(
    (row) => code.get(row) === 'implausible' && isOpen(row),
  );
}

/**
 * What cannot be was rejected when the sheet was read. Where one slip alone makes it plausible, that is what it is called;
 * else it is implausible. What it may have been stands in the reject.
 */
export function rejectSuspect(model: Model, rejects: Rejects, row: number): Suspect {
  const { columns } = rejects;
  const [low, high] = limitsOf(model.readings.protocol.byName.get(columns.measure.get(row) ?? ''));
  return {
    at: -1,
    reject: row,
    extent: 'reading',
    kind: columns.slips.values[row] === 1 ? 'unit_slip' : 'implausible',
    covers: [],
    score: Number.NaN,
    low,
    high,
    suggestion: columns.suggestion.get(row) ?? '',
  };
}

/** Columns that were mostly rejected and that one slip explains: a line each, and the rejects that it speaks of. */
export function rejectedColumns(
  model: Model,
  rejects: Rejects,
  rows: readonly number[],
): { suspect: Suspect; rows: readonly number[] }[] {
  const { columns } = rejects;
  const { readings } = model;
  const placeOf = (file: string | null, column: number, measure: string | null): string =>
    `${file ?? ''}\n${column}\n${measure ?? ''}`;
  const byColumn = new Map<string, number[]>();
  for (const row of rows) {
    const place = placeOf(columns.file.get(row), columns.column.values[row], columns.measure.get(row));
    addTo(byColumn, place, row);
  }
  const read = new Map<string, number>();
  for (let row = 0; row < readings.length; row++) {
    const place = placeOf(readings.files.get(readings.file[row]), readings.column[row], readings.measureOf(row).name);
    if (byColumn.has(place)) read.set(place, (read.get(place) ?? 0) + 1);
  }
  return [...byColumn].flatMap(([place, some]) => {
    if (some.length < FEWEST_IN_COLUMN || some.length < (read.get(place) ?? 0)) return [];
    return columnSuspect(model, rejects, some) ?? [];
  });
}

/** What the slip does not explain stays for a line of its own: nothing alarming hides behind a column. */
function columnSuspect(
  model: Model,
  rejects: Rejects,
  rows: readonly number[],
): { suspect: Suspect; rows: readonly number[] } | undefined {
  const { columns } = rejects;
  const measure = model.readings.protocol.byName.get(columns.measure.get(rows[0]) ?? '');
  if (measure === undefined) return undefined;
  const [low, high] = model.usual(measure.index) ?? limitsOf(measure);
  const [least, most] = limitsOf(measure);
  let best: { share: number; times: number; between: string } | undefined;
  for (const { factor, between } of slipFactors(measure.unit)) {
    for (const times of [factor, 1 / factor]) {
      const inside = rows.filter((row) => {
        const value = columns.value.values[row] * times;
        return value >= low && value <= high;
      });
      const share = inside.length / rows.length;
      if (share >= MOST_OF_COLUMN && (best === undefined || share > best.share)) best = { share, times, between };
    }
  }
  if (best === undefined) return undefined;
  const { times, between } = best;
  const explained = rows.filter((row) => {
    const value = columns.value.values[row] * times;
    return !(value < least || value > most);
  });
  const suspect: Suspect = {
    at: -1,
    reject: explained[0],
    extent: 'column',
    kind: 'column_unit_slip',
    covers: [],
    score: Number.NaN,
    low,
    high,
    suggestion: `${explained.length} readings of the column cannot be, and would be usual ones if ${mixedUp(between)}. Ask the station, and state the unit under units in screening.yaml.`,
  };
  return { suspect, rows: explained };
}
