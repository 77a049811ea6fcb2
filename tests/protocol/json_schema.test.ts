import { readFileSync } from 'node:fs';
import { Ajv, type ValidateFunction } from 'ajv';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { type JsonSchema, protocolJsonSchema } from '../../src/protocol/json_schema.ts';
import { STARTER_PROTOCOL, starterFiles } from '../../src/protocol/starter.ts';
import { screeningJsonSchema } from '../../src/screening/config_json_schema.ts';
import { schemaText } from '../../src/screening/schema_text.ts';

const example = (file: string): string =>
  readFileSync(new URL(`../../examples/college/${file}`, import.meta.url), 'utf8');

const compiled = (schema: JsonSchema): ValidateFunction =>
  new Ajv({ strict: true, strictRequired: false, strictTuples: true, allErrors: true, allowUnionTypes: true }).compile(
    schema,
  );

const protocol = compiled(protocolJsonSchema());
const screening = compiled(screeningJsonSchema());

/** What a validator says of a YAML text: place and keyword, the branches of a union aside. */
function troubles(validate: ValidateFunction, yaml: string): string[] {
  validate(parse(yaml));
  return (validate.errors ?? []).map(({ instancePath, keyword }) => `${instancePath} ${keyword}`);
}

const PROTOCOL = `bilat: 1
measures:
  grip: { unit: kgf, sides: each, error: { sem: 1.8, basis: occasions } }
  height: { unit: cm, sides: none }
derived:
  grip_by_height: { per: [grip, height] }
rules:
  grip_low: { measure: grip, below: 20, grade: watch, share: no }
programmes:
  gripping: { owner: strength }
`;

describe('protocol.yaml', () => {
  test('the starter and the example are right', () => {
    expect(troubles(protocol, STARTER_PROTOCOL)).toEqual([]);
    expect(troubles(protocol, example('protocol.yaml'))).toEqual([]);
    expect(troubles(protocol, PROTOCOL)).toEqual([]);
  });

  test.each([
    ['an unknown key', 'unit: kgf', 'unti: kgf', ['/measures/grip required', '/measures/grip additionalProperties']],
    ['an unknown section', 'derived:', 'derives:', [' additionalProperties']],
    ['a limit that is text', 'below: 20', 'below: low', ['/rules/grip_low/below type']],
    ['a decimal comma', 'below: 20', 'below: "20,5"', ['/rules/grip_low/below type']],
    ['a grade that is a colour', 'grade: watch', 'grade: red', ['/rules/grip_low/grade enum']],
    ['a name with capitals', 'grip_low:', 'Grip_low:', ['/rules additionalProperties']],
    ['sides of its own', 'sides: each', 'sides: left', ['/measures/grip/sides enum']],
    ['an owner who is nobody', 'owner: strength', 'owner: coach', ['/programmes/gripping/owner enum']],
    ['one part for two', '[grip, height]', '[grip]', ['/derived/grip_by_height/per minItems']],
    ['a later version', 'bilat: 1', 'bilat: 2', ['/bilat const']],
    ['no version', 'bilat: 1\n', '', [' required']],
  ])('%s is seen', (_, right, wrong, expected) => {
    expect(PROTOCOL).toContain(right);
    expect(troubles(protocol, PROTOCOL.replace(right, wrong))).toEqual(expected);
  });

  test.each([
    ['two limits', 'below: 20', 'below: 20, above: 30', '/rules/grip_low oneOf'],
    ['no limit', 'below: 20, ', '', '/rules/grip_low oneOf'],
    ['two operators', 'per: [', 'ratio: [grip, grip], per: [', '/derived/grip_by_height oneOf'],
    ['two errors', 'sem: 1.8', 'sem: 1.8, mdc: 5', '/measures/grip/error oneOf'],
  ])('%s are one too many or too few', (_, right, wrong, expected) => {
    expect(troubles(protocol, PROTOCOL.replace(right, wrong)).filter((line) => !line.endsWith('required'))).toEqual([
      expected,
    ]);
  });

  test('errors go by the fields that can have one', () => {
    const withErrors = (field: string): string =>
      PROTOCOL.replace('sides: each,', `sides: each, errors: { ${field}: { sem_pct: 4, basis: trials } },`);
    expect(troubles(protocol, withErrors('deficit_pct'))).toEqual([]);
    expect(troubles(protocol, withErrors('status'))).toEqual(['/measures/grip/errors additionalProperties']);
  });
});

const SCREENING = `roster: { file: people.csv, columns: { "Student no": athlete_id } }
season_starts: "07-01"
people: { "Bo Reed": K014 }
teams: { Water polo: { also: [WP] } }
sheets:
  - sheets/a.csv
  - files: "sheets/hip-*.csv"
    date: 2026-08-17
    purpose: makeup
    decimal: ","
    units: { hip_adduction: "[lbf_av]" }
    columns: { "Thing L": { measure: grip, side: left, trial: 1 }, "Student no": athlete_id }
`;

describe('screening.yaml', () => {
  const starter = starterFiles().find(({ path }) => path === 'screening.yaml')!.text;

  test('the starter and the example are right', () => {
    expect(troubles(screening, starter)).toEqual([]);
    expect(troubles(screening, example('screening.yaml'))).toEqual([]);
    expect(troubles(screening, SCREENING)).toEqual([]);
  });

  test('so is the entry that the starter shows in its comments', () => {
    const [, entry] = /\n# A sheet that does not say [^\n]*\n# [^ ][^\n]*\n((?:# {3}[^\n]*\n)+)/.exec(starter)!;
    const shown = `sheets:\n${entry.replaceAll(/^# {2}/gm, '')}`;
    expect(Object.keys(parse(shown).sheets[0])).toEqual([
      'files',
      'team',
      'date',
      'dates',
      'units',
      'columns',
      'decimal',
      'purpose',
    ]);
    expect(troubles(screening, shown)).toEqual([]);
  });

  test.each([
    ['an unknown key', 'people:', 'persons:', [' additionalProperties']],
    ['no sheets', /sheets:\n.*/s, '', [' required']],
    ['a day that is no day of the year', '"07-01"', '"13-01"', ['/season_starts pattern']],
    ['no list of spellings', '[WP]', 'WP', ['/teams/Water polo/also type']],
  ])('%s is seen', (_, right, wrong, expected) => {
    expect(troubles(screening, SCREENING.replace(right, wrong))).toEqual(expected);
  });

  test.each([
    ['a date the other way round', '2026-08-17', '17-08-2026', '/sheets/1/date pattern'],
    ['a month too many', '2026-08-17', '2026-13-17', '/sheets/1/date pattern'],
    ['an unknown purpose', 'makeup', 'again', '/sheets/1/purpose enum'],
    ['an unknown key of an entry', 'purpose:', 'purpos:', '/sheets/1 additionalProperties'],
    [
      'a role that is none',
      '"Student no": athlete_id }\n',
      '"Student no": student }\n',
      '/sheets/1/columns/Student no',
    ],
    ['a path out of the folder', 'sheets/a.csv', '../a.csv', '/sheets/0 pattern'],
    ['a path from the root', 'sheets/a.csv', '/sheets/a.csv', '/sheets/0 pattern'],
    ['a path of another system', 'sheets/a.csv', 'sheets\\a.csv', '/sheets/0 pattern'],
    ['a way out in the middle', 'sheets/a.csv', 'sheets/{a,../b}.csv', '/sheets/0 pattern'],
  ])('%s is seen', (_, right, wrong, expected) => {
    // The last one: a heading may stand in two places.
    const at = SCREENING.lastIndexOf(right);
    const text = SCREENING.slice(0, at) + wrong + SCREENING.slice(at + right.length);
    expect(troubles(screening, text).some((trouble) => trouble.startsWith(expected))).toBe(true);
  });

  test('dots inside a name lead nowhere', () => {
    expect(troubles(screening, SCREENING.replace('sheets/a.csv', 'sheets/a..b.csv'))).toEqual([]);
  });
});

/** Every key that a schema knows, with what it says about it. */
function keysOf(schema: unknown, path: string[] = []): [key: string, description: unknown][] {
  if (Array.isArray(schema)) return schema.flatMap((part) => keysOf(part, path));
  if (typeof schema !== 'object' || schema === null) return [];
  return Object.entries(schema).flatMap(([word, part]) => {
    if (word === 'properties') {
      return Object.entries(part as Record<string, JsonSchema>).flatMap(([key, held]): [string, unknown][] => [
        [[...path, key].join('.'), held.description],
        ...keysOf(held, [...path, key]),
      ]);
    }
    return keysOf(part, path);
  });
}

describe.each([
  ['protocol', protocolJsonSchema()],
  ['screening', screeningJsonSchema()],
] as const)('the schema of %s.yaml', (kind, schema) => {
  test('says of every key in words what it is', () => {
    const keys = keysOf(schema);
    expect(keys.length).toBeGreaterThan(40);
    expect(keys.filter(([, description]) => typeof description !== 'string' || description.length < 5)).toEqual([]);
  });

  test('is of a draft that editors take, has a title, and no limits that nobody set', () => {
    expect(schema).toMatchObject({
      $schema: 'http://json-schema.org/draft-07/schema#',
      title: `${kind}.yaml of bilat`,
      type: 'object',
      additionalProperties: false,
    });
    expect(JSON.stringify(schema)).not.toContain(String(Number.MAX_SAFE_INTEGER));
    expect(JSON.stringify(schema)).not.toContain('propertyNames":{"type":"string","pattern');
  });

  test('as text is the same each time, and JSON that ends in a line end', () => {
    const text = schemaText(kind);
    expect(schemaText(kind)).toBe(text);
    expect(text.endsWith('}\n')).toBe(true);
    expect(JSON.parse(text)).toEqual(schema);
  });
});

test('both files of the starter name their schema in the first line', () => {
  for (const kind of ['protocol', 'screening']) {
    const { text } = starterFiles().find(({ path }) => path === `${kind}.yaml`)!;
    expect(text.split('\n')[0]).toBe(`# yaml-language-server: $schema=schema/${kind}.schema.json`);
  }
});
