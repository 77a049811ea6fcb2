import stringWidth from 'string-width';
import { percentText, ratioText } from './cohort_numbers.ts';
import { type CohortRow, isCorrected } from './cohort_rows.ts';
import { printable } from './printable.ts';
import { shareBar } from './share_bar.ts';
import { wrapped } from './text.ts';

const INDENT = 2;
const GAP = 2;
/** A bar that tells something; on a terminal too narrow for it the bar shrinks. */
const NARROWEST_BAR = 9;
const SHORTEST_BAR = 3;
const WIDEST_BAR = 31;
const SCALE = '0 100 %';
const WIDEST_NAME = 30;
/** With less room than this a name gets a line of its own. */
const NARROWEST_NAME = 8;

const KINDS: Readonly<Record<string, string>> = { team: 'team', sport_group: 'group', sex: 'sex' };

/** `team Rowing`, `group groin` for a sport group, `sex F`, `everybody`. */
export function groupName({ group_kind, group }: CohortRow): string {
  return group_kind === 'all' ? 'everybody' : `${KINDS[group_kind!]} ${printable(group!)}`;
}

/** Stands behind a ratio for which 0.5 was added to all four cells. */
export const CORRECTED = '*';
export const OTHERS_HEAD = 'others';
export const RATIO_HEAD = 'ratio (95 %)';

interface Column {
  readonly head: string;
  readonly right: boolean;
  readonly cell: (row: CohortRow, limit: number) => string;
}

const FLAGGED: Column = { head: 'flagged', right: true, cell: ({ flagged, tested }) => `${flagged} of ${tested}` };
const SHARE: Column = {
  head: 'share',
  right: true,
  cell: ({ share }, limit) => (share === null ? '' : `${percentText(share, limit)} %`),
};
const RANGE: Column = {
  head: '95 %',
  right: true,
  cell: ({ share_low, share_high }, limit) =>
    share_low === null ? '' : `${percentText(share_low, limit)}–${percentText(share_high!, limit)}`,
};
const OTHERS: Column = {
  head: OTHERS_HEAD,
  right: true,
  cell: ({ others_flagged, others_tested }, limit) =>
    others_tested ? `${percentText(others_flagged! / others_tested, limit)} %` : '',
};
const RATIO: Column = {
  head: RATIO_HEAD,
  right: false,
  cell: (row) => {
    const { ratio, ratio_low, ratio_high } = row;
    if (ratio === null) return '';
    const range = ratio_low === null ? 'no interval' : `${ratioText(ratio_low)}–${ratioText(ratio_high!)}`;
    return `${ratioText(ratio)} (${range})${isCorrected(row) ? CORRECTED : ''}`;
  },
};
const DECISION: Column = {
  head: 'decision',
  right: false,
  cell: ({ decision }) => (decision ?? '').replaceAll('_', ' '),
};

/** In the order in which they are shown; those that may be left out with the order in which they get room. */
const COLUMNS: readonly { readonly column: Column; readonly place?: number }[] = [
  { column: FLAGGED },
  { column: SHARE },
  { column: RANGE, place: 1 },
  { column: OTHERS, place: 2 },
  { column: RATIO, place: 0 },
  { column: DECISION },
];

const pad = (text: string, room: number, right: boolean): string => {
  const blank = ' '.repeat(Math.max(0, room - stringWidth(text)));
  return right ? blank + text : text + blank;
};

/** How lines of groups are set: one a group, its share drawn as a bar. */
export class GroupLines {
  /** headings of the columns for which the terminal is too narrow */
  readonly hidden: readonly string[];
  readonly #shown: readonly { readonly column: Column; readonly room: number }[];
  readonly #limit: number;
  readonly #width: number;
  readonly #bar: number;
  /** 0: each name has a line of its own */
  readonly #name: number;

  /**
   * @param rows all rows that are to be set
   * @param limit share from which on work is shared, 0 to 1
   * @param width columns of a line
   */
  constructor(rows: readonly CohortRow[], limit: number, width: number) {
    const cells = (column: Column): string[] => [column.head, ...rows.map((row) => column.cell(row, limit))];
    const sized = COLUMNS.map(({ column, place }) => ({
      column,
      place,
      room: Math.max(...cells(column).map((cell) => stringWidth(cell))),
      isEmpty: rows.every((row) => column.cell(row, limit) === ''),
    })).filter(({ isEmpty }) => !isEmpty);
    const fixed = sized.filter(({ place }) => place === undefined);
    let left = width - INDENT - NARROWEST_BAR - fixed.reduce((sum, { room }) => sum + room + GAP, 0);
    const longest = Math.max(0, ...rows.map((row) => stringWidth(groupName(row))));
    const name = Math.min(longest, WIDEST_NAME, left - GAP);
    this.#name = name < Math.min(longest, NARROWEST_NAME) ? 0 : name;
    if (this.#name > 0) left -= this.#name + GAP;
    const fitting = new Set(fixed);
    for (const one of sized.toSorted((a, b) => (a.place ?? 0) - (b.place ?? 0))) {
      if (one.place === undefined || one.room + GAP > left) continue;
      fitting.add(one);
      left -= one.room + GAP;
    }
    this.#shown = sized.filter((one) => fitting.has(one));
    this.hidden = sized.filter((one) => !fitting.has(one)).map(({ column }) => column.head);
    this.#bar = Math.min(WIDEST_BAR, Math.max(SHORTEST_BAR, NARROWEST_BAR + left));
    this.#limit = limit;
    this.#width = width;
  }

  /** The headings; the bar runs from 0 to 100 %. */
  head(): string {
    const scale = this.#bar < SCALE.length ? '' : `0${pad('100 %', this.#bar - 1, true)}`;
    return this.#line(
      'group',
      this.#shown.map(({ column }) => column.head),
      scale,
    );
  }

  line(row: CohortRow): string {
    const { share, share_low: low, share_high: high } = row;
    const bar = share === null || low === null || high === null ? '' : shareBar({ share, low, high }, this.#bar);
    const name = groupName(row);
    const cells = this.#shown.map(({ column }) => column.cell(row, this.#limit));
    if (stringWidth(name) <= this.#name) return this.#line(name, cells, bar);
    const ownLine = wrapped(name, { width: this.#width, color: false }, INDENT, 2 * INDENT);
    return ownLine + this.#line('', cells, bar);
  }

  /** The bar stands behind the share, or its interval where that is shown. */
  #line(name: string, cells: readonly string[], bar: string): string {
    const parts = this.#name > 0 ? [pad(name, this.#name, false)] : [];
    for (const [at, { column, room }] of this.#shown.entries()) {
      parts.push(pad(cells[at], room, column.right));
      const next = this.#shown[at + 1]?.column;
      if ((column === SHARE && next !== RANGE) || column === RANGE) parts.push(pad(bar, this.#bar, false));
    }
    return `${' '.repeat(INDENT)}${parts.join(' '.repeat(GAP)).trimEnd()}\n`;
  }
}
