import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import { trimmed } from './blank.ts';
import { describeReading, nearestTest } from './described.ts';
import { type HeadingReading, type HeadingWords, readHeading } from './headings.ts';

const MOST_REMEMBERED = 10_000;

/** What a row's test cell names, or why nobody can say. */
export type TestReading = HeadingReading | { readonly code: RejectCode; readonly args: RejectArgs };

/** Reads the cells of a test column by the words of the headings, and remembers them. */
export class TestCells {
  readonly #words: HeadingWords;
  readonly #known = new Map<string, TestReading>();
  #lastCell: string | undefined;
  #last: TestReading | undefined;

  constructor(words: HeadingWords) {
    this.#words = words;
  }

  read(cell: string): TestReading {
    if (cell === this.#lastCell) return this.#last!;
    const text = trimmed(cell);
    let test = this.#known.get(text);
    if (test === undefined) {
      test = this.#readAnew(text);
      if (this.#known.size < MOST_REMEMBERED) this.#known.set(text, test);
    }
    this.#lastCell = cell;
    this.#last = test;
    return test;
  }

  #readAnew(text: string): TestReading {
    const readings = text === '' ? [] : readHeading(text, this.#words);
    if (readings.length === 1) return readings[0];
    return readings.length === 0
      ? { code: 'test_unknown', args: { raw: text, choices: nearestTest(text, this.#words) } }
      : { code: 'heading_ambiguous', args: { heading: text, choices: readings.map(describeReading) } };
  }
}
