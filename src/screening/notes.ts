/** Notes of one kind on one sheet that are told one by one; a habit of the station shows in as many. */
const MOST_OF_A_KIND = 3;

interface Kind {
  /** name of the sheet, as it stands before the note */
  readonly file: string;
  readonly texts: Set<string>;
}

/** Things worth saying that are no rejects; each is said once, with how often it happened. */
export class Notes {
  readonly #counts = new Map<string, number>();
  readonly #kinds = new Map<string, Kind>();

  /**
   * @param kind of notes of which each speaks of another athlete of one sheet, whose name stands before the first colon of
   *   the text: from the fourth on they are only counted
   */
  add(text: string, kind?: string): void {
    if (kind !== undefined && this.#isOneOfMany(text, kind)) return;
    this.#counts.set(text, (this.#counts.get(text) ?? 0) + 1);
  }

  #isOneOfMany(text: string, name: string): boolean {
    const file = text.slice(0, text.indexOf(': '));
    const key = `${file}\n${name}`;
    const kind = this.#kinds.get(key) ?? { file, texts: new Set() };
    this.#kinds.set(key, kind);
    kind.texts.add(text);
    return kind.texts.size > MOST_OF_A_KIND && !this.#counts.has(text);
  }

  *[Symbol.iterator](): Generator<string> {
    const last = new Map<string, Kind>();
    for (const kind of this.#kinds.values()) {
      const shown = [...kind.texts].slice(0, MOST_OF_A_KIND);
      if (kind.texts.size > MOST_OF_A_KIND) last.set(shown[MOST_OF_A_KIND - 1], kind);
    }
    for (const [text, count] of this.#counts) {
      yield count > 1 ? `${text} (${count} times)` : text;
      const kind = last.get(text);
      if (kind === undefined) continue;
      const more = kind.texts.size - MOST_OF_A_KIND;
      yield `${kind.file}: and so ${more} more ${more === 1 ? 'athlete' : 'athletes'} of this sheet`;
    }
  }
}
