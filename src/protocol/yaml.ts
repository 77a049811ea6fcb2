import { isAlias, isMap, isScalar, isSeq, LineCounter, type Node, type ParsedNode, parseDocument } from 'yaml';
import { Failure, type Trouble } from '../problems/failure.ts';
import { type Path, type Places, placesOf, type Report, reportOn, type Spot } from './places.ts';
import { quotedYaml, shortened } from './quoting.ts';
import { syntaxSlips } from './yaml_slips.ts';

/** Far more than a protocol needs; stops a few lines of references from unfolding into gigabytes. */
const MOST_REFERENCED_VALUES = 10_000;
const DEEPEST = 50;

/** A YAML file as plain data (objects without prototype), with the place of every value. */
export interface YamlFile {
  readonly value: unknown;
  readonly places: Places;
  readonly report: Report;
}

type Mapping = { [key: string]: unknown };

/** What is said of a slip among the names of people, which are not repeated. */
const PEOPLE_SLIP = {
  message: 'this line of people: is not written as YAML takes it',
  hint: 'Write each line as "name on the sheet": "athlete_id", both in quotes, with a space after the colon.',
};

/** Whether a line, from 1, stands in the section people of a file. */
function isOfPeople(source: string, line: number | undefined): boolean {
  const above = source.split('\n').slice(0, line ?? 0);
  return /^["']?people["']?\s*:/.test(above.findLast((text) => /^[^\s#-]/.test(text)) ?? '');
}

/**
 * Reads one YAML 1.2 document.
 * @param rename gives a key its contract name, for spellings that are taken too
 * @throws Failure 2 with the place and the cure of each slip
 */
export function readYaml(text: string, file: string, rename: (path: Path, key: string) => string): YamlFile {
  const source = text.replace(/\r\n?/g, '\n');
  const lines = new LineCounter();
  const document = parseDocument(source, { lineCounter: lines, prettyErrors: false, uniqueKeys: false });
  const slips = syntaxSlips(source, document, lines);
  if (slips.length > 0)
    throw new Failure(
      2,
      slips.map((slip) => ({ file, ...slip, ...(isOfPeople(source, slip.line) && PEOPLE_SLIP) })),
    );

  const troubles: Trouble[] = [];
  const trouble = (offset: number, message: string, hint?: string): void => {
    const { line, col } = lines.linePos(offset);
    troubles.push({ file, line: Math.max(1, line), column: Math.max(1, col), message, hint });
  };
  const anchors = new Map<string, Node>();
  const open = new Set<Node>();
  let referenced = 0;

  const convert = (
    node: ParsedNode | null,
    path: Path,
    viaReference: number | undefined,
    fallback: number,
    key?: Spot['key'],
  ): { value: unknown; spot: Spot } => {
    const [start, end] = node?.range ?? [fallback, fallback];
    const spot: Spot = { key, start, end, parts: new Map() };
    const nothing = { value: null, spot };
    if (node === null) return nothing;
    if (viaReference !== undefined && ++referenced > MOST_REFERENCED_VALUES) {
      if (referenced === MOST_REFERENCED_VALUES + 1) {
        trouble(
          viaReference,
          `the references (*) of this file unfold into more than ${MOST_REFERENCED_VALUES} values`,
          'Write the values out where they are needed.',
        );
      }
      return nothing;
    }
    if (path.length > DEEPEST) {
      trouble(start, `this is nested more than ${DEEPEST} levels deep`, 'Check the brackets and the indentation.');
      return nothing;
    }
    if (isAlias(node)) {
      const target = anchors.get(node.source);
      if (target === undefined || open.has(target)) {
        const written = source.slice(start, end);
        const message =
          target === undefined
            ? `${written} begins with *, which YAML takes for a reference to a value named before`
            : `${written} is a reference to a value that holds it`;
        trouble(start, message, `Put it in quotes: ${quotedYaml(written)}.`);
        return nothing;
      }
      const { value, spot: there } = convert(target as ParsedNode, path, viaReference ?? start, start, key);
      return { value, spot: { ...there, key, start, end } };
    }
    if (node.anchor) anchors.set(node.anchor, node);
    if (isScalar(node)) {
      const { value } = node;
      if (value === null || typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean') {
        return { value, spot };
      }
      const written = shortened(source.slice(start, end));
      trouble(start, `${written} is not text, a number, or yes or no`, `Put it in quotes: ${quotedYaml(written)}.`);
      return nothing;
    }
    open.add(node);
    const value = isSeq(node) ? list(node.items as ParsedNode[]) : mapping(node);
    open.delete(node);
    return { value, spot };

    function list(items: readonly (ParsedNode | null)[]): unknown[] {
      return items.map((item, at) => {
        // A list may hold pairs, as in [a: 1]; they are mappings of one key.
        const part = convert(item, [...path, at], viaReference, start);
        spot.parts.set(at, part.spot);
        return part.value;
      });
    }

    function mapping(map: ParsedNode): Mapping {
      const value: Mapping = Object.create(null);
      if (!isMap(map)) return value;
      for (const pair of map.items) {
        const keyNode = pair.key as ParsedNode | null;
        const [keyStart, keyEnd] = keyNode?.range ?? [start, start];
        const written = source.slice(keyStart, keyEnd);
        if (keyNode !== null && !isScalar(keyNode)) {
          trouble(
            keyStart,
            `${shortened(written)} cannot be a key`,
            `Put it in quotes: ${quotedYaml(shortened(written))}.`,
          );
          continue;
        }
        // Numbers keep the digits that were typed: a heading 007 is not 7.
        const typed = typeof keyNode?.value === 'string' ? keyNode.value : written;
        const name = rename(path, typed);
        if (name === '__proto__') {
          trouble(keyStart, '__proto__ cannot be used as a name', 'Choose another name.');
          continue;
        }
        const earlier = spot.parts.get(name)?.key;
        if (earlier !== undefined) {
          const { line } = lines.linePos(earlier.start);
          // Names of athletes are not repeated.
          const shown = path.length === 1 && path[0] === 'people' ? 'this name' : typed;
          trouble(keyStart, `${shown} is given twice, first in line ${line}`, 'Take one of them out.');
          continue;
        }
        const part = convert(pair.value as ParsedNode | null, [...path, name], viaReference, keyEnd, {
          start: keyStart,
          end: keyEnd,
        });
        spot.parts.set(name, part.spot);
        value[name] = part.value;
      }
      return value;
    }
  };

  const { value, spot } = convert(document.contents as ParsedNode | null, [], undefined, 0);
  if (troubles.length > 0) throw new Failure(2, troubles);
  const places = placesOf(source, lines, spot);
  return { value, places, report: reportOn(file, places) };
}
