/** One way in which the digits of a number may have come about, with the number that was meant. */
export interface DigitSlip {
  readonly how: 'dropped' | 'doubled' | 'turned';
  /** as it may have been written on paper */
  readonly number: number;
}

/** Numbers with more digits than this were not typed as they stand: they come of a conversion. */
const MOST_DIGITS = 6;
const DIGITS = '0123456789';

/**
 * What a number may have been before a digit of it was dropped, doubled or exchanged with the next: for 143 the slips are
 * 13, 1433 and 134. A digit that was dropped stood before the decimal point: behind it nobody would see the slip.
 */
export function digitSlips(number: number): DigitSlip[] {
  const text = String(Math.abs(number));
  if (!/^\d+(\.\d+)?$/.test(text) || text.length > MOST_DIGITS + 1) return [];
  const sign = Math.sign(number) || 1;
  const slips: DigitSlip[] = [];
  const add = (how: DigitSlip['how'], changed: string): void => {
    // A leading zero is no digit that anybody typed.
    if (changed !== text && !/^0\d/.test(changed)) slips.push({ how, number: sign * Number(changed) });
  };
  const point = text.includes('.') ? text.indexOf('.') : text.length;
  for (let at = 0; at < text.length; at++) {
    if (text[at] === '.') continue;
    const next = text[at + 1] === '.' ? at + 2 : at + 1;
    if (next >= text.length) break;
    if (text[at] === text[next]) add('doubled', text.slice(0, at) + text.slice(at + 1));
    else add('turned', text.slice(0, at) + text[next] + text.slice(at + 1, next) + text[at] + text.slice(next + 1));
  }
  for (let at = 0; at <= point; at++) {
    for (const digit of DIGITS) add('dropped', text.slice(0, at) + digit + text.slice(at));
  }
  return slips;
}
