import type { Called, ToCall } from '../../groups/to_call.ts';
import { printable } from './printable.ts';
import { heading, type Setting, wrapped } from './text.ts';

/** Athletes of one line who are named. */
const MOST_OF_A_LINE = 30;

function ids(athletes: readonly Called[]): string {
  const distinct = [...new Set(athletes.map(({ athleteId }) => athleteId))];
  const left = distinct.length - MOST_OF_A_LINE;
  const shown = distinct.slice(0, MOST_OF_A_LINE).map(printable).join(', ');
  return left > 0 ? `${shown} and ${left} more` : shown;
}

/** Who is missing, in a few lines: by station, who is not to be called, whose retest is due. */
export function missingText(toCall: ToCall, setting: Setting): string {
  const { total, decide } = toCall;
  let text = heading(`Who is missing: ${total.done} of ${total.expected} tests are done`, setting);
  text += callLines(toCall, setting);
  if (decide.length > 0) {
    text += wrapped(`In pain, unable or refused, medical staff decide: ${ids(decide)}`, setting, 0, 2);
  }
  return `${text}${wrapped('What they lack: coverage.csv (bilat coverage).', setting)}`;
}

/** The same for a coach, who is not told how many tests are done: what is not shown would be told by that. */
export function missingForCoach(toCall: ToCall, setting: Setting): string {
  return heading('Who is missing', setting) + callLines(toCall, setting);
}

function callLines({ call, held, retests }: ToCall, setting: Setting): string {
  let text = call.length === 0 ? 'Nobody.\n' : '';
  for (const { station, athletes } of call) {
    text += wrapped(`${station === null ? 'No station' : printable(station)}: ${ids(athletes)}`, setting, 0, 2);
  }
  if (held.length > 0) text += wrapped(`Held, not to be called: ${ids(held)}`, setting, 0, 2);
  for (const { measure, athletes } of retests) {
    const what = measure === '' ? '' : `, ${printable(measure)}`;
    text += wrapped(`To be tested again by now${what}: ${ids(athletes)}`, setting, 0, 2);
  }
  return text;
}
