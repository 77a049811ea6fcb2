/** Numbers attempts where neither heading nor row says which they are: in order of appearance. */
export class Attempts {
  readonly #seen = new Map<number, number>();
  /** hash of each athlete's latest row */
  readonly #latestRows = new Map<number, number>();
  #repeat = false;

  /** A row in which nothing tells a repetition from a second attempt. */
  startRow(): void {
    this.#repeat = false;
  }

  /** A row that repeats the athlete's row before it cell for cell was pasted twice: its attempts get the same numbers. */
  noteRow(athlete: number, cells: readonly string[]): void {
    const hash = hashOf(cells);
    this.#repeat = this.#latestRows.get(athlete) === hash;
    this.#latestRows.set(athlete, hash);
  }

  /** Attempts so far. */
  countOf(athlete: number, day: number, measure: number, side: number): number {
    return this.#seen.get(keyOf(athlete, day, measure, side)) ?? 0;
  }

  /**
   * Number of the next attempt.
   * @param athlete code below 2^22
   * @param measure position in the protocol, below 2^12
   * @param side position in SIDES
   * @param stillToCome attempts that follow in the same cell
   */
  next(athlete: number, day: number, measure: number, side: number, stillToCome = 0): number {
    const key = keyOf(athlete, day, measure, side);
    const seen = this.#seen.get(key) ?? 0;
    if (this.#repeat) return Math.max(seen - stillToCome, 1);
    this.#seen.set(key, seen + 1);
    return seen + 1;
  }
}

/** All four in one number below 2^53. */
function keyOf(athlete: number, day: number, measure: number, side: number): number {
  return ((athlete * 65536 + (day & 0xffff)) * 4096 + measure) * 4 + side;
}

/** FNV-1a over the cells of a row. */
function hashOf(cells: readonly string[]): number {
  let hash = 0x811c9dc5;
  for (const cell of cells) {
    for (let at = 0; at < cell.length; at++) hash = Math.imul(hash ^ cell.charCodeAt(at), 0x01000193);
    hash = Math.imul(hash ^ 0x1f, 0x01000193);
  }
  return hash >>> 0;
}
