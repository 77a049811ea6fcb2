import type * as z from 'zod';
import { didYouMean, nearest } from './nearest.ts';
import { type Path, pathText } from './places.ts';
import { quotedYaml, shortened } from './quoting.ts';
import { describedAt, keysAt } from './schema_walk.ts';
import type { YamlFile } from './yaml.ts';

type Issue = z.core.$ZodIssue;

const NOUNS: { readonly [expected: string]: string } = {
  string: 'text',
  number: 'a number',
  int: 'a whole number',
  array: 'a list',
  object: 'a mapping of keys to values',
  record: 'a mapping of keys to values',
  boolean: 'true, false',
};

function valueAt(root: unknown, path: Path): unknown {
  let value = root;
  for (const part of path) value = (value as { [key: string | number]: unknown } | null | undefined)?.[part];
  return value;
}

/** The key of a value, for what is to be written; the names of people are not repeated. */
function keyText(path: Path): string {
  return path[0] === 'people' ? '' : `${String(path.at(-1))}: `;
}

/** A union's issues come one list a branch: the branch whose type the value has, else what all of them ask for. */
function branchOf(issue: z.core.$ZodIssueInvalidUnion): readonly Issue[] | undefined {
  const isOfType = (issues: readonly Issue[]): boolean =>
    issues.every((inner) => inner.path.length > 0 || (inner.code !== 'invalid_type' && inner.code !== 'invalid_value'));
  return issue.errors.find(isOfType);
}

function expectations(issue: Issue): string[] {
  if (issue.code === 'invalid_type') return [NOUNS[issue.expected] ?? issue.expected];
  if (issue.code === 'invalid_value') return issue.values.map(valueText);
  if (issue.code === 'invalid_union') return [...new Set(issue.errors.flat().flatMap(expectations))];
  return [];
}

/** Marks stand in quotes, words as they are. */
function valueText(value: unknown): string {
  return typeof value === 'string' && !/^[\w-]+$/.test(value) ? JSON.stringify(value) : String(value);
}

function words(issue: Issue): string[] {
  if (issue.code === 'invalid_value') return issue.values.filter((value) => typeof value === 'string');
  return issue.code === 'invalid_union' ? issue.errors.flat().flatMap(words) : [];
}

function joined(expected: readonly string[]): string {
  return expected.length === 1 ? expected[0] : `one of ${expected.join(', ')}`;
}

function nameFrom(text: string): string {
  return text
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '_')
    .replace(/^[_0-9]+|_$/g, '');
}

function tellMissing({ report }: YamlFile, schema: z.core.$ZodType, path: Path, issue: Issue): void {
  const key = String(path.at(-1));
  const holder = pathText(path.slice(0, -1));
  const meaning = describedAt(schema, path) ?? joined(expectations(issue));
  report.add(path, `${holder ? `${holder} has no ${key}` : `${key} is missing`}`, `Add ${key}: ${meaning}.`, 'key');
}

function tellEmpty({ report, places }: YamlFile, path: Path): void {
  const key = String(path.findLast((part) => typeof part === 'string'));
  const mark = key === 'decimal' || key === 'delimiter';
  const hint = places.commentedOut(path)
    ? `# begins a comment: put a value that begins with it in quotes, as in ${key}: "#".`
    : mark
      ? `Put a comma or semicolon in quotes: ${key}: ",".`
      : 'Write a value, or take the line out.';
  report.add(path, `${pathText(path)} has no value`, hint);
}

function tellWrong(file: YamlFile, schema: z.core.$ZodType, path: Path, value: unknown, issue: Issue): void {
  const { report, places } = file;
  const written = shortened(places.written(path));
  const expected = expectations(issue);
  const name = pathText(path);
  const add = (message: string, hint?: string): void => report.add(path, `${name} ${message}`.trimStart(), hint);
  const isNumber = expected.some((noun) => noun.includes('number') || /^\d+$/.test(noun));
  if (Array.isArray(value) && expected.includes('text') && written.startsWith('[')) {
    add(
      `${written} is read as a list, since YAML takes the brackets for one`,
      `Put it in quotes: ${keyText(path)}${quotedYaml(written)}.`,
    );
  } else if (expected.includes('text') && written.startsWith('{') && holdsNothing(value)) {
    add(
      `${written} is read as keys and values, since YAML takes the braces for them`,
      `Put it in quotes: ${keyText(path)}${quotedYaml(written)}.`,
    );
  } else if (typeof value === 'object') {
    add(`is a ${Array.isArray(value) ? 'list' : 'mapping'}, not ${joined(expected)}`);
  } else if (expected.includes('text') && typeof value !== 'string') {
    add(`${written} is read as a ${typeof value}, not as text`, `Put it in quotes: ${quotedYaml(written)}.`);
  } else if (typeof value === 'string' && isNumber && /^[-+]?\d+,\d+$/.test(value)) {
    add(`"${value}" is not a number`, `Write a decimal point: ${value.replace(',', '.')}.`);
  } else if (typeof value === 'string' && isNumber && value.trim() !== '' && Number.isFinite(Number(value))) {
    add(`"${value}" is text, not ${joined(expected)}`, `Take the quotes away: ${value.trim()}.`);
  } else if (typeof value === 'string' && keysAt(schema, path).includes('measure')) {
    tellNoRole(add, value, words(issue));
  } else {
    const shown = typeof value === 'string' ? `"${shortened(value)}"` : written;
    const near = typeof value === 'string' ? nearest(value, words(issue)) : undefined;
    const keys = keysAt(schema, path);
    const hint =
      near !== undefined
        ? `Did you mean ${near}?`
        : expected[0] === 'a list'
          ? `Put it in brackets: ${keyText(path)}[${written}].`
          : keys.length > 0
            ? `Its keys are ${keys.join(', ')}.`
            : undefined;
    add(`${shown} is not ${joined(expected)}`, hint);
  }
}

/** A column is given a role by one word, and a measure by a mapping: the word for a measure stands alone only by a slip. */
function tellNoRole(add: (message: string, hint: string) => void, value: string, roles: readonly string[]): void {
  const near = nearest(value, roles);
  const measure = nameFrom(value) || 'hip_adduction';
  add(
    `"${shortened(value)}" is no role of a column`,
    near === undefined
      ? `For a measure write { measure: ${shortened(measure)} }; the roles are ${roles.join(', ')}.`
      : `Did you mean ${near}? For a measure write { measure: ${shortened(measure)} }.`,
  );
}

/** `{team}` without quotes is a mapping of one key to nothing. */
const holdsNothing = (value: unknown): boolean =>
  typeof value === 'object' && value !== null && Object.values(value).every((held) => held === null);

function tellUnknownKey({ report, value }: YamlFile, schema: z.core.$ZodType, path: Path, key: string): void {
  const at = [...path, key];
  const holder = pathText(path);
  const nothing = valueAt(value, at) === null;
  const hint =
    nothing && /^\d+$/.test(key)
      ? 'If it is the end of a decimal number, write a decimal point.'
      : nothing && key.includes(':')
        ? 'Put a space after the colon.'
        : didYouMean(key, keysAt(schema, path));
  report.add(at, `${holder ? `${holder}: ` : ''}unknown key "${shortened(key)}"`, hint, 'key');
}

function tellSize({ report, places }: YamlFile, path: Path, value: unknown, issue: Issue): void {
  const name = pathText(path);
  if (issue.code !== 'too_small' && issue.code !== 'too_big') return;
  const small = issue.code === 'too_small';
  const bound = small ? issue.minimum : issue.maximum;
  if (issue.origin === 'string') report.add(path, `${name} is empty`, 'Write a value, or take the line out.');
  else if (issue.origin === 'array') {
    const count = (value as unknown[]).length;
    const entries = count === 1 ? '1 entry' : `${count} entries`;
    report.add(path, `${name} has ${entries}, and takes ${small ? 'at least' : 'at most'} ${bound}`);
  } else {
    const relation = issue.inclusive ? (small ? 'below' : 'above') : small ? 'not above' : 'not below';
    report.add(path, `${name} ${shortened(places.written(path))} is ${relation} ${bound}`);
  }
}

/** Whether a missing key is there after all, with a slip that is told as an unknown key. */
function isMistyped(missing: Path, issues: readonly Issue[], base: Path): boolean {
  const holder = missing.slice(0, -1).join('\n');
  return issues.some(
    (issue) =>
      issue.code === 'unrecognized_keys' &&
      [...base, ...issue.path].join('\n') === holder &&
      nearest(String(missing.at(-1)), issue.keys) !== undefined,
  );
}

/** Adds to the file's report what a schema found wrong with it. */
export function tellIssues(file: YamlFile, schema: z.core.$ZodType, issues: readonly Issue[], base: Path = []): void {
  for (const issue of issues) {
    const path: Path = [...base, ...(issue.path as (string | number)[])];
    const value = valueAt(file.value, path);
    if (issue.code === 'unrecognized_keys') {
      for (const key of issue.keys) tellUnknownKey(file, schema, path, key);
    } else if (issue.code === 'invalid_key') {
      const key = String(path.at(-1));
      const suggestion = nameFrom(key);
      file.report.add(
        path,
        `"${shortened(key)}" cannot be a name in ${pathText(path.slice(0, 1))}: small letters, digits and _, a letter first`,
        suggestion === '' ? undefined : `Write ${suggestion} and give the text as its label.`,
        'key',
      );
    } else if (value === undefined) {
      if (!isMistyped(path, issues, base)) tellMissing(file, schema, path, issue);
    } else if (value === null) tellEmpty(file, path);
    else if (issue.code === 'invalid_union' && branchOf(issue)) tellIssues(file, schema, branchOf(issue)!, path);
    else if (issue.code === 'too_small' || issue.code === 'too_big') tellSize(file, path, value, issue);
    else if (issue.code === 'invalid_format' || issue.code === 'custom') {
      const hint = issue.code === 'custom' ? (issue.params?.hint as string | undefined) : undefined;
      file.report.add(path, `${pathText(path)} "${shortened(String(value))}" ${issue.message}`, hint);
    } else tellWrong(file, schema, path, value, issue);
  }
}
