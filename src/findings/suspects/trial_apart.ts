import type { BlockView, Expected } from './block_view.ts';
import type { Model } from './model.ts';
import { isPainful } from './slip.ts';

/** An attempt that lies apart, with what the other attempts of its side and day make expected. */
export interface Apart {
  readonly row: number;
  readonly expected: Expected;
  readonly z: number;
}

const FEWEST = 3;
/** So many robust SDs of the difference between two attempts. */
const FAR = 4.5;
/** The other attempts lie within this share of its distance. */
const TOGETHER = 0.5;

/**
 * Attempts far from the others of their side and day, which agree with each other: of three or more. A painful attempt may
 * well be lower than the others.
 */
export function trialsApart(model: Model, view: BlockView, isFree: (row: number) => boolean): Apart[] {
  const apart: Apart[] = [];
  const { trial } = view.scale;
  for (const { from, to } of view.sets) {
    if (to - from < FEWEST || Number.isNaN(trial)) continue;
    for (let at = from; at < to; at++) {
      const row = view.rows[at];
      if (Number.isNaN(view.xs[at]) || !isFree(row) || isPainful(model, row)) continue;
      const others = Array.from(view.xs.subarray(from, to)).filter(
        (x, index) => index !== at - from && !Number.isNaN(x),
      );
      if (others.length < FEWEST - 1) continue;
      others.sort((a, b) => a - b);
      const half = others.length >> 1;
      const centre = others.length % 2 === 1 ? others[half] : (others[half - 1] + others[half]) / 2;
      const distance = Math.abs(view.xs[at] - centre);
      const range = others[others.length - 1] - others[0];
      if (distance < FAR * trial || range > TOGETHER * distance) continue;
      apart.push({ row, expected: { centre, spread: trial }, z: (view.xs[at] - centre) / trial });
    }
  }
  return apart;
}
