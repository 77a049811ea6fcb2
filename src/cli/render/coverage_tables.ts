import type { Tally, TallyKind } from '../../groups/coverage_tally.ts';
import type { Progress, ToCall } from '../../groups/to_call.ts';
import { printable } from './printable.ts';
import { plainTable } from './table.ts';
import { type Setting, textWidth } from './text.ts';

/** Columns that a heading of the grid takes at most. */
const WIDEST_STATION = 14;
const WIDEST_TEAM = 24;
const GAP = 2;
const SHORTEST_NAME = 8;

/** Teams down and stations across, in as many blocks as the width asks for. */
export function coverageGrid({ stations, teams }: ToCall, setting: Setting): string {
  if (teams.length === 0) return 'Nobody is expected anywhere.\n';
  const first = Math.max(4, ...teams.map(({ team }) => wordsOf(team, 'team', WIDEST_TEAM).length)) + GAP;
  const room = Math.max(1, Math.floor((textWidth(setting) - first) / (WIDEST_STATION + GAP)));
  const blocks: string[] = [];
  for (let from = 0; from < stations.length; from += room) {
    const heads = stations.slice(from, from + room).map((station) => wordsOf(station, 'station', WIDEST_STATION));
    const rows = teams
      .map(({ team, progress }) => ({ team, cells: progress.slice(from, from + room).map(progressWords) }))
      .filter(({ cells }) => cells.some((cell) => cell !== ''))
      .map(({ team, cells }) => [wordsOf(team, 'team', WIDEST_TEAM), ...cells]);
    blocks.push(plainTable(['team', ...heads], rows, [false, ...heads.map(() => true)]));
  }
  return blocks.join('\n');
}

const progressWords = (progress: Progress | undefined): string =>
  progress === undefined ? '' : `${progress.done}/${progress.expected}`;

interface TallyColumn {
  readonly head: string;
  readonly of: (one: Tally) => string;
  /** whether it tells of tests that were done */
  readonly isOfDone: boolean;
}

const COLUMNS: readonly TallyColumn[] = [
  { head: 'done', of: ({ done, expected }) => `${done}/${expected}`, isOfDone: true },
  { head: 'to call', of: ({ toCall }) => wordOf(toCall), isOfDone: false },
  { head: 'held', of: ({ held }) => wordOf(held), isOfDone: false },
  { head: 'staff decide', of: ({ toDecide }) => wordOf(toDecide), isOfDone: true },
  { head: 'retest due', of: ({ retestDue }) => wordOf(retestDue), isOfDone: false },
];

/** One line a team, station, measure or athlete. @param isWhole whether tests that were done are among those counted */
export function tallyTable(kind: TallyKind, lines: readonly Tally[], isWhole: boolean, setting: Setting): string {
  if (lines.length === 0) return kind === 'athlete' ? 'Nobody lacks anything.\n' : 'Nobody is expected anywhere.\n';
  const columns = COLUMNS.filter(({ isOfDone }) => isWhole || !isOfDone);
  const cells = lines.map((one) => columns.map(({ of }) => of(one)));
  const widths = columns.map(({ head }, at) => Math.max(head.length, ...cells.map((row) => row[at].length)) + GAP);
  const room = Math.max(SHORTEST_NAME, textWidth(setting) - widths.reduce((sum, width) => sum + width, 0));
  return plainTable(
    [kind, ...columns.map(({ head }) => head)],
    lines.map((one, at) => [wordsOf(one.name, kind, room), ...cells[at]]),
    [false, ...columns.map(() => true)],
  );
}

const wordOf = (count: number): string => (count === 0 ? '' : String(count));

function wordsOf(name: string | null, kind: TallyKind, room: number): string {
  const text = name === null ? `no ${kind}` : printable(name);
  return text.length <= room ? text : `${text.slice(0, room - 1)}…`;
}
