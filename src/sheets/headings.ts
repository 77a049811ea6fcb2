import type { Compound, Measure, Protocol } from '../protocol/types.ts';
import { foldKey } from '../units/keys.ts';
import type { SideOrder, WrittenSide } from '../units/sides.ts';
import { LENGTH, parseUnit, type Unit } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';
import { type Draft, readBrackets, readRest, type Wanted } from './heading_rest.ts';
import {
  brackets,
  foldHeading,
  LONGEST_HEADING,
  MOST_TOKENS,
  type Phrase,
  phrase,
  writtenFrom,
} from './heading_tokens.ts';
import { roleOfHeading } from './roles.ts';
import type { WorkedOutKind } from './worked_out_words.ts';

/** What a heading, or a cell of a test column, says. What it does not say is undefined. */
export interface HeadingReading {
  readonly measure?: Measure;
  readonly compound?: Compound;
  readonly side?: WrittenSide;
  /** the cells hold both sides, in this order */
  readonly sides?: SideOrder;
  readonly trial?: number;
  readonly unit?: Unit;
  /** the unit as written */
  readonly unitText?: string;
  /** a best, mean or difference that a spreadsheet worked out */
  readonly workedOut?: WorkedOutKind;
  /** the words that name the measure, as written */
  readonly named?: string;
}

type Thing = Measure | Compound;

/** Folded heading without spaces → what it may name. */
type Names<T extends Thing> = ReadonlyMap<string, readonly T[]>;

export interface HeadingWords {
  readonly names: Names<Thing>;
  /** derived measures, which no sheet hands in: what is called so is worked out */
  readonly derived: Names<Measure>;
  /** folded headings with spaces, for suggestions */
  readonly known: readonly string[];
  /** characters of the longest name */
  readonly longest: number;
  /** headings read so far: the same ones are met again at every page break and by every delimiter tried */
  readonly read: Map<string, readonly HeadingReading[]>;
}

const MOST_READ = 10_000;

/** Inches that nobody takes for feet; as feet and inches 8.11 is the most that a person can be. */
const MORE_THAN_FEET = 9;
const METRES_AN_INCH = 0.0254;
/** Two measures set against each other; "Ht/Wt" may as well be one after the other, so "/" asks for more. */
const AGAINST = /[:÷/]| (?:vs\.?|to) /gi;
const MOST_AGAINST = 4;
const QUOTIENTS: ReadonlySet<string> = new Set(['ratio', 'per', 'percent_of']);
const NEWTON = parseUnit('N')!;
const COUNT = parseUnit('1')!;

const squeezed = (text: string): string => foldKey(text).replaceAll(' ', '');

const isCompound = (thing: Thing): thing is Compound => 'parts' in thing;

/** Every name by which headings may call the measures and compounds of a protocol. */
export function headingWords(protocol: Protocol): HeadingWords {
  const names = new Map<string, Thing[]>();
  const derived = new Map<string, Measure[]>();
  const known = new Set<string>();
  let longest = 0;
  const add = <T>(to: Map<string, T[]>, key: string, thing: T): void => {
    if (key === '') return;
    const things = to.get(key);
    if (things === undefined) to.set(key, [thing]);
    else if (!things.includes(thing)) things.push(thing);
    longest = Math.max(longest, key.length);
  };
  for (const measure of protocol.measures) {
    for (const heading of namesOf(measure)) {
      add<Thing>(measure.derivation ? derived : names, squeezed(heading), measure);
      if (!measure.derivation && squeezed(heading) !== '') known.add(foldKey(heading));
    }
  }
  for (const compound of protocol.compounds) {
    for (const heading of [compound.name, ...compound.headings]) {
      add<Thing>(names, squeezed(heading), compound);
      if (squeezed(heading) !== '') known.add(foldKey(heading));
    }
    // SBP/DBP is the pressure, part by part.
    if (compound.parts.length !== 2) continue;
    const [first, second] = compound.parts.map((part) =>
      namesOf(part)
        .map(squeezed)
        .filter((key) => key !== ''),
    );
    for (const one of first) for (const other of second) add<Thing>(names, one + other, compound);
  }
  return { names, derived, known: [...known], longest, read: new Map() };
}

function namesOf({ name, label, headings }: Measure): string[] {
  return [name, label, ...headings];
}

function wantedBy(thing: Thing): Wanted {
  if (isCompound(thing)) return { unit: thing.parts[0].unit, better: thing.parts[0].better };
  const { unit, better, sides, plausible } = thing;
  const low = unit.dimension === LENGTH && plausible !== undefined ? plausible[0] * unit.factor : 0;
  return { unit, better, isFeetAndInches: sides === 'none' && low > MORE_THAN_FEET * METRES_AN_INCH };
}

/**
 * Every equally good reading of a heading, by its parts in any order and glue. The longest run of words that names a
 * measure wins; all other words must say side, trial, unit, or best and mean. No reading: not understood. Several:
 * nobody may choose.
 */
export function readHeading(heading: string, words: HeadingWords): readonly HeadingReading[] {
  if (heading.length > LONGEST_HEADING) return [];
  let known = words.read.get(heading);
  if (known === undefined) {
    known = readingsBy(words.names, heading, words);
    if (words.read.size < MOST_READ) words.read.set(heading, known);
  }
  return known;
}

function readingsBy(names: Names<Thing>, heading: string, { longest }: HeadingWords): HeadingReading[] {
  if (heading.length > LONGEST_HEADING) return [];
  const folded = foldHeading(heading);
  const { outside, groups } = brackets(folded);
  // A name may itself hold brackets, so the heading is tried with and without them taken apart.
  const spellings = groups.length > 0 ? [phrase(outside), phrase(folded)] : [phrase(folded)];
  for (const [at, source] of spellings.entries()) {
    if (source.tokens.length > MOST_TOKENS) continue;
    const found = longestRun(source, at === 0 ? groups : [], names, longest);
    if (found.length > 0) return found;
  }
  return [];
}

function longestRun(source: Phrase, groups: readonly string[], names: Names<Thing>, longest: number): HeadingReading[] {
  const { tokens } = source;
  const keys = tokens.map(({ text }) => squeezed(text));
  for (let count = tokens.length; count > 0; count--) {
    const found: HeadingReading[] = [];
    for (let start = 0; start + count <= tokens.length; start++) {
      const end = start + count;
      // A sign at its end is no part of a name: "Wt #" is a weight in pounds.
      if (keys[start] === '' || keys[end - 1] === '') continue;
      const key = keys.slice(start, end).join('');
      if (key.length > longest) continue;
      const named = writtenFrom(source, tokens[start], tokens[end - 1]);
      const rest = [...tokens.slice(0, start), ...tokens.slice(end)];
      for (const thing of names.get(key) ?? []) {
        const wanted = wantedBy(thing);
        const drafts = readBrackets(groups, wanted).flatMap((draft) => readRest(source, rest, wanted, draft));
        for (const draft of drafts) {
          const reading = { ...(isCompound(thing) ? { compound: thing } : { measure: thing }), ...draft, named };
          if (!found.some((other) => sameReading(other, reading))) found.push(reading);
        }
      }
    }
    if (found.length > 0) return found;
  }
  return [];
}

function sameReading(a: HeadingReading, b: HeadingReading): boolean {
  return (
    a.measure === b.measure &&
    a.compound === b.compound &&
    a.side === b.side &&
    a.sides === b.sides &&
    a.trial === b.trial &&
    a.unit?.code === b.unit?.code &&
    a.workedOut === b.workedOut
  );
}

/** What a heading says that names no measure, if every word of it says something known. */
function restOf(heading: string, wanted: Wanted): Draft[] {
  if (heading.length > LONGEST_HEADING) return [];
  const { outside, groups } = brackets(foldHeading(heading));
  const source = phrase(outside);
  if (source.tokens.length > MOST_TOKENS) return [];
  return readBrackets(groups, wanted).flatMap((draft) => readRest(source, source.tokens, wanted, draft));
}

/**
 * Reads a heading that names no measure but only a side, a trial or a unit: the second heading line, or a trial column
 * where rows are tests. Undefined if it says nothing, something else, or two things at once.
 * @param wanted a unit whose dimension decides what kg means; without it no unit is read
 */
export function readQualifier(heading: string, wanted?: Unit): HeadingReading | undefined {
  const found = restOf(heading, { unit: wanted });
  return found.length === 1 && Object.keys(found[0]).length > 0 ? found[0] : undefined;
}

/**
 * What a heading that names no single measure says that a spreadsheet worked out: nothing but words such as LSI or Diff %,
 * two measures set against each other, or a derived measure of the protocol. Undefined for all that `readHeading` reads.
 */
export function isWorkedOut(heading: string, words: HeadingWords): WorkedOutKind | undefined {
  if (heading.length > LONGEST_HEADING || readHeading(heading, words).length > 0) return undefined;
  const [draft] = restOf(heading, { unit: NEWTON });
  if (draft?.workedOut) return draft.workedOut;
  // L/R % is one side in percent of the other.
  if (draft?.sides && draft.unit?.code === '%') return 'other';
  const isDerived = readingsBy(words.derived, heading, words).length > 0;
  return isDerived || setsAgainst(heading, words) ? 'other' : undefined;
}

function setsAgainst(heading: string, words: HeadingWords): boolean {
  const folded = foldHeading(heading);
  const { outside } = brackets(folded);
  const marks = [...outside.matchAll(AGAINST)].slice(0, MOST_AGAINST);
  return marks.some(({ 0: mark, index }) => {
    const before = readHeading(outside.slice(0, index), words);
    const after = readHeading(outside.slice(index + mark.length), words);
    const saysMore = folded.includes('%') || [...before, ...after].some(({ workedOut }) => workedOut !== undefined);
    return before.some(({ measure: one }) =>
      after.some(({ measure: other }) => {
        if (one === undefined || other === undefined || one === other) return false;
        return mark !== '/' || saysMore || isDividedBy(one, other, words);
      }),
    );
  });
}

/** Whether the protocol divides one of these two by the other. */
function isDividedBy(one: Measure, other: Measure, { derived }: HeadingWords): boolean {
  return [...derived.values()].flat().some(({ derivation }) => {
    if (derivation === undefined || !QUOTIENTS.has(derivation.operator)) return false;
    return derivation.parts.includes(one) && derivation.parts.includes(other);
  });
}

const LONGEST_VALUE_HEADING = 60;

/**
 * The unit text of a heading that says value and a unit, such as `Value (kg)`, `Result [N]` or `Reading cm`. What the
 * unit is depends on the measure that each row names.
 */
export function valueHeading(heading: string): { unitText: string } | undefined {
  if (heading.length > LONGEST_VALUE_HEADING) return undefined;
  const text = foldHeading(heading).replace(/[ *:]{1,60}$/, '');
  return [...bracketedEnd(text), ...trailingEnds(text)]
    .filter(({ said, unitText }) => roleOfHeading(said) === 'value' && readUnit(unitText, COUNT) !== 'unknown')
    .map(({ unitText }) => ({ unitText }))[0];
}

interface End {
  readonly said: string;
  readonly unitText: string;
}

function bracketedEnd(text: string): End[] {
  const isRound = text.endsWith(')');
  const open = isRound ? text.lastIndexOf('(') : text.endsWith(']') ? text.indexOf('[') : -1;
  if (open < 0) return [];
  // [lbf_av] is a unit with its brackets, [N] one in brackets.
  const whole = text.slice(open);
  const unitText = !isRound && parseUnit(whole) ? whole : text.slice(open + 1, -1).trim();
  // Value (1) is a trial.
  return /^\d+$/.test(unitText) ? [] : [{ said: text.slice(0, open), unitText }];
}

function trailingEnds(text: string): End[] {
  return [...text.matchAll(/[ ,_-]+/g)].flatMap(({ 0: mark, index }) => {
    const unitText = text.slice(index + mark.length).replace(/^in (?=.)/i, '');
    // Minutes or the minimum, pounds or the number: only brackets make these units.
    const isUnit = /^[\p{L}%°]/u.test(unitText) && unitText.toLowerCase() !== 'min';
    return isUnit ? [{ said: text.slice(0, index), unitText }] : [];
  });
}
