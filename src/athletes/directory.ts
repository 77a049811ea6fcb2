import { distance } from 'fastest-levenshtein';
import { foldKey } from '../units/keys.ts';
import type { Roster, RosterRow } from './roster.ts';
import { NameWords } from './shown_cells.ts';

/** Who an athlete cell means, or why nobody can say. */
export type Match =
  | {
      readonly kind: 'athlete';
      readonly id: string;
      /** how the match differs from the cell */
      readonly by?: 'case' | 'zeros' | 'name';
      /** taken at the sheet's word, and on no roster */
      readonly unlisted?: true;
    }
  | { readonly kind: 'unknown'; readonly nearest: readonly string[] }
  | { readonly kind: 'ambiguous'; readonly ids: readonly string[] };

const FARTHEST = 2;
const NEAREST_SHOWN = 3;
const LONGEST_SENTENCE = 500;
const MOST_NAME_WORDS = 4;
const FEWEST_ID_SIGNS = 3;
/** Ids of a squad differ in a digit: more than these lie as near to a slip, and to name them helps nobody. */
const MOST_NEAR_IDS = 2;
/** 0041299, K109, 1024a */
const NUMBERED_ID = /^\p{L}?\d+\p{L}?$/u;

/** Ids differ in case and spaces as hands write them; K014 and k 014 are one. */
const foldId = (text: string): string => text.replace(/\s+/g, '').toUpperCase();
const withoutZeros = (text: string): string => foldId(text).replace(/(^|\D)0+(?=\d)/g, '$1');

function addTo(map: Map<string, Set<string>>, key: string, id: string): void {
  if (key === '') return;
  const ids = map.get(key);
  if (ids) ids.add(id);
  else map.set(key, new Set([id]));
}

function namesOf(row: RosterRow): string[] {
  const names = [`${row.firstName} ${row.lastName}`, `${row.lastName} ${row.firstName}`, ...row.alsoKnownAs];
  // "Bo" known for "Robert Reed" may stand for the first name alone.
  for (const other of row.alsoKnownAs)
    if (row.lastName) names.push(`${other} ${row.lastName}`, `${row.lastName} ${other}`);
  return names;
}

/** Every name of a roster, as written, and what may be one. */
export function* rosterNames({ rows, names }: Pick<Roster, 'rows' | 'names'>): Generator<string> {
  yield* names;
  for (const { firstName, lastName, alsoKnownAs } of rows) {
    yield* [firstName, lastName, `${firstName}${lastName}`, `${lastName}${firstName}`, ...alsoKnownAs];
  }
}

/** Finds athletes by id or by name. Nobody is ever matched on a guess: one exact match after folding, or none. */
export class AthleteDirectory {
  /** words of all names, which no message repeats */
  readonly names: NameWords;
  readonly #exact = new Set<string>();
  readonly #folded = new Map<string, Set<string>>();
  readonly #zeros = new Map<string, Set<string>>();
  readonly #names = new Map<string, Set<string>>();
  /** words of all names of an athlete, and the athletes of each family name */
  readonly #wordsOf = new Map<string, Set<string>>();
  readonly #families = new Map<string, Set<string>>();
  readonly #people = new Map<string, string>();
  readonly #listed: boolean;
  readonly #keepUnlisted: boolean;
  readonly #showNames: boolean;

  /**
   * @param people nickname or misspelling → id
   * @param showNames whether a name may stand as an id where there is no roster
   */
  constructor(
    roster: Roster | undefined,
    people: ReadonlyMap<string, string>,
    unlisted: 'reject' | 'keep',
    showNames: boolean,
  ) {
    this.#listed = roster !== undefined;
    this.#keepUnlisted = unlisted === 'keep';
    this.#showNames = showNames;
    this.names = new NameWords([...(roster ? rosterNames(roster) : []), ...people.keys()]);
    for (const row of roster?.rows ?? []) {
      this.#exact.add(row.athleteId);
      addTo(this.#folded, foldId(row.athleteId), row.athleteId);
      addTo(this.#zeros, withoutZeros(row.athleteId), row.athleteId);
      for (const name of namesOf(row)) {
        addTo(this.#names, foldKey(name), row.athleteId);
        for (const word of foldKey(name).split(' ')) addTo(this.#wordsOf, row.athleteId, word);
      }
      addTo(this.#families, foldKey(row.lastName), row.athleteId);
    }
    for (const [name, id] of people) if (foldKey(name) !== '') this.#people.set(foldKey(name), id);
  }

  /** @param text an id, or a name in a column that may hold either */
  find(text: string): Match {
    const cell = text.trim();
    if (this.#exact.has(cell)) return { kind: 'athlete', id: cell };
    const key = foldKey(cell);
    const settled = this.#people.get(key);
    if (settled !== undefined) {
      // A misspelt id under people: must not bring a new athlete into the world.
      const isKnown = !this.#listed || this.#keepUnlisted || this.#exact.has(settled);
      return isKnown
        ? { kind: 'athlete', id: settled, by: 'name' }
        : { kind: 'unknown', nearest: this.#nearest(settled, foldKey(settled)) };
    }
    for (const [ids, by] of [
      [this.#folded.get(foldId(cell)), 'case'],
      [this.#zeros.get(withoutZeros(cell)), 'zeros'],
      [this.#names.get(key), 'name'],
    ] as const) {
      if (ids === undefined) continue;
      return ids.size === 1 ? { kind: 'athlete', id: [...ids][0], by } : { kind: 'ambiguous', ids: [...ids].sort() };
    }
    const isId = looksLikeId(cell);
    if (!this.#listed && (isId || this.#showNames)) return { kind: 'athlete', id: cell, unlisted: true };
    if (this.#listed && this.#keepUnlisted && (isId || this.#showNames)) {
      return { kind: 'athlete', id: cell, unlisted: true };
    }
    return { kind: 'unknown', nearest: this.#nearest(cell, key) };
  }

  /** Id of the athlete of the roster whose id or name a text is; undefined: nobody's, or that of several. */
  idOf(text: string): string | undefined {
    const cell = text.trim();
    if (this.#exact.has(cell)) return cell;
    const ids = this.#folded.get(foldId(cell)) ?? this.#zeros.get(withoutZeros(cell)) ?? this.#names.get(foldKey(cell));
    return ids?.size === 1 ? [...ids][0] : undefined;
  }

  /**
   * The athlete of the roster whose id or full name stands in a sentence. A nickname alone may be any word of it, and an id
   * of a digit or two any number.
   */
  namedIn(text: string): string | undefined {
    const start = text.slice(0, LONGEST_SENTENCE);
    if (/\d/.test(start)) {
      for (const word of start.split(/[\s,;:()*]+/)) {
        const id = word.length >= FEWEST_ID_SIGNS && /\d/.test(word) ? this.idOf(word) : undefined;
        if (id !== undefined) return id;
      }
    }
    const words = foldKey(start).split(' ');
    for (let at = 0; at < words.length; at++) {
      let name = words[at];
      for (let end = at + 1; end < Math.min(at + MOST_NAME_WORDS, words.length); end++) {
        name += ` ${words[end]}`;
        const ids = this.#names.get(name);
        if (ids?.size === 1) return [...ids][0];
      }
    }
    return undefined;
  }

  /**
   * The athlete of whom a name speaks beside the id of another: it is the whole name or the family name of somebody else,
   * and shares no word with any name of the athlete of that id. Undefined: the name may be that athlete's.
   */
  speaksOfOther(id: string, name: string): string | undefined {
    const whole = this.find(name);
    if (whole.kind === 'athlete' && whole.by === 'name') return whole.id === id ? undefined : whole.id;
    const own = this.#wordsOf.get(id);
    const words = foldKey(name.slice(0, 80)).split(' ');
    if (own === undefined || words.some((word) => own.has(word))) return undefined;
    // A family name may be of several words: O'Hara, van der Berg.
    const parts = words.flatMap((_, from) => [1, 2, 3].map((count) => words.slice(from, from + count).join(' ')));
    const others = parts.flatMap((part) => [...(this.#families.get(part) ?? [])]);
    return others.find((other) => other !== id);
  }

  #nearest(cell: string, key: string): string[] {
    const found = new Map<string, number>();
    const folded = foldId(cell);
    const note = (ids: ReadonlySet<string>, far: number): void => {
      if (far <= FARTHEST) for (const id of ids) found.set(id, Math.min(far, found.get(id) ?? far));
    };
    // A long cell is nobody's id or name; comparing it with everybody would only cost time.
    if (cell.length > 80) return [];
    for (const [id, ids] of this.#folded) note(ids, distance(id, folded));
    for (const [name, ids] of this.#names) note(ids, distance(name, key));
    const near = [...found].sort((a, b) => a[1] - b[1] || (a[0] < b[0] ? -1 : 1));
    if (!NUMBERED_ID.test(folded)) return near.slice(0, NEAREST_SHOWN).map(([id]) => id);
    const nearest = near.filter(([, far]) => far === near[0][1]);
    return nearest.length > MOST_NEAR_IDS ? [] : nearest.map(([id]) => id);
  }
}

const ID_WORD = /^[\p{L}\p{N}._/#:-]*\d[\p{L}\p{N}._/#:-]*$/u;
const SHORT_CODE = /^(?:\p{L}|\p{Lu}{2,4}|#)$/u;
const NUMBER_WORDS = new Set(['athlete', 'player', 'student', 'subject', 'participant', 'id', 'no', 'nr']);
const LONGEST_ID = 60;

/** A word that stands beside the number of an id: "K 014", "ROW 12", "Athlete no. 14". */
function isBesideNumber(word: string): boolean {
  return SHORT_CODE.test(word) || NUMBER_WORDS.has(word.toLowerCase().replace(/[.:]$/, ''));
}

/**
 * An id is one word with a digit in it, or such a word beside a short code. What is not may be a name, be there a digit
 * in it or not, and names are not repeated in any output.
 */
export function looksLikeId(text: string): boolean {
  if (text.length > LONGEST_ID) return false;
  const words = text.trim().split(/\s+/);
  return words.some((word) => ID_WORD.test(word)) && words.every((word) => ID_WORD.test(word) || isBesideNumber(word));
}
