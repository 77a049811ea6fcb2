import { foldDashes } from '../units/characters.ts';
import { withUnit } from '../units/unit_text.ts';

export type AngleRange =
  /** the angle at which a range from zero ends, with its unit if it is written */
  | { readonly kind: 'end'; readonly text: string }
  /** what a range may stand for */
  | { readonly kind: 'open'; readonly readings: readonly string[] };

const ANGLE = String.raw`(\d{1,3}(?:[.,]\d{1,2})?)`;
const UNIT = String.raw` ?(?:[°º˚]|degs?\b\.?|degrees?\b)?`;
const TO = `${UNIT} ?(?:-|to) ?`;
/** 0-135, 0 to 135°, 5-135 */
const RANGE = new RegExp(`^${ANGLE}${TO}${ANGLE}(${UNIT})$`, 'i');
/** 5-0-135; with slashes it may be three trials */
const NEUTRAL_ZERO = new RegExp(`^${ANGLE}${TO}${ANGLE}${TO}${ANGLE}${UNIT}$`, 'i');

/**
 * A range of motion written by the neutral-zero method, or as from where to where: `0-135` is 135, every other range
 * has two ends of which nobody can say which one is asked for. undefined if the text is no range.
 * @param text not long, without a pain mark
 * @param unit UCUM code of the unit that bare angles are in
 */
export function readAngleRange(text: string, unit: string): AngleRange | undefined {
  const cell = foldDashes(text).replace(/ {2,}/g, ' ').trim();
  const range = RANGE.exec(cell);
  if (range !== null) {
    const [, start, end, unitText] = range as unknown as [string, string, string, string];
    if (numberOf(start) === 0) return { kind: 'end', text: end + unitText };
    return { kind: 'open', readings: endsOf(numberOf(start), numberOf(end), 'minus', unit) };
  }
  const three = NEUTRAL_ZERO.exec(cell);
  if (three === null) return undefined;
  const angles = three.slice(1).map(numberOf);
  return angles.includes(0) ? { kind: 'open', readings: neutralZeroReadings(angles, unit) } : undefined;
}

/**
 * What three angles of the neutral-zero method, one of them 0, may stand for: with the zero in the middle the joint
 * goes both ways from it, with the zero outside it starts beyond it.
 */
export function neutralZeroReadings(angles: readonly number[], unit: string): string[] {
  const [first = 0, middle = 0, last = 0] = angles;
  if (middle === 0) return endsOf(first, last, 'plus', unit);
  return endsOf(middle, first === 0 ? last : first, 'minus', unit);
}

function endsOf(start: number, end: number, sign: 'plus' | 'minus', unit: string): string[] {
  const whole = sign === 'plus' ? start + end : Math.abs(end - start);
  const shown = (angle: number): string => withUnit(String(Number(angle.toFixed(2))), unit);
  return [`${shown(end)} at one end`, `${shown(start)} at the other`, `${shown(whole)} between them`];
}

function numberOf(text: string): number {
  return Number(text.replace(',', '.'));
}
