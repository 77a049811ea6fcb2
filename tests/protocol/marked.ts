import { expect } from 'vitest';
import { Failure } from '../../src/problems/failure.ts';

/** Marks, in the text of a test, the places where troubles are expected. */
const MARK = '»';

export interface Marked {
  readonly text: string;
  /** file:line:column of each mark, in order */
  readonly places: readonly string[];
}

/** The text without its marks, and where they stood. */
export function marked(text: string, file: string): Marked {
  const places: string[] = [];
  const lines = text.split('\n').map((line, at) => {
    const [first, ...others] = line.split(MARK);
    let column = first.length + 1;
    for (const part of others) {
      places.push(`${file}:${at + 1}:${column}`);
      column += part.length;
    }
    return line.replaceAll(MARK, '');
  });
  return { text: lines.join('\n'), places };
}

/** The Failure that an action ends in. */
export function failureOf(action: () => unknown): Failure {
  try {
    action();
  } catch (error) {
    if (error instanceof Failure) return error;
    throw error;
  }
  throw new Error('nothing was wrong');
}

/** Expects troubles at the marks of a text, each told as "message" or "message | hint". */
export function expectTroubles({ places }: Marked, failure: Failure, told: readonly string[]): void {
  const found = failure.troubles.map(({ file, line, column, message, hint }, at) => ({
    place: `${file}:${line}:${column}`,
    told: told[at]?.includes(' | ') ? `${message} | ${hint}` : message,
  }));
  expect(found).toEqual(told.map((text, at) => ({ place: places[at], told: text })));
  expect(failure.exitCode).toBe(2);
}
