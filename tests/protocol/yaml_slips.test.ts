import { expect, test } from 'vitest';
import { loadProtocol } from '../../src/protocol/load.ts';
import { readYaml } from '../../src/protocol/yaml.ts';
import { expectTroubles, failureOf, marked } from './marked.ts';

const QUOTE = 'Put it in quotes:';

test.each<[string, string, ...string[]]>([
  [
    'mm[Hg] between braces',
    'a: {unit: »mm[Hg], b: 1}\n',
    `mm[Hg] holds brackets, which YAML takes for a list | ${QUOTE} "mm[Hg]".`,
  ],
  [
    'a unit that begins with brackets',
    'unit: »[lbf_av].[ft_i]\n',
    `[lbf_av].[ft_i] holds brackets, which YAML takes for a list | ${QUOTE} "[lbf_av].[ft_i]".`,
  ],
  [
    'a pattern of file names',
    'from_name: »{team}_{date}\n',
    `{team}_{date} holds braces, which YAML takes for keys and values | ${QUOTE} from_name: "{team}_{date}".`,
  ],
  ['a bracket unit as a key', '»[lbf_av]: x\n', `[lbf_av] cannot be a key | ${QUOTE} "[lbf_av]".`],
  [
    'a pattern of files',
    'files: »*.csv\n',
    `*.csv begins with *, which YAML takes for a reference to a value named before | ${QUOTE} "*.csv".`,
  ],
  [
    'patterns of files in a list',
    '- »*.csv\n- »**/*.csv\n',
    `*.csv begins with *, which YAML takes for a reference to a value named before | ${QUOTE} "*.csv".`,
    `**/*.csv begins with *, which YAML takes for a reference to a value named before | ${QUOTE} "**/*.csv".`,
  ],
  ['a single star', 'files: »*\n', `a value cannot begin with * unless it is in quotes | ${QUOTE} files: "*".`],
  ['a decimal comma', 'decimal: »,\n', `a value cannot begin with , unless it is in quotes | ${QUOTE} decimal: ",".`],
  [
    'a decimal comma between braces',
    'a: {decimal: ,», b: 2}\n',
    'a comma stands here without a value before it | A comma that is meant as a value goes in quotes: ",".',
  ],
  ['a percent sign', 'unit: »%\n', `a value cannot begin with % unless it is in quotes | ${QUOTE} unit: "%".`],
  [
    'a greater-than sign',
    'label: »>30\n',
    `a value cannot begin with > unless it is in quotes | ${QUOTE} label: ">30".`,
  ],
  ['an at sign', 'by: »@home\n', `a value cannot begin with @ unless it is in quotes | ${QUOTE} by: "@home".`],
  ['an exclamation mark', 'by: »!x\n', `a value cannot begin with ! unless it is in quotes | ${QUOTE} by: "!x".`],
  ['an ampersand', 'by: »&\n', `a value cannot begin with & unless it is in quotes | ${QUOTE} by: "&".`],
  ['a lone dash', 'by: »- x\n', `a value cannot begin with - unless it is in quotes | ${QUOTE} by: "- x".`],
  [
    '# in a list',
    'headings: [»#, lb]\nb: 1\n',
    '# begins a comment here, which runs to the end of the line | Write "#" in quotes.',
  ],
  [
    '# in a key',
    'columns:\n  b: c\n  Thing »# L: grip\n',
    `# begins a comment here, so that the key before it is cut off | ${QUOTE} "Thing # L".`,
  ],
  [
    '# in the first key',
    'columns:\n  Thing »# L: grip\n  b: c\n',
    `# begins a comment here, so that the key before it is cut off | ${QUOTE} "Thing # L".`,
  ],
  [
    '# that hides a closing brace',
    'a: »{unit: #}\nb: 1\n',
    'the { that opens here is never closed | A # begins a comment, which runs to the end of the line: write "#" in quotes.',
  ],
  [
    'tabs for indentation',
    'a:\n»\tb: 1\n»\tc: 1\n',
    'a tab indents this line, and YAML takes spaces only | Replace the tab by spaces.',
    'a tab indents this line, and YAML takes spaces only | Replace the tab by spaces.',
  ],
  [
    'an inch mark inside double quotes',
    'label: »"6" step"\n',
    'a " inside the text ends it too early | Write \'6" step\'.',
  ],
  [
    'an inch mark inside double quotes of a list',
    'headings: [»"6" step", b]\n',
    'a " inside the text ends it too early | Write \'6" step\'.',
  ],
  [
    'an apostrophe inside single quotes',
    "label: »'coach's'\n",
    'a \' inside the text ends it too early | Write "coach\'s".',
  ],
  [
    'a quote that is not closed',
    'label: »"Hip\nb: 1\n',
    'the " that opens here is never closed | Close it, or put a text that holds an inch mark in single quotes.',
  ],
  [
    'a quote that the next one closes',
    'label: »"Hip\nunit: "N"\nb: 1\n',
    'the " that opens here is never closed | Close it, or put a text that holds an inch mark in single quotes.',
  ],
  ['a list that is not closed', 'headings: »[a, b\nb: 1\n', 'the [ that opens here is never closed | Close it.'],
  [
    'a colon inside a value',
    'source: »J Sports Med 2001: 29\n',
    `a colon with a space after it begins a new key, even inside a value | ${QUOTE} source: "J Sports Med 2001: 29".`,
  ],
  [
    'a backslash in double quotes',
    'files: "sheets»\\data"\n',
    'a \\ in double quotes begins a code that YAML does not know | Put the text in single quotes.',
  ],
  [
    'a line without a colon',
    'a: 1\n»measures\n  b: 1\n',
    '"measures" has no colon of its own, or the next line is indented too far | Write each line as key: value, with a space after the colon and one mapping at one column.',
  ],
  [
    'a line that is indented otherwise',
    'a:\n  - b\n» c: 1\n',
    'this line is indented differently from the lines it belongs to | Begin the lines of one mapping or list at the same column.',
  ],
  [
    'a second document',
    'a: 1\n»---\nb: 2\n',
    'a second document begins here, and only one is read | Take this line out.',
  ],
  ['a key that is given twice', 'a: 1\nb: 1\n»a: 2\n', 'a is given twice, first in line 1 | Take one of them out.'],
  [
    'a key that is given twice, once in quotes',
    'a: 1\n»"a": 2\n',
    'a is given twice, first in line 1 | Take one of them out.',
  ],
  [
    'something that is not a line of the rest',
    '- x\n»y: 1\n',
    'this line cannot be read as YAML (Unexpected scalar at node end) | Write each line as key: value, and put texts with special characters in quotes.',
  ],
  [
    'slips that do not follow from each other',
    'a: »,\nb: »@x\n',
    'a value cannot begin with , unless it is in quotes',
    'a value cannot begin with @ unless it is in quotes',
  ],
])('%s', (_, text, ...told) => {
  const given = marked(text, 'file.yaml');
  expectTroubles(
    given,
    failureOf(() => readYaml(given.text, 'file.yaml', (__, key) => key)),
    told,
  );
});

const inMeasure = (unit: string): string => `bilat: 1\nmeasures:\n  x:\n    ${unit}\n    sides: each\n`;

test.each<[string, string, string]>([
  [
    'a unit in brackets',
    inMeasure('unit: »[lbf_av]'),
    'x.unit [lbf_av] is read as a list, since YAML takes the brackets for one | Put it in quotes: unit: "[lbf_av]".',
  ],
  [
    'a unit behind #',
    inMeasure('»unit: # lb'),
    'x.unit has no value | # begins a comment: put a value that begins with it in quotes, as in unit: "#".',
  ],
  ['a key without a value', inMeasure('»unit:'), 'x.unit has no value | Write a value, or take the line out.'],
])('%s', (_, text, told) => {
  const given = marked(text, 'protocol.yaml');
  expectTroubles(
    given,
    failureOf(() => loadProtocol(given.text, 'protocol.yaml')),
    [told],
  );
});

test('a unit with brackets inside needs no quotes on a line of its own', () => {
  const text = inMeasure('unit: mm[Hg]');
  expect(loadProtocol(text, 'protocol.yaml').measures[0].unit.code).toBe('mm[Hg]');
});

test('references that unfold into too many values are told once', () => {
  const ten = (name: string): string => Array.from({ length: 10 }, () => `*${name}`).join(', ');
  const given = marked(
    `a: &a [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]\nb: &b [${ten('a')}]\nc: &c [${ten('b')}]\nd: &d [${ten('c')}]\ne: [${ten('d')}]\n`,
    'file.yaml',
  );
  const failure = failureOf(() => readYaml(given.text, 'file.yaml', (_, key) => key));
  expect(failure.troubles).toHaveLength(1);
  expect(failure.troubles[0].line).toBe(4);
  expect(failure.message).toContain('the references (*) of this file unfold into more than 10000 values');
});

test('a reference to a value that holds it is told', () => {
  const given = marked('a: &a [»*a]\n', 'file.yaml');
  const failure = failureOf(() => readYaml(given.text, 'file.yaml', (_, key) => key));
  expectTroubles(given, failure, ['*a is a reference to a value that holds it | Put it in quotes: "*a".']);
});

test.each([
  ['flow lists', '['.repeat(5000)],
  ['block mappings', Array.from({ length: 200 }, (_, depth) => `${' '.repeat(depth)}a:`).join('\n')],
])('nesting without end is refused: %s', (_, text) => {
  const failure = failureOf(() => readYaml(text, 'file.yaml', (__, key) => key));
  expect(failure.troubles).toHaveLength(1);
  expect(failure.message).toContain('nested');
});

test('line ends of all kinds count alike', () => {
  const failure = failureOf(() => readYaml('a: 1\r\nb: 2\rc: ,\n', 'file.yaml', (_, key) => key));
  expect(failure.troubles[0]).toMatchObject({ line: 3, column: 4 });
});
