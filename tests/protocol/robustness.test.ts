import fc from 'fast-check';
import { expect, test } from 'vitest';
import { stringify } from 'yaml';
import { Failure } from '../../src/problems/failure.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { loadScreening, resolveScreening } from '../../src/screening/config.ts';

const PROTOCOL = loadProtocol('bilat: 1\nmeasures:\n  grip: {unit: N, sides: each}\n', 'protocol.yaml');

/** Whether an action ends well or in a Failure whose every trouble has a place in the text. */
function endsWell(text: string, action: () => unknown): boolean {
  try {
    action();
    return true;
  } catch (error) {
    if (!(error instanceof Failure)) throw error;
    const lines = text.split(/\r\n?|\n/);
    return error.troubles.every(
      ({ file, line, column, message }) =>
        file !== undefined && line! >= 1 && line! <= lines.length + 1 && column! >= 1 && !message.includes('undefined'),
    );
  }
}

function loadBoth(text: string): boolean {
  const present = new Set<string>();
  return (
    endsWell(text, () => loadProtocol(text, 'protocol.yaml')) &&
    endsWell(text, () => {
      const screening = loadScreening(text, 'screening.yaml', '/folder', present);
      return resolveScreening(screening, PROTOCOL, text, 'screening.yaml');
    })
  );
}

test('arbitrary text ends in a Failure at worst', () => {
  fc.assert(fc.property(fc.string({ unit: 'binary', maxLength: 200 }), loadBoth));
});

test('arbitrary YAML marks end in a Failure at worst', () => {
  const mark = fc.constantFrom(
    ...[
      'a',
      ' ',
      '  ',
      '\n',
      ': ',
      ':',
      '- ',
      '-',
      '[',
      ']',
      '{',
      '}',
      ',',
      '#',
      ' #',
      '"',
      "'",
      '&a ',
      '*a',
      '!',
      '!!binary ',
    ],
    ...[
      '|',
      '>',
      '%',
      '@',
      '`',
      '? ',
      '\t',
      '---\n',
      '...\n',
      '\\',
      '<<: ',
      '~',
      '1',
      '0x',
      '.inf',
      '\r',
      '\0',
      '\uFEFF',
    ],
  );
  fc.assert(
    fc.property(fc.array(mark, { maxLength: 40 }), (marks) => loadBoth(marks.join(''))),
    { numRuns: 500 },
  );
});

/** Data that has the words of the files in it, in all the wrong places. */
const word = fc.constantFrom(
  ...[
    'bilat',
    'name',
    'measures',
    'derived',
    'rules',
    'compounds',
    'everyone',
    'sport_groups',
    'programmes',
    'statuses',
  ],
  ...[
    'unit',
    'sides',
    'each',
    'none',
    'trials',
    'keep',
    'best',
    'error',
    'errors',
    'levels',
    'plausible',
    'sharing',
    'N',
  ],
  ...[
    'ratio',
    'total',
    'z_mean',
    'within',
    'needs',
    'measure',
    'grade',
    'act',
    'below',
    'also',
    'programme',
    'program',
  ],
  ...[
    'sheets',
    'files',
    'columns',
    'units',
    'team',
    'teams',
    'people',
    'roster',
    'file',
    'out',
    'constructor',
    'toString',
  ],
);
const scalar = fc.oneof(word, fc.string(), fc.double(), fc.integer(), fc.boolean(), fc.constant(null));
const { data } = fc.letrec<{ data: unknown }>((tie) => ({
  data: fc.oneof(
    { depthSize: 'small', withCrossShrink: true },
    scalar,
    fc.array(tie('data'), { maxLength: 4 }),
    fc.dictionary(fc.oneof(word, fc.string()), tie('data'), { maxKeys: 5 }),
  ),
}));

test('arbitrary data ends in a Failure at worst', () => {
  fc.assert(
    fc.property(data, (value) => loadBoth(stringify(value))),
    { numRuns: 300 },
  );
});

test('arbitrary entries of a valid protocol end in a Failure at worst', () => {
  const base = { bilat: 1, measures: { grip: { unit: 'N', sides: 'each' } } };
  const section = fc.constantFrom('measures', 'derived', 'rules', 'compounds', 'sport_groups', 'programmes');
  fc.assert(
    fc.property(section, fc.dictionary(word, data, { maxKeys: 3 }), (name, entries) => {
      const text = stringify({ ...base, [name]: { ...(name === 'measures' ? base.measures : {}), ...entries } });
      return endsWell(text, () => loadProtocol(text, 'protocol.yaml'));
    }),
    { numRuns: 300 },
  );
});

test('arbitrary entries of a valid screening.yaml end in a Failure at worst', () => {
  fc.assert(
    fc.property(fc.dictionary(word, data, { maxKeys: 3 }), (entry) =>
      loadBoth(stringify({ sheets: [{ files: 'a', ...entry }] })),
    ),
    { numRuns: 300 },
  );
});

test('long lines and many slips stay quick to read', () => {
  for (const text of [
    `a: {${'b: !x 1, '.repeat(20_000)}}`,
    `a: [${'"x" y, '.repeat(5_000)}`,
    `${'- *a\n'.repeat(20_000)}`,
    `measures: {${Array.from({ length: 20_000 }, (_, at) => `m${at}: 1`).join(', ')}}`,
    'x'.repeat(1_000_000),
  ]) {
    expect(endsWell(text, () => loadProtocol(text, 'protocol.yaml'))).toBe(true);
  }
});
