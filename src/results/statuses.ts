import { RESULT_STATUSES, type ResultStatus } from '../tables/schemas.ts';

/** One bit a status, in the contract's order. */
export const STATUS_BIT = Object.fromEntries(RESULT_STATUSES.map((status, at) => [status, 2 ** at])) as Readonly<
  Record<ResultStatus, number>
>;

const texts = new Map<number, string>([[0, '']]);

/** Statuses of a set of bits, in the contract's order, joined with a semicolon. */
export function statusText(bits: number): string {
  let text = texts.get(bits);
  if (text === undefined) {
    text = RESULT_STATUSES.filter((_, at) => (bits & (2 ** at)) !== 0).join(';');
    texts.set(bits, text);
  }
  return text;
}
