import { describeReading } from './described.ts';
import { type HeadingReading, type HeadingWords, readHeading, readQualifier } from './headings.ts';
import type { ColumnPlan, ReadingColumn } from './plan.ts';
import { ignoredHeading, roleOfHeading } from './roles.ts';

/** What the heading lines hold in one column. */
export interface StackedColumn {
  readonly heading: string;
  /** in the top line; '' where the column has none of its own */
  readonly own: string;
  /** the heading of the top line that stands over the column: its own, or the one that spans it */
  readonly top: string;
  /** what the lower lines say of it, each by itself */
  readonly below: readonly string[];
}

type Above = 'test' | 'side';

/** The side and trial that lower headings say which are no test by themselves. */
function bareOf({ below }: StackedColumn, words: HeadingWords): HeadingReading | undefined {
  let found: HeadingReading | undefined;
  for (const cell of below) {
    const said = readQualifier(cell);
    if (said?.workedOut !== undefined || readHeading(cell, words).length > 0) return undefined;
    // A unit below a side is one line more.
    const hasPlace = said?.side !== undefined || said?.sides !== undefined || said?.trial !== undefined;
    if (hasPlace) found = { ...found, ...said };
  }
  return found;
}

/** A column with what its lower headings leave to the line above. */
interface Looked extends StackedColumn {
  readonly bare: HeadingReading | undefined;
  /** nothing is left open by the heading of the top line and what stands below it: it spans no other column */
  readonly isAlone: boolean;
}

const isWhole = ({ own, below: [first] }: StackedColumn): boolean =>
  own === '' && first !== undefined && (roleOfHeading(first) !== undefined || ignoredHeading(first) !== undefined);

const keyOf = ({ side, sides, trial }: HeadingReading): string => `${side ?? sides ?? ''} ${trial ?? ''}`;
/** Whether two bare headings say the same kind of thing. */
const isAlike = (one: HeadingReading, other: HeadingReading): boolean =>
  (one.side ?? one.sides) === undefined
    ? (other.side ?? other.sides) === undefined && other.trial !== undefined
    : (other.side ?? other.sides) !== undefined && (one.trial === undefined) === (other.trial === undefined);

/**
 * Whether group headings stand over the middle of their columns, as they do where cells were merged and one of them was
 * saved away: a bare side or trial stands under no test, left of the first of them, behind a column that ends a test, or
 * as the first of a pair whose second has the heading. A side over tests is looked at in the same way.
 */
function isShifted(columns: readonly Looked[], plans: readonly ColumnPlan[], words: HeadingWords): Above | undefined {
  const tops = columns.filter(({ own }) => own !== '' && roleOfHeading(own) === undefined);
  if (tops.length > 0 && tops.every(({ own }) => readQualifier(own)?.side !== undefined)) {
    return sidesShifted(columns, plans) ? 'side' : undefined;
  }
  if (!tops.some(({ own }) => readHeading(own, words).length > 0)) return undefined;
  return testsShifted(columns) || pairsShifted(columns) ? 'test' : undefined;
}

/** A bare heading under nothing, or behind a column that has ended its test. */
function testsShifted(columns: readonly Looked[]): boolean {
  let group: HeadingReading[] = [];
  let isEnded = false;
  let isAlone = false;
  for (const column of columns) {
    if (column.own !== '') [group, isEnded, isAlone] = [[], false, column.isAlone];
    const said = column.bare;
    if (said === undefined) {
      isEnded ||= isWhole(column);
      continue;
    }
    if (column.top === '' || (column.own === '' && isAlone)) return true;
    const isNew = group.every((other) => isAlike(said, other) && keyOf(said) !== keyOf(other));
    // Notes may stand between the trials of one test.
    if (column.own === '' && isEnded && !isNew) return true;
    group.push(said);
  }
  return false;
}

/** Runs of L, R, L, R in which every heading stands over the second of a pair. */
function pairsShifted(columns: readonly Looked[]): boolean {
  for (let start = 0; start < columns.length; ) {
    let end = start;
    while (end < columns.length && columns[end].bare?.side !== undefined) end++;
    const run = columns.slice(start, end);
    const isPair = (at: number): boolean => keyOf(run[at].bare!) !== keyOf(run[at + 1].bare!);
    const firsts = run.flatMap((_, at) => (at % 2 === 0 ? [at] : []));
    if (run.length >= 2 && run.length % 2 === 0) {
      if (firsts.every((at) => isPair(at) && run[at].own === '' && run[at + 1].own !== '')) return true;
    }
    start = Math.max(end, start + 1);
  }
  return false;
}

/** Below sides stand tests: one that has sides and is under none, or twice under one, shows that the sides are elsewhere. */
function sidesShifted(columns: readonly StackedColumn[], plans: readonly ColumnPlan[]): boolean {
  let group = new Set<string>();
  return columns.some(({ own, top }, at) => {
    if (own !== '') group = new Set();
    const planned = plans[at];
    // The same test again under one side belongs to another.
    if (planned.kind === 'rejected' && planned.code === 'heading_duplicate') return top !== '';
    const plan = readingOf(planned);
    if (plan === undefined) return false;
    if (top === '') return plan.measure?.sides === 'each' && plan.side === undefined && plan.sides === undefined;
    if (plan.measure?.sides !== 'each') return false;
    const key = describeReading(plan);
    if (group.has(key)) return true;
    group.add(key);
    return false;
  });
}

function isAlone({ own, below }: StackedColumn, plan: ColumnPlan): boolean {
  if (own === '') return false;
  if (below.length === 0) return true;
  const reading = plan.evidence === 'only_worked_out' ? undefined : readingOf(plan);
  return reading !== undefined && (reading.side ?? reading.sides ?? reading.trial) === undefined;
}

function readingOf(plan: ColumnPlan | undefined): ReadingColumn | undefined {
  if (plan === undefined || plan.kind === 'role') return undefined;
  if (plan.kind === 'reading') return plan;
  return plan.kind === 'rejected' ? plan.held : undefined;
}

/**
 * Columns of a sheet whose group headings are shifted: what was completed from the line above is of two readings.
 * @param columns of the table, with what its heading lines hold
 * @param plans of the same columns
 * @param isSettled whether `columns:` says what a column is
 */
export function withoutShiftedGroups(
  columns: readonly StackedColumn[],
  plans: readonly ColumnPlan[],
  words: HeadingWords,
  isSettled: (at: number) => boolean,
): readonly ColumnPlan[] {
  const byTest = plans.some((plan) => plan.kind === 'role' && plan.role === 'test');
  // What is settled by hand is no evidence of a shift.
  const open = columns.map((column, at): Looked => {
    if (isSettled(at)) return { ...column, below: [], bare: undefined, isAlone: false };
    const bare = bareOf(column, words);
    return { ...column, bare, isAlone: bare === undefined && isAlone(column, plans[at]) };
  });
  const under = byTest ? undefined : isShifted(open, plans, words);
  if (under === undefined) return plans;
  return plans.map((plan, place): ColumnPlan => {
    const { own, top, below } = columns[place];
    const isWord = plan.kind === 'role' || (plan.kind === 'ignored' && plan.workedOut === undefined);
    // A unit below a heading of its own completes nothing that a shift could change.
    const isUnit = under === 'test' && own !== '' && open[place].bare === undefined;
    const isCompleted = top !== '' && below.length > 0 && plan.heading !== below.join(' ') && !isWord && !isUnit;
    if (isSettled(place) || !isCompleted) return plan;
    const { at, heading, evidence } = plan;
    if (plan.kind === 'rejected' && plan.code === 'heading_unknown') return plan;
    const [reading] = readHeading(heading, words);
    const known = reading === undefined ? [heading] : [describeReading({ ...reading, unitText: undefined })];
    const beside = `the ${under} beside it: a ${under === 'side' ? 'test' : sideOrTrial(open)} stands under no ${under}`;
    const args = { heading, choices: [...known, beside] };
    return { kind: 'rejected', at, heading, evidence, code: 'heading_ambiguous', args };
  });
}

function sideOrTrial(columns: readonly Looked[]): string {
  return columns.some(({ bare }) => bare?.side !== undefined) ? 'side' : 'trial';
}
