import type { Tally, TallyKind } from '../../groups/coverage_tally.ts';
import type { Called, ToCall } from '../../groups/to_call.ts';
import { CAUTIONS } from './cautions.ts';
import { counted } from './counted.ts';
import { coverageGrid, tallyTable } from './coverage_tables.ts';
import { printable } from './printable.ts';
import { heading, type Setting, wrapped } from './text.ts';

const STATE_WORDS: Readonly<Record<string, string>> = {
  pain: 'in pain',
  unable: 'could not do it',
  refused: 'refused',
};

export interface CoverageView {
  readonly toCall: ToCall;
  /** whether tests that were done are among the rows: of those for a coach they are not */
  readonly isWhole: boolean;
  readonly season: number | null;
  /** ISO day from which it is looked at */
  readonly on: string;
  /** names by id, only if they were asked for */
  readonly names: ReadonlyMap<string, string>;
  /** counted by one thing in place of the grid */
  readonly tally?: { readonly kind: TallyKind; readonly lines: readonly Tally[] };
}

/** Who still lacks what, for people who walk through a hall and call. */
export function coverageText(view: CoverageView, setting: Setting): string {
  const { toCall, names } = view;
  let text = wrapped(firstSentence(view), setting);
  text += tables(view, setting);
  text += heading('To call, by station', setting);
  text += toCall.call.length === 0 ? 'Nobody.\n' : '';
  for (const { station, athletes } of toCall.call) {
    const where = station === null ? 'no station' : printable(station);
    text += wrapped(`${where}: ${counted(athletes.length, 'athlete')}`, setting) + people(athletes, names, setting);
  }
  if (toCall.held.length > 0) {
    text += heading('Held by medical staff: not to be called', setting) + people(toCall.held, names, setting);
  }
  if (toCall.decide.length > 0) {
    text += heading('Medical staff decide whether they come again', setting);
    for (const one of toCall.decide) {
      text += wrapped(`${who(one, names)}, ${STATE_WORDS[one.state]}: ${list(one.measures)}`, setting, 2, 4);
    }
  }
  text += retests(view, setting);
  return `${text}\n${wrapped(CAUTIONS[0], setting)}`;
}

/** How many tests are done is not said where those that are done are not shown. */
function firstSentence({ isWhole, toCall: { total, decide }, season, on }: CoverageView): string {
  if (season === null) return 'No season: nothing was read yet.';
  const start = `Season ${season}, looked at from ${on}`;
  if (!isWhole) return `${start}.`;
  const { done, expected } = total;
  const share = expected === 0 ? '' : ` (${Math.floor((100 * done) / expected)} %)`;
  const inPain = decide.some(({ state }) => state === 'pain') ? ', those that hurt among them' : '';
  return `${start}: ${done} of ${counted(expected, 'test')} done${share}${inPain}.`;
}

function tables({ isWhole, toCall, tally }: CoverageView, setting: Setting): string {
  if (tally) {
    return heading(`Tests, by ${tally.kind}`, setting) + tallyTable(tally.kind, tally.lines, isWhole, setting);
  }
  return isWhole ? heading('Done, of those expected', setting) + coverageGrid(toCall, setting) : '';
}

function retests({ toCall: { retests: due, later }, names }: CoverageView, setting: Setting): string {
  let text = due.length === 0 ? '' : heading('To be tested again by now', setting);
  for (const { measure, athletes } of due) {
    const each = athletes.map((one) => `${printable(named(one.athleteId, names))} (since ${one.retestBy})`);
    text += wrapped(`${measure === '' ? 'Tests' : printable(measure)}: ${each.join(', ')}`, setting, 0, 2);
  }
  if (later.length > 0) {
    const verb = later.length === 1 ? 'is' : 'are';
    text += `\n${wrapped(`Later ${counted(later.length, 'test')} ${verb} due again, the first by ${later[0]}.`, setting)}`;
  }
  return text;
}

const list = (measures: readonly string[]): string => measures.map(printable).join(', ');
const named = (id: string, names: ReadonlyMap<string, string>): string => [id, names.get(id) ?? ''].join(' ').trim();

function who({ athleteId, team }: Called, names: ReadonlyMap<string, string>): string {
  return printable(`${named(athleteId, names)}, ${team ?? 'no team'}`);
}

function people(athletes: readonly Called[], names: ReadonlyMap<string, string>, setting: Setting): string {
  return athletes
    .map((one) => {
      const what = one.measures.length === 0 ? '' : `: ${list(one.measures)}`;
      return wrapped(`${who(one, names)}${what}`, setting, 2, 4);
    })
    .join('');
}
