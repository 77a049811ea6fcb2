import type { LineCounter } from 'yaml';
import type { Trouble } from '../problems/failure.ts';

/** Names and positions that lead from the top of a file to a value. */
export type Path = readonly (string | number)[];

/** Offsets of a value in the text of its file, and of the key it stands under. */
export interface Spot {
  readonly key?: { readonly start: number; readonly end: number };
  readonly start: number;
  readonly end: number;
  readonly parts: Map<string | number, Spot>;
}

/** Finds the values of a YAML file again, so that every trouble can name line and column. */
export interface Places {
  /** Line and column, from 1, of a key or its value; for what is not there, of what should hold it. */
  at(path: Path, what: 'key' | 'value'): { readonly line: number; readonly column: number };
  /** the value as typed */
  written(path: Path): string;
  /** whether a comment stands where the value should */
  commentedOut(path: Path): boolean;
}

export function placesOf(text: string, lines: LineCounter, root: Spot): Places {
  const find = (path: Path): { spot: Spot; whole: boolean } => {
    let spot = root;
    for (const part of path) {
      const next = spot.parts.get(part);
      if (next === undefined) return { spot, whole: false };
      spot = next;
    }
    return { spot, whole: true };
  };
  return {
    at(path, what) {
      const { spot, whole } = find(path);
      const empty = spot.end <= spot.start;
      const offset = (what === 'key' || !whole || empty) && spot.key ? spot.key.start : spot.start;
      const { line, col } = lines.linePos(offset);
      return { line: Math.max(1, line), column: Math.max(1, col) };
    },
    written(path) {
      const { spot, whole } = find(path);
      return whole ? text.slice(spot.start, spot.end).trim() : '';
    },
    commentedOut(path) {
      const { spot, whole } = find(path);
      if (!whole) return false;
      const from = spot.key ? spot.key.end : spot.start;
      const lineEnd = text.indexOf('\n', from);
      const rest = text.slice(from, lineEnd < 0 ? undefined : lineEnd).trimStart();
      return (rest.startsWith(':') ? rest.slice(1).trimStart() : rest).startsWith('#');
    },
  };
}

/** Gathers the troubles of one file: all of them are told at once. */
export interface Report {
  readonly troubles: readonly Trouble[];
  add(path: Path, message: string, hint?: string, what?: 'key' | 'value'): void;
}

export function reportOn(file: string, places: Places): Report {
  const troubles: Trouble[] = [];
  return {
    get troubles() {
      return troubles.toSorted((a, b) => a.line! - b.line! || a.column! - b.column!);
    },
    add(path, message, hint, what = 'value') {
      troubles.push({ file, ...places.at(path, what), message, hint });
    },
  };
}

const NAMED_SECTIONS: ReadonlySet<string | number> = new Set([
  'measures',
  'derived',
  'compounds',
  'rules',
  'sport_groups',
  'programmes',
]);

/** A path as messages name it: hip_adduction.trials.keep. The names of people are not repeated. */
export function pathText(path: Path): string {
  if (path[0] === 'people') return 'people';
  const shown = path.length > 1 && NAMED_SECTIONS.has(path[0]) ? path.slice(1) : path;
  return shown.filter((part) => typeof part === 'string').join('.');
}
