import type { Problem } from '../../problems/problem.ts';
import type { Path } from '../../protocol/places.ts';
import type { Compound, Measure, Protocol } from '../../protocol/types.ts';
import {
  type HeadingReading,
  type HeadingWords,
  headingWords,
  readHeading,
  readQualifier,
} from '../../sheets/headings.ts';
import { roleOfHeading } from '../../sheets/roles.ts';
import { foldKey } from '../../units/keys.ts';
import { quoted } from './wording.ts';
import type { YamlPlaces } from './yaml_places.ts';

type Thing = Measure | Compound;

/** A text by which a sheet may call something, and where the protocol says so. */
interface Heading {
  readonly text: string;
  /** as two headings are compared: folded, without spaces */
  readonly key: string;
  readonly thing: Thing;
  readonly path: Path;
  /** whether its place is that of the name itself, not of a value */
  readonly isName: boolean;
}

/**
 * Headings that two measures share, that are the name of a column with another role, or that the words of other headings
 * read otherwise: 3 hop would be the third trial of hop.
 */
export function checkHeadings(protocol: Protocol, places: YamlPlaces): Problem[] {
  const headings = headingsOf(protocol);
  return [
    ...shared(headings, places),
    ...rolesTaken(headings, places),
    ...readOtherwise(headings, headingWords(protocol), places),
  ];
}

function headingsOf(protocol: Protocol): Heading[] {
  const found: Heading[] = [];
  const add = (text: string, thing: Thing, path: Path): void => {
    const key = foldKey(text).replaceAll(' ', '');
    if (key !== '') found.push({ text, key, thing, path, isName: path.length === 2 });
  };
  for (const measure of protocol.measures) {
    const { name, label, headings, derivation } = measure;
    const path = [derivation ? 'derived' : 'measures', name];
    add(name, measure, path);
    add(label, measure, [...path, 'label']);
    for (const [at, heading] of headings.entries()) add(heading, measure, [...path, 'headings', at]);
  }
  for (const compound of protocol.compounds) {
    const path = ['compounds', compound.name];
    add(compound.name, compound, path);
    for (const [at, heading] of compound.headings.entries()) add(heading, compound, [...path, 'headings', at]);
  }
  return found;
}

/** No sheet hands in what is worked out. */
const isWorkedOut = (thing: Thing): boolean => 'derivation' in thing && thing.derivation !== undefined;

function problem(heading: Heading, code: string, message: string, hint: string, places: YamlPlaces): Problem {
  return places.problem('warning', code, heading.path, message, hint, heading.isName ? 'key' : 'value');
}

function shared(headings: readonly Heading[], places: YamlPlaces): Problem[] {
  const firsts = new Map<string, Heading>();
  const told = new Set<string>();
  return headings.flatMap((heading) => {
    const first = firsts.get(heading.key);
    if (first === undefined) firsts.set(heading.key, heading);
    if (first === undefined || first.thing === heading.thing) return [];
    const pair = `${heading.key}\n${heading.thing.name}`;
    if (told.has(pair) || (isWorkedOut(first.thing) && isWorkedOut(heading.thing))) return [];
    told.add(pair);
    const outcome =
      isWorkedOut(first.thing) || isWorkedOut(heading.thing)
        ? 'a column of worked-out numbers is then read as measured'
        : 'a column of that name is not read';
    return problem(
      heading,
      'heading_shared',
      `heading ${quoted(heading.text)} of ${heading.thing.name} is one of ${first.thing.name} too, in line ${places.lineOf(first.path)}: ${outcome}`,
      'Take it out of one of them.',
      places,
    );
  });
}

function rolesTaken(headings: readonly Heading[], places: YamlPlaces): Problem[] {
  return headings.flatMap((heading) => {
    const role = isWorkedOut(heading.thing) ? undefined : roleOfHeading(heading.text);
    if (role === undefined) return [];
    return problem(
      heading,
      'heading_is_role',
      `heading ${quoted(heading.text)} of ${heading.thing.name} is also the word for a column of ${role}, and is read as that`,
      'Choose a heading that names the test.',
      places,
    );
  });
}

/** Each heading is read once as if the protocol did not have it. */
function readOtherwise(headings: readonly Heading[], words: HeadingWords, places: YamlPlaces): Problem[] {
  const names = new Map(words.names);
  const told = new Set<string>();
  return headings.flatMap((heading) => {
    const { key, text, thing } = heading;
    const own = names.get(key);
    if (own === undefined || told.has(key)) return [];
    told.add(key);
    names.delete(key);
    const readings = readHeading(text, { ...words, names, read: new Map() });
    names.set(key, own);
    const other = readings.find((reading) => (reading.measure ?? reading.compound) !== thing || saysMore(reading));
    const said = other ? readingText(other) : qualifierText(text, thing);
    if (said === undefined) return [];
    return problem(
      heading,
      'heading_reads_otherwise',
      `heading ${quoted(text)} of ${thing.name} reads as ${said} as well, and is never taken for that`,
      'Choose another heading if your sheets mean that by it.',
      places,
    );
  });
}

function saysMore({ side, sides, trial, unit, workedOut }: HeadingReading): boolean {
  return [side, sides, trial, unit, workedOut].some((said) => said !== undefined);
}

/** What a heading says that by itself would name no measure: a side, a trial, a unit, best or mean. */
function qualifierText(text: string, thing: Thing): string | undefined {
  const reading = readQualifier(text, 'parts' in thing ? thing.parts[0]?.unit : thing.unit);
  return reading && readingText(reading);
}

function readingText({ measure, compound, side, sides, trial, unitText, workedOut }: HeadingReading): string {
  return [
    (measure ?? compound)?.name,
    side,
    sides?.replace('_', ' and '),
    trial && `trial ${trial}`,
    unitText && `in ${unitText}`,
    workedOut && (workedOut === 'other' ? 'worked out' : `the ${workedOut}`),
  ]
    .filter((part) => part !== undefined)
    .join(', ');
}
