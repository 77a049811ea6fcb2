/** Things worth saying that are no rejects; each is said once, with how often it happened. */
export class Notes {
  readonly #counts = new Map<string, number>();

  add(text: string): void {
    this.#counts.set(text, (this.#counts.get(text) ?? 0) + 1);
  }

  *[Symbol.iterator](): Generator<string> {
    for (const [text, count] of this.#counts) yield count > 1 ? `${text} (${count} times)` : text;
  }
}
