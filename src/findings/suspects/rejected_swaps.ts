import type { Rejects } from '../../tables/schemas.ts';
import { plainNumber } from '../../units/numbers.ts';
import type { Model } from './model.ts';
import { limitsOf } from './reading_slips.ts';
import type { Suspect } from './types.ts';
import { shownValue } from './words.ts';

/** Inside and outside of what is expected, in spreads. */
const NEAR = 3;
const FAR = 3;

interface RejectedNumber {
  readonly reject: number;
  readonly measure: number;
  /** as written */
  readonly number: number;
}

/** Numbers that cannot be in their own column, and fit in another one of the same line, whose reading fits in theirs. */
export function rejectedSwaps(
  model: Model,
  rejects: Rejects,
  rows: readonly number[],
  isOpen: (row: number) => boolean,
): { suspect: Suspect; rejects: readonly number[] }[] {
  const lines = new Map<string, { numbers: RejectedNumber[]; readings: number[] }>();
  const { columns } = rejects;
  const { readings } = model;
  for (const reject of rows) {
    const measure = readings.protocol.byName.get(columns.measure.get(reject) ?? '');
    const number = plainNumber(columns.raw.get(reject) ?? '');
    if (measure === undefined || Number.isNaN(number)) continue;
    const key = `${columns.file.get(reject)}\n${columns.line.values[reject]}\n${columns.athlete_id.get(reject)}`;
    const line = lines.get(key) ?? { numbers: [], readings: [] };
    lines.set(key, line);
    line.numbers.push({ reject, measure: measure.index, number });
  }
  if (lines.size === 0) return [];
  const samples = new Map<string, number>();
  for (let row = 0; row < readings.length; row++) {
    const file = readings.files.get(readings.file[row]);
    samples.set(`${file}\n${readings.measure[row]}`, row);
    const line = lines.get(`${file}\n${readings.line[row]}\n${readings.athletes.get(readings.athlete[row])}`);
    if (line !== undefined && isOpen(row)) line.readings.push(row);
  }
  const fileOf = (reject: number): string => columns.file.get(reject) ?? '';
  /** a reading of the sheet that says in which unit its column is written */
  const sampleOf = ({ reject, measure }: RejectedNumber): number | undefined =>
    samples.get(`${fileOf(reject)}\n${measure}`);
  const found: { suspect: Suspect; rejects: number[] }[] = [];
  for (const { numbers, readings: others } of lines.values()) {
    const told = new Set<number>();
    for (const one of numbers) {
      const sample = sampleOf(one);
      if (sample === undefined || told.has(one.reject)) continue;
      const other = others.find((row) => isExchanged(model, one, sample, row));
      if (other !== undefined) {
        found.push({ suspect: swapSuspect(model, one, model.readings.measure[other], [other]), rejects: [one.reject] });
        told.add(one.reject);
        continue;
      }
      const partner = numbers.find((next) => {
        const theirs = sampleOf(next);
        return (
          next.measure !== one.measure &&
          !told.has(next.reject) &&
          theirs !== undefined &&
          fits(model, sample, next.number) &&
          fits(model, theirs, one.number)
        );
      });
      if (partner === undefined) continue;
      found.push({ suspect: swapSuspect(model, one, partner.measure, []), rejects: [one.reject, partner.reject] });
      told.add(one.reject).add(partner.reject);
    }
  }
  return found;
}

/** Whether a number as written would be a usual one in the column of a reading. */
function fits(model: Model, sample: number, number: number): boolean {
  const value = model.written.value(sample, number);
  const [low, high] = limitsOf(model, sample);
  const kind = model.kindOfRow(sample);
  const x = model.toScale(kind, value);
  return (
    value >= low &&
    value <= high &&
    [...model.scales[kind].groups.values()].some(({ centre, spread }) => Math.abs(x - centre) < NEAR * spread)
  );
}

function isExchanged(model: Model, { measure, number }: RejectedNumber, sample: number, row: number): boolean {
  if (model.readings.measure[row] === measure || !fits(model, sample, model.written.number(row))) return false;
  const view = model.view(model.blocks.blockOf[row]);
  const at = view.rows.indexOf(row);
  const value = model.written.value(row, number);
  const [low, high] = limitsOf(model, row);
  const before = view.awayZ(at) ?? 0;
  view.xs[at] = model.toScale(model.kindOfRow(row), value);
  const after = view.awayZ(at) ?? 0;
  return value >= low && value <= high && Math.abs(before) > FAR && Math.abs(after) < NEAR;
}

function swapSuspect(model: Model, one: RejectedNumber, other: number, covers: readonly number[]): Suspect {
  const { measures } = model.readings.protocol;
  const [low, high] = model.usual(one.measure) ?? [Number.NaN, Number.NaN];
  const theirs =
    covers.length === 0 ? '' : ` ${shownValue(model.readings.value[covers[0]], measures[other].unit.code)}`;
  return {
    at: -1,
    reject: one.reject,
    extent: 'reading',
    kind: 'columns_swapped',
    covers,
    score: Number.NaN,
    low,
    high,
    suggestion: `${measures[one.measure].label} ${one.number} and ${measures[other].label}${theirs} of this row fit once they are exchanged.`,
  };
}
