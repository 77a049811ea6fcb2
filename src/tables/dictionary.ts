/** Distinct texts in order of first appearance; a code is an index into them. Lookup is by exact text. */
export class Dictionary {
  readonly texts: string[];
  readonly #codes = new Map<string, number>();

  constructor(texts: readonly string[] = []) {
    this.texts = [...texts];
    for (const [code, text] of this.texts.entries()) this.#codes.set(text, code);
  }

  /** The code of a text, added if it is new. */
  code(text: string): number {
    let code = this.#codes.get(text);
    if (code === undefined) {
      code = this.texts.length;
      this.texts.push(text);
      this.#codes.set(text, code);
    }
    return code;
  }

  /** The code of a text, or -1 if it was never seen. */
  find(text: string): number {
    return this.#codes.get(text) ?? -1;
  }

  get size(): number {
    return this.texts.length;
  }
}
