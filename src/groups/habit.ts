/** How something is mostly done with each measure: in the newest season that tells, since stations and devices change. */
export class Habit {
  readonly #seasons: number[];
  readonly #counts: Map<string, number>[];
  readonly #ever: Set<string>[];

  /** @param measures how many there are */
  constructor(measures: number) {
    this.#seasons = Array.from({ length: measures }, () => Number.NEGATIVE_INFINITY);
    this.#counts = Array.from({ length: measures }, () => new Map());
    this.#ever = Array.from({ length: measures }, () => new Set());
  }

  /** @param measure index @param text null: nothing is said */
  add(measure: number, text: string | null, season: number): void {
    if (text === null) return;
    this.#ever[measure].add(text);
    if (season < this.#seasons[measure]) return;
    if (season > this.#seasons[measure]) {
      this.#seasons[measure] = season;
      this.#counts[measure].clear();
    }
    this.#counts[measure].set(text, (this.#counts[measure].get(text) ?? 0) + 1);
  }

  /** What is commonest; of equally common texts the first by code unit. null: nothing is said in any season. */
  of(measure: number): string | null {
    const counts = [...this.#counts[measure]];
    return counts.sort(([a, x], [b, y]) => y - x || (a < b ? -1 : 1))[0]?.[0] ?? null;
  }

  /** Every text of any season, by code unit. */
  all(): string[] {
    return [...new Set(this.#ever.flatMap((texts) => [...texts]))].sort();
  }

  /** Whether a measure was ever done so. */
  had(measure: number, text: string): boolean {
    return this.#ever[measure].has(text);
  }
}
