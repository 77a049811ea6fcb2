import { IGNORED_REASONS } from '../problems/ignored.ts';
import { unitText } from '../units/unit_text.ts';
import { type HeadingWords, readHeading } from './headings.ts';
import type { ColumnPlan, Evidence, ReadingColumn, TablePlan } from './plan.ts';

const LONGEST_NAMED = 40;

const EVIDENCE: Readonly<Record<Evidence, string>> = {
  columns: 'columns: in screening.yaml says so',
  heading: 'the heading says so',
  athletes_below: 'no heading says so, and the cells below name athletes',
  only_worked_out: 'a best or mean, and the sheet holds no other readings of it',
};

/** Why a column is read as it is, a few words each. */
export function whyOf(column: ColumnPlan, table: TablePlan, words: HeadingWords): string[] {
  if (column.kind === 'role') return [EVIDENCE[column.evidence]];
  if (column.kind === 'ignored') {
    const compared = column.workedOut ? ['compared with its trials'] : [];
    return [IGNORED_REASONS[column.reason], ...compared];
  }
  if (column.kind === 'rejected') return [];
  return [...whyMeasured(column), ...whySides(column), ...whyUnit(column, table, words)];
}

function whyMeasured({ evidence, named, measure, compound }: ReadingColumn): string[] {
  if (evidence !== 'heading') return [EVIDENCE[evidence]];
  if (!measure && !compound) return ['each row names its test'];
  return [named === undefined ? EVIDENCE.heading : `"${shortened(named)}" names it`];
}

function whySides({ side, sides, sidesByCells, measure, reversed }: ReadingColumn): string[] {
  const why: string[] = [];
  if (sidesByCells) why.push('the cells hold both sides, and left is taken to stand first');
  else if (measure?.sides === 'each' && side === undefined && sides === undefined) why.push('each row names its side');
  if (reversed) why.push('sign reversed');
  return why;
}

function whyUnit(column: ReadingColumn, { columns }: TablePlan, words: HeadingWords): string[] {
  const { unit, unitFrom, unitText: open, heading, alsoIn } = column;
  if (open !== undefined) return [`unit "${shortened(open)}" in the heading`];
  if (unit === undefined) {
    const hasColumn = columns.some((other) => other.kind === 'role' && other.role === 'unit');
    return hasColumn ? ['the unit column says the unit'] : [];
  }
  if (unitFrom === 'cell') return ['the cells name their units'];
  const shown = unitText(unit.code) || 'no unit';
  if (unitFrom === 'heading') {
    const written = readHeading(heading, words)
      .find((reading) => reading.unit?.code === unit.code)
      ?.unitText?.trim();
    return written === undefined || written === shown || written === unit.code
      ? [`${written ?? shown} in the heading`]
      : [`${shortened(written)} in the heading, taken as ${shown}`];
  }
  if (unitFrom === 'screening') return [`${shown} by screening.yaml`];
  const also = alsoIn ? [`some cells name ${unitText(alsoIn.code)}`] : [];
  if (unitFrom === 'written_in') return [`${shown} by written_in: of the protocol`, ...also];
  return shown === 'no unit' ? also : [`${shown} by the protocol, none is named`, ...also];
}

function shortened(text: string): string {
  return text.length > LONGEST_NAMED ? `${text.slice(0, LONGEST_NAMED - 1)}…` : text;
}
