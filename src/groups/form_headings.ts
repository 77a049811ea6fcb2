import { Failure } from '../problems/failure.ts';
import type { Measure, Protocol } from '../protocol/types.ts';
import type { SheetEntry } from '../sheets/entry.ts';
import { headingWords } from '../sheets/headings.ts';
import type { ColumnPlan } from '../sheets/plan.ts';
import { recognise } from '../sheets/recognise.ts';
import { csvCell } from '../tables/csv_text.ts';
import { unitText } from '../units/unit_text.ts';

/** One column of a blank sheet: an attempt at a measure. */
export interface FormColumn {
  readonly heading: string;
  readonly measure: Measure;
  /** undefined: a measure without sides */
  readonly side: 'left' | 'right' | undefined;
  /** from 1; undefined: the only one */
  readonly trial: number | undefined;
  /** UCUM code of the unit that the heading names */
  readonly unit: string;
}

/** Headings that stand before those of the readings. */
export const FORM_ROLES = ['athlete_id', 'team', 'date', 'tester', 'device'] as const;

const SIDES = ['left', 'right'] as const;
const LETTER = { left: 'L', right: 'R' } as const;
const BARE: SheetEntry = { files: [], purpose: 'test', units: new Map(), columns: new Map() };
/** Below such a heading a hand may write feet and inches, or inches alone. */
const FEET = '[ft_i]';
/** Spreadsheets that take a file for the code page of the machine garble everything else. */
const PLAIN = /^[ -~]*$/;

/**
 * Finds the columns of a blank sheet for measures, in their order: left before right, one an attempt, headed so that the
 * sheet is read back without any hint. What a heading says is asked of the reader of sheets itself.
 * @param unitOf UCUM code in which a measure is mostly written: a number below the unit of another device would be read
 *   as something else; null: nobody has written it yet
 * @returns a function that throws Failure 2 where no heading of the protocol would be read as the measure
 */
export function formHeadings(
  protocol: Protocol,
  unitOf: (measure: Measure) => string | null,
): (measures: readonly Measure[]) => readonly FormColumn[] {
  const words = headingWords(protocol);
  const isReadBack = (columns: readonly FormColumn[]): boolean => {
    const headings = [...FORM_ROLES, ...columns.map(({ heading }) => csvCell(heading))];
    const cells = ['A1', 'Team', '2026-08-17', '', '', ...columns.map(({ measure }) => middle(measure))];
    const plan = recognise(`${headings.join(',')}\n${cells.join(',')}\n`, { protocol, words, entry: BARE });
    if ('code' in plan) return false;
    const read = new Map(plan.tables.flatMap(({ from, columns: own }) => own.map((one) => [from + one.at, one])));
    return columns.every((column, at) => isAs(column, read.get(FORM_ROLES.length + at)));
  };
  const find = (measure: Measure): readonly FormColumn[] => {
    for (const unit of unitsOf(measure, unitOf(measure))) {
      for (const name of namesOf(measure)) {
        for (const written of spellingsOf(unit)) {
          const columns = columnsOf(measure, name, unit, written);
          if (isReadBack(columns)) return columns;
        }
      }
    }
    throw new Failure(2, {
      file: protocol.file,
      message: `no heading of ${measure.name} would be read back as it: its label and headings mean something else too, or nothing`,
      hint: `Give it a heading of its own: headings: ["${measure.name.replaceAll('_', ' ')} test"].`,
    });
  };
  const known = new Map<Measure, readonly FormColumn[]>();
  return (measures) => {
    const columns = measures.flatMap((measure) => {
      const found = known.get(measure) ?? find(measure);
      known.set(measure, found);
      return found;
    });
    // A heading may be clear alone and not beside others.
    if (columns.length === 0 || isReadBack(columns)) return columns;
    throw new Failure(2, {
      file: protocol.file,
      message: `a sheet of ${measures.map(({ name }) => name).join(', ')} together would not be read back: its headings mean one another`,
      hint: 'Give the measures labels that differ, or make a sheet for each with --measure.',
    });
  };
}

/** What may name a measure, the plainest first. */
function namesOf({ label, headings, name }: Measure): string[] {
  const names = [label, ...headings, name.replaceAll('_', ' ')].filter((text) => text !== '' && !/[()]/.test(text));
  const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
  const distinct = [...new Set(names.map(capital))];
  return [...distinct.filter((text) => PLAIN.test(text)), ...distinct.filter((text) => !PLAIN.test(text))];
}

function unitsOf({ writtenIn, unit }: Measure, habit: string | null): string[] {
  const codes = [habit === FEET ? null : habit, writtenIn, unit.code];
  return [...new Set(codes.filter((code) => code !== null && code !== undefined))];
}

function spellingsOf(unit: string): string[] {
  const spellings = [unitText(unit), unit].filter((text) => text === '' || PLAIN.test(text));
  return spellings.map((text) => (text === '' || text === '1' ? '' : ` (${text})`));
}

function columnsOf(measure: Measure, name: string, unit: string, written: string): FormColumn[] {
  const { expect } = measure.trials;
  const trials = expect > 1 ? Array.from({ length: expect }, (_, at) => at + 1) : [undefined];
  const sides = measure.sides === 'none' ? [undefined] : SIDES;
  return sides.flatMap((side) =>
    trials.map((trial) => {
      const words = [name, side && LETTER[side], trial].filter((word) => word !== undefined);
      return { heading: words.join(' ') + written, measure, side, trial, unit };
    }),
  );
}

const middle = ({ plausible, levels }: Measure): string =>
  String(levels?.[0] ?? (plausible ? Math.round((plausible[0] + plausible[1]) / 2) : 20));

function isAs({ measure, side, trial, unit }: FormColumn, read: ColumnPlan | undefined): boolean {
  return (
    read?.kind === 'reading' &&
    read.measure === measure &&
    read.compound === undefined &&
    read.side === side &&
    read.sides === undefined &&
    read.trial === trial &&
    (read.unit?.code ?? measure.unit.code) === unit &&
    !read.reversed
  );
}
