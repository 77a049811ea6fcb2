import type { Better } from '../protocol/types.ts';

/** best and mean can be compared with the trials beside them; other: what else a spreadsheet works out. */
export type WorkedOutKind = 'best' | 'mean' | 'other';

const BEST = new Set(['best', 'top']);
const MEAN = new Set(['avg', 'ave', 'average', 'mean']);
const MOST = new Set(['max', 'maximum']);
const LEAST = new Set(['min', 'minimum']);
const OTHER = new Set([
  ...['median', 'sum', 'total', 'sd', 'stdev', 'cv', 'diff', 'difference', 'delta', 'δ', 'change', 'deficit', 'lsi'],
  ...['asym', 'asymm', 'asymmetry', 'symmetry', 'imbalance', 'index', 'ratio', 'percent', 'pct'],
  ...['rank', 'percentile', 'zscore'],
]);

/**
 * What a word of a heading says that a spreadsheet worked out, and how many words say it. The most of a measure of which
 * less is better is not its best; where nobody knows the measure it may be.
 */
export function kindOfWord(
  word: string,
  next: string | undefined,
  better: Better | undefined,
): { kind: WorkedOutKind; count: number } | undefined {
  if (BEST.has(word)) return { kind: 'best', count: 1 };
  if (MEAN.has(word)) return { kind: 'mean', count: 1 };
  if (MOST.has(word)) return { kind: better === undefined || better === 'higher' ? 'best' : 'other', count: 1 };
  if (LEAST.has(word)) return { kind: better === undefined || better === 'lower' ? 'best' : 'other', count: 1 };
  // The score alone may be the reading; a z score never is.
  if (word === 'z' && next === 'score') return { kind: 'other', count: 2 };
  return OTHER.has(word) ? { kind: 'other', count: 1 } : undefined;
}

/** What two such words say together: the mean of the best two is neither. */
export function addKind(known: WorkedOutKind | undefined, kind: WorkedOutKind): WorkedOutKind {
  return known === undefined || known === kind ? kind : 'other';
}
