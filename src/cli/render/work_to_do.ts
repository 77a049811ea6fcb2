import type { Doer, OwnWork, Someone, TeamWork, WorkToDo } from '../../screening/work_to_do.ts';
import { counted } from './counted.ts';
import { printable } from './printable.ts';
import { heading, type Setting, wrapped } from './text.ts';

/** Athletes of one line who are named. */
const MOST_OF_A_LINE = 24;

const words = ({ athlete_id, name, side }: Someone): string =>
  [printable(athlete_id), name === undefined ? '' : printable(name), sideWords(side)].filter(Boolean).join(' ');

function sideWords(side: string | null): string {
  return side === 'both' ? 'both sides' : (side ?? '');
}

function list(people: readonly Someone[]): string {
  const left = people.length - MOST_OF_A_LINE;
  const shown = people.slice(0, MOST_OF_A_LINE).map(words).join(', ');
  return left > 0 ? `${shown} and ${left} more` : shown;
}

/** Who does it, then who does so only after something else. */
function doers(people: readonly Doer[]): string {
  const free = people.filter((one) => !one.after_medical && !one.stopped);
  const parts: [string, readonly Doer[]][] = [
    ['', free],
    ['after medical staff have seen them: ', people.filter((one) => one.after_medical)],
    ['given up, decide whether to go on: ', people.filter((one) => one.stopped)],
  ];
  return parts
    .filter(([, some]) => some.length > 0)
    .map(([condition, some]) => `${condition}${list(some)}`)
    .join('; ');
}

function teamLines(work: TeamWork, setting: Setting): string {
  const until = work.retest_by === null ? '' : ` Test again by ${work.retest_by}.`;
  const start = work.start === null ? '' : ` From ${work.start}.`;
  const owner = work.owner === null ? '' : ` (${work.owner} staff)`;
  let text = wrapped(`${printable(work.team)}: ${printable(work.programme)}${owner}.${start}${until}`, setting, 0, 2);
  if (work.reason !== null) text += wrapped(printable(work.reason), setting, 2);
  if (work.instruction !== null) text += wrapped(printable(work.instruction), setting, 2);
  for (const { athlete_id, name, reason } of work.left_out) {
    const why = reason === null ? '' : `: ${printable(reason)}`;
    text += wrapped(`Without ${words({ athlete_id, name, side: null })}${why}`, setting, 2, 4);
  }
  return text;
}

function ownLines({ programme, owner, athletes, retest_by }: OwnWork, isWhole: boolean, setting: Setting): string {
  const none = isWhole ? 'No programme in the protocol: staff decide' : 'No programme shown: staff decide';
  const what = programme === null ? none : printable(programme);
  const whose = owner === null ? '' : ` (${owner} staff)`;
  const until = retest_by === null ? '' : ` First retest by ${retest_by}.`;
  return wrapped(`${what}${whose}: ${doers(athletes)}.${until}`, setting, 0, 2);
}

/**
 * What each group does, who does what alone, who is to be tested again first, and who does nothing until cleared.
 * @param isWhole false: an audience is not shown every programme
 */
export function workToDoText(work: WorkToDo, knowsClearance: boolean, isWhole: boolean, setting: Setting): string {
  let text = teamsAndAthletes(work, isWhole, setting) + repeatLines(work, setting) + heldLines(work, setting);
  if (!knowsClearance) {
    text += wrapped('There is no clearance file: nobody is known to be cleared, and nobody is held back.', setting);
  }
  return `${text}${wrapped('Reasons, dates and the order in which to act: plan.csv (bilat plan).', setting)}`;
}

/** The same for a coach, who is not sent to the tables; who is held stands elsewhere. */
export function workForCoach(work: WorkToDo, setting: Setting): string {
  const people = new Map<string, Doer>();
  for (const one of work.repeat.flatMap(({ athletes }) => athletes)) {
    if (!people.get(one.athlete_id)?.after_medical) people.set(one.athlete_id, one);
  }
  const again =
    people.size === 0
      ? ''
      : heading('Repeats a test with staff', setting) + wrapped(doers([...people.values()]), setting);
  return teamsAndAthletes(work, false, setting) + again;
}

function teamsAndAthletes({ teams, alone }: WorkToDo, isWhole: boolean, setting: Setting): string {
  let text = heading(`What whole teams do: ${counted(teams.length, 'programme')}`, setting);
  text += teams.length === 0 ? 'None.\n' : teams.map((work) => teamLines(work, setting)).join('');
  const people = new Set(alone.flatMap(({ athletes }) => athletes.map(({ athlete_id }) => athlete_id)));
  text += heading(`Who does what alone: ${counted(people.size, 'athlete')}`, setting);
  text += alone.length === 0 ? 'Nobody.\n' : alone.map((work) => ownLines(work, isWhole, setting)).join('');
  return text;
}

function repeatLines({ repeat }: WorkToDo, setting: Setting): string {
  if (repeat.length === 0) return '';
  const lines = repeat.map(({ measure, athletes }) =>
    wrapped(`${measure === '' ? '' : `${printable(measure)}: `}${doers(athletes)}`, setting, 0, 2),
  );
  return heading('Repeat the test first: the reading is within its error', setting) + lines.join('');
}

function heldLines({ held }: WorkToDo, setting: Setting): string {
  if (held.length === 0) return '';
  const lines = held
    .slice(0, MOST_OF_A_LINE)
    .map((one) => wrapped(`${words(one)}: ${printable(one.instruction ?? '')}`.replace(/: $/, ''), setting, 0, 2));
  const left = held.length - lines.length;
  const rest = left > 0 ? `and ${left} more: plan.csv, scope hold\n` : '';
  return heading(`On hold: ${counted(held.length, 'athlete')}`, setting) + lines.join('') + rest;
}
