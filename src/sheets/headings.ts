import type { Compound, Measure, Protocol } from '../protocol/types.ts';
import { foldKey } from '../units/keys.ts';
import { readSide, type WrittenSide } from '../units/sides.ts';
import type { Unit } from '../units/unit.ts';
import { readUnit } from '../units/written.ts';

/** What a heading, or a cell of a test column, says. What it does not say is undefined. */
export interface HeadingReading {
  readonly measure?: Measure;
  readonly compound?: Compound;
  readonly side?: WrittenSide;
  readonly trial?: number;
  readonly unit?: Unit;
  /** the unit as written */
  readonly unitText?: string;
  /** a best, mean or difference that a spreadsheet worked out */
  readonly workedOut?: boolean;
}

export interface HeadingWords {
  /** folded heading without spaces → what it may name */
  readonly names: ReadonlyMap<string, readonly (Measure | Compound)[]>;
  /** folded headings with spaces, for suggestions */
  readonly known: readonly string[];
  /** characters of the longest name */
  readonly longest: number;
}

const MOST_TOKENS = 24;
const LONGEST_HEADING = 200;
const TRIAL_WORDS = new Set(['t', 'trial', 'try', 'attempt', 'rep', 'test', 'no', 'nr', '#']);
const MOST_TRIALS = 20;
const WORKED_OUT = new Set(
  'best avg average mean max maximum min minimum sum total sd diff difference asym asymmetry deficit lsi index ratio'.split(
    ' ',
  ),
);
const FILLERS = new Set(['side', 'leg', 'limb', 'arm', 'hand', 'foot', 'in', 'of']);

const squeezed = (text: string): string => foldKey(text).replaceAll(' ', '');

/** Every name by which headings may call the measures and compounds of a protocol. */
export function headingWords(protocol: Protocol): HeadingWords {
  const names = new Map<string, (Measure | Compound)[]>();
  const known = new Set<string>();
  let longest = 0;
  const add = (heading: string, thing: Measure | Compound): void => {
    const key = squeezed(heading);
    if (key === '') return;
    const things = names.get(key);
    if (things === undefined) names.set(key, [thing]);
    else if (!things.includes(thing)) things.push(thing);
    known.add(foldKey(heading));
    longest = Math.max(longest, key.length);
  };
  for (const measure of protocol.measures) {
    if (measure.derivation) continue;
    for (const heading of [measure.name, measure.label, ...measure.headings]) add(heading, measure);
  }
  for (const compound of protocol.compounds) {
    for (const heading of [compound.name, ...compound.headings]) add(heading, compound);
  }
  return { names, known: [...known], longest };
}

/** Words, numbers and unit signs of a heading; HipAddL, LHipAdd and T2 fall apart at the seams. */
function tokens(text: string): string[] {
  return (
    text
      .normalize('NFKC')
      .replace(/mm\s?\[hg\]/gi, ' mmHg ')
      .replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2')
      .replace(/(\p{Lu})(\p{Lu}\p{Ll})/gu, '$1 $2')
      .match(/[\p{L}\p{M}]+|\d+(?:\.\d+)?|[#%°"″′']/gu) ?? []
  );
}

/** Splits off what stands in brackets: "(kg)", "[lbf_av]", "(L)". */
function brackets(text: string): { outside: string; groups: string[] } {
  const groups: string[] = [];
  const outside = text.replace(
    /\(([^()]*)\)|(?<![a-z])((?:\[[^[\]]*\][./]?)+)/g,
    (_, round?: string, square?: string) => {
      groups.push((round ?? square ?? '').trim());
      return ' ';
    },
  );
  return { outside, groups };
}

interface Draft {
  side?: WrittenSide;
  trial?: number;
  unit?: Unit;
  unitText?: string;
  workedOut?: boolean;
}

/** @param fitting take only a unit of the wanted dimension; in brackets any unit is one, fitting or not */
function claimUnit(draft: Draft, text: string, wanted: Unit | undefined, fitting: boolean): boolean {
  if (draft.unit || wanted === undefined) return false;
  const inner = /^\[(.*)\]$/.exec(text)?.[1];
  for (const written of inner === undefined ? [text] : [text, inner]) {
    const unit = readUnit(written, wanted);
    if (unit === 'unknown' || (fitting && unit.dimension !== wanted.dimension)) continue;
    draft.unit = unit;
    draft.unitText = written;
    return true;
  }
  return false;
}

/** How many of these words are one unit of the wanted dimension, the marks between them lost. */
function unitWords(words: readonly string[], wanted: Unit | undefined, draft: Draft): number {
  for (let count = words.length; count > 0; count--) {
    const part = words.slice(0, count);
    if (['', '/', ' ', '.'].some((glue) => claimUnit(draft, part.join(glue), wanted, true))) return count;
  }
  return 0;
}

/** Reads words that are no measure: side, trial, unit. False if one of them says nothing known. */
function readRest(words: readonly string[], wanted: Unit | undefined, draft: Draft): boolean {
  let at = 0;
  while (at < words.length) {
    const word = words[at];
    const next = words[at + 1];
    const lower = word.toLowerCase();
    // A sign would be lost in the pair: "L #" is a side and pounds.
    const pairSide = next === undefined || !/\p{L}/u.test(next) ? undefined : readSide(`${word} ${next}`);
    const side = pairSide ?? readSide(word);
    if (side !== undefined) {
      if (draft.side !== undefined && draft.side !== side) return false;
      draft.side = side;
      at += pairSide === undefined ? 1 : 2;
      continue;
    }
    const named = TRIAL_WORDS.has(lower) && next !== undefined && /^\d+$/.test(next);
    if (named || /^\d+$/.test(word)) {
      const trial = Number(named ? next : word);
      if (draft.trial !== undefined || trial < 1 || trial > MOST_TRIALS) return false;
      draft.trial = trial;
      at += named ? 2 : 1;
      continue;
    }
    if (WORKED_OUT.has(lower)) {
      draft.workedOut = true;
      at += 1;
      continue;
    }
    const taken = unitWords(words.slice(at, at + 3), wanted, draft);
    if (taken === 0 && !FILLERS.has(lower) && !claimUnit(draft, word, wanted, false)) return false;
    at += Math.max(taken, 1);
  }
  return true;
}

function readBrackets(groups: readonly string[], wanted: Unit | undefined, draft: Draft): boolean {
  return groups.every(
    (group) => group === '' || claimUnit(draft, group, wanted, false) || readRest(tokens(group), wanted, draft),
  );
}

function unitOf(thing: Measure | Compound): Unit {
  return 'parts' in thing ? thing.parts[0].unit : (thing as Measure).unit;
}

/**
 * Every equally good reading of a heading, by its parts in any order and glue. The longest run of words that names a
 * measure wins; all other words must say side, trial or unit. No reading: not understood. Several: nobody may choose.
 */
export function readHeading(heading: string, words: HeadingWords): HeadingReading[] {
  if (heading.length > LONGEST_HEADING) return [];
  const { outside, groups } = brackets(heading);
  // A name may itself hold brackets, so the heading is tried with and without them taken apart.
  const spellings = groups.length > 0 ? [tokens(outside), tokens(heading)] : [tokens(heading)];
  for (const [at, list] of spellings.entries()) {
    if (list.length > MOST_TOKENS) continue;
    const found = longestRun(list, at === 0 ? groups : [], words);
    if (found.length > 0) return found;
  }
  return [];
}

function longestRun(list: readonly string[], groups: readonly string[], words: HeadingWords): HeadingReading[] {
  const keys = list.map(squeezed);
  for (let count = list.length; count > 0; count--) {
    const found: HeadingReading[] = [];
    for (let start = 0; start + count <= list.length; start++) {
      const key = keys.slice(start, start + count).join('');
      if (key.length > words.longest) continue;
      for (const thing of words.names.get(key) ?? []) {
        const draft: Draft = {};
        const rest = [...list.slice(0, start), ...list.slice(start + count)];
        if (!readBrackets(groups, unitOf(thing), draft) || !readRest(rest, unitOf(thing), draft)) continue;
        const reading = 'parts' in thing ? { compound: thing, ...draft } : { measure: thing as Measure, ...draft };
        if (!found.some((other) => sameReading(other, reading))) found.push(reading);
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
    a.trial === b.trial &&
    a.unit?.code === b.unit?.code
  );
}

/**
 * Reads a heading that names no measure but only a side, a trial or a unit: the second heading line, or a trial column
 * where rows are tests.
 * @param wanted a unit whose dimension decides what kg means; without it no unit is read
 */
export function readQualifier(heading: string, wanted?: Unit): HeadingReading | undefined {
  if (heading.length > LONGEST_HEADING) return undefined;
  const { outside, groups } = brackets(heading);
  const list = tokens(outside);
  if (list.length === 0 && groups.length === 0) return undefined;
  if (list.length > MOST_TOKENS) return undefined;
  const draft: Draft = {};
  return readBrackets(groups, wanted, draft) && readRest(list, wanted, draft) ? draft : undefined;
}
