import { expect, test } from 'vitest';
import * as z from 'zod';
import { loadProtocol } from '../../src/protocol/load.ts';
import { defaultScreening, loadScreening, resolveScreening } from '../../src/screening/config.ts';
import { screeningSchema } from '../../src/screening/config_schema.ts';
import { expectTroubles, failureOf, marked } from '../protocol/marked.ts';

const NOTHING = new Set<string>();
const ALL = new Set(
  ['roster', 'injuries', 'exposures', 'history', 'clearance', 'referrals', 'corrections', 'work'].map(
    (name) => `${name}.csv`,
  ),
);

const PROTOCOL = loadProtocol(
  `bilat: 1
measures:
  hip_adduction: {unit: N, sides: each, dominance: kicking_foot}
  hip_abduction: {unit: N, sides: each}
  body_mass: {unit: kg, sides: none}
  reach: {unit: cm, sides: each}
  systolic: {unit: "mm[Hg]", sides: none}
  diastolic: {unit: "mm[Hg]", sides: none}
derived:
  adductor_ratio: {ratio: [hip_adduction, hip_abduction]}
compounds:
  blood_pressure: {headings: [bp], parts: [systolic, diastolic]}
`,
  'protocol.yaml',
);

function load(text: string, present = NOTHING) {
  return loadScreening(text, 'screening.yaml', '/folder', present);
}

function resolve(text: string) {
  return resolveScreening(load(text), PROTOCOL, text, 'screening.yaml');
}

const DEFAULTS = {
  folder: '/folder',
  protocolFile: 'protocol.yaml',
  seasonStarts: '07-01',
  occasionDays: 14,
  unlisted: 'reject',
  people: new Map(),
  teamAliases: new Map(),
  out: 'out',
};
const ENTRY = { purpose: 'test', units: new Map(), columns: new Map() };

test('a screening.yaml that names its sheets has every default', () => {
  const { sheets, ...others } = load('sheets:\n  - files: "sheets/*.csv"\n');
  expect(others).toEqual(DEFAULTS);
  expect(sheets).toEqual([{ ...ENTRY, files: ['sheets/*.csv'] }]);
});

test('a folder without screening.yaml has the same defaults', () => {
  expect(defaultScreening('/folder', NOTHING)).toEqual({
    ...DEFAULTS,
    sheets: [{ ...ENTRY, files: ['sheets/*.csv'] }],
  });
});

test('side files of the usual names are taken if they are there, named ones always', () => {
  const { roster, injuries, history } = load('sheets: ["a.csv"]\ninjuries: log.csv\n', new Set(['roster.csv']));
  expect(roster).toEqual({ key: 'roster', file: 'roster.csv', columns: new Map() });
  expect(injuries).toEqual({ key: 'injuries', file: 'log.csv', columns: new Map() });
  expect(history).toBeUndefined();
  const every = defaultScreening('/folder', ALL);
  expect(every.work).toEqual({ key: 'work', file: 'work.csv', columns: new Map() });
  expect(every.corrections?.file).toBe('corrections.csv');
});

test('everything that can be said is kept', () => {
  const screening = resolve(`protocol: battery.yaml
roster: {file: people.csv, columns: {" Student No ": athlete_id, Foot: kicking_foot, Shoe: ignore}}
season_starts: 08-15
occasion_days: 7
unlisted: keep
teams: {Rowing: {also: [ROW, "W. Rowing"]}}
people: {"Bo Reed": K014}
sheets:
  - files: [sheets/a.csv, "sheets/b-*.csv"]
    team: Rowing
    date: 2026-08-12
    season: 2026
    tester: T1
    device: D1
    station: hips
    purpose: makeup
    dates: dmy
    decimal: ","
    delimiter: "\\t"
    encoding: utf-8
    layout: down
    units: {hip_adduction: lb, body_mass: lb}
    columns:
      "Thing L": {measure: hip_adduction, side: left, trial: 1, unit: kg, sign: reversed}
      BP: {measure: blood_pressure, unit: mmHg}
      " Student no ": athlete_id
  - sheets/c.csv
out: results
`);
  expect(screening).toMatchObject({
    protocolFile: 'battery.yaml',
    seasonStarts: '08-15',
    occasionDays: 7,
    unlisted: 'keep',
    out: 'results',
  });
  expect(screening.roster).toEqual({
    key: 'roster',
    file: 'people.csv',
    columns: new Map([
      ['student no', 'athlete_id'],
      ['foot', 'kicking_foot'],
      ['shoe', 'ignore'],
    ]),
  });
  expect([...screening.teamAliases]).toEqual([
    ['rowing', 'Rowing'],
    ['row', 'Rowing'],
    ['w. rowing', 'Rowing'],
  ]);
  expect([...screening.people]).toEqual([['Bo Reed', 'K014']]);
  expect(screening.sheets[0]).toEqual({
    files: ['sheets/a.csv', 'sheets/b-*.csv'],
    team: 'Rowing',
    date: '2026-08-12',
    season: 2026,
    tester: 'T1',
    device: 'D1',
    station: 'hips',
    purpose: 'makeup',
    dates: 'dmy',
    decimal: ',',
    delimiter: '\t',
    encoding: 'utf-8',
    layout: 'down',
    units: new Map([
      ['hip_adduction', '[lbf_av]'],
      ['body_mass', '[lb_av]'],
    ]),
    columns: new Map<string, unknown>([
      ['thing l', { measure: 'hip_adduction', side: 'left', trial: 1, unit: 'kgf', sign: 'reversed' }],
      ['bp', { measure: 'blood_pressure', unit: 'mm[Hg]' }],
      ['student no', { role: 'athlete_id' }],
    ]),
  });
  expect(screening.sheets[1]).toEqual({ ...ENTRY, files: ['sheets/c.csv'] });
});

test('layout and what file names say are kept', () => {
  expect(load('sheets:\n  - {files: a.csv, layout: across, dates: dmy, from_name: "{team}_{date}"}\n').sheets).toEqual([
    { ...ENTRY, files: ['a.csv'], layout: 'across', dates: 'dmy', fromName: '{team}_{date}' },
  ]);
});

test.each(['left', 'dominant', 'surgical', 'non_surgical', 'involved', 'uninvolved'])(
  'a column may be of side %s',
  (side) => {
    const { sheets } = resolve(`sheets:\n  - {files: a.csv, columns: {X: {measure: reach, side: ${side}}}}\n`);
    expect(sheets[0].columns.get('x')).toEqual({ measure: 'reach', side });
  },
);

test('a column may hold both sides, and be named by its place', () => {
  const { sheets } = resolve(
    'sheets:\n  - {files: a.csv, columns: {"Column 7": {measure: reach, sides: right_left}, "column 8": ignore}}\n',
  );
  expect([...sheets[0].columns]).toEqual([
    ['column 7', { measure: 'reach', sides: 'right_left' }],
    ['column 8', { role: 'ignore' }],
  ]);
});

test.each(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252'])('encoding %s may be said', (encoding) => {
  expect(load(`sheets:\n  - {files: a.csv, encoding: ${encoding}}\n`).sheets[0].encoding).toBe(encoding);
});

const entry = (line: string): string => `sheets:\n  - {files: a.csv, ${line}}\n`;

test.each<[string, string, ...string[]]>([
  [
    'no sheets',
    '»out: out\n',
    'sheets is missing | Add sheets: a list of entries, each with files: sheets/*.csv in quotes.',
  ],
  ['an empty list of sheets', 'sheets: »[]\n', 'sheets has 0 entries, and takes at least 1'],
  ['an entry without files', 'sheets:\n  - »team: Rowing\n', 'sheets has no files'],
  ['an unknown key', '»protocl: a.yaml\nsheets: [a.csv]\n', 'unknown key "protocl" | Did you mean protocol?'],
  ['an unknown key of an entry', entry('»teem: Rowing'), 'sheets: unknown key "teem" | Did you mean team?'],
  [
    'a pattern without quotes',
    'sheets:\n  - files: »*.csv\n',
    '*.csv begins with *, which YAML takes for a reference to a value named before | Put it in quotes: "*.csv".',
  ],
  [
    'a decimal comma without quotes',
    'sheets:\n  - files: a.csv\n    decimal: »,\n',
    'a value cannot begin with , unless it is in quotes | Put it in quotes: decimal: ",".',
  ],
  [
    'a decimal comma without quotes at the end of braces',
    entry('»decimal: ,'),
    'sheets.decimal has no value | Put a comma or semicolon in quotes: decimal: ",".',
  ],
  [
    'a unit without quotes',
    entry('units: {hip_adduction: »[lbf_av]}'),
    'sheets.units.hip_adduction [lbf_av] is read as a list, since YAML takes the brackets for one | Put it in quotes: hip_adduction: "[lbf_av]".',
  ],
  ['another decimal mark', entry('decimal: »";"'), 'sheets.decimal ";" is not one of ",", "."'],
  [
    'another order of dates',
    entry('dates: »dym'),
    'sheets.dates "dym" is not one of dmy, mdy, ymd | Did you mean dmy?',
  ],
  [
    'files above the folder',
    'sheets:\n  - files: »"../*.csv"\n',
    'sheets.files "../*.csv" leaves the screening folder | Write the path from the folder on, without .. in it.',
  ],
  [
    'files above the folder, hidden in braces',
    'sheets: [»"{a,../b}/*.csv"]\n',
    'sheets "{a,../b}/*.csv" leaves the screening folder',
  ],
  ['files from the root', 'sheets: [»/data/a.csv]\n', 'sheets "/data/a.csv" leaves the screening folder'],
  ['files of another drive', 'sheets: [»"C:/a.csv"]\n', 'sheets "C:/a.csv" leaves the screening folder'],
  ['files with \\', 'sheets: [»sheets\\a.csv]\n', 'sheets "sheets\\a.csv" has a \\ in it | Part folders by /.'],
  ['an output above the folder', 'out: »../out\nsheets: [a.csv]\n', 'out "../out" leaves the screening folder'],
  [
    'a season that starts on no day',
    'season_starts: »02-29\nsheets: [a.csv]\n',
    'season_starts "02-29" is no day of the year written "MM-DD"',
  ],
  [
    'a season start that is written otherwise',
    'season_starts: »7-1\nsheets: [a.csv]\n',
    'season_starts "7-1" is no day of the year written "MM-DD"',
  ],
  ['half a day', 'occasion_days: »1.5\nsheets: [a.csv]\n', 'occasion_days 1.5 is not a whole number'],
  ['more days than a year has', 'occasion_days: »400\nsheets: [a.csv]\n', 'occasion_days 400 is above 366'],
  ['days below zero', 'occasion_days: »-1\nsheets: [a.csv]\n', 'occasion_days -1 is below 0'],
  ['a day that is none', entry('date: »2026-02-30'), 'sheets.date "2026-02-30" is no date written YYYY-MM-DD'],
  ['a season that is none', entry('season: »26'), 'sheets.season 26 is below 1900'],
  [
    'an id of digits without quotes',
    'people: {Bo: »0014}\nsheets: [a.csv]\n',
    'people 0014 is read as a number, not as text | Put it in quotes: "0014".',
  ],
  [
    'a team without also',
    'teams: {Rowing: »ROW}\nsheets: [a.csv]\n',
    'teams.Rowing "ROW" is not a mapping of keys to values | Its keys are also.',
  ],
  [
    'a spelling of two teams',
    'teams: {Rowing: {also: [R]}, Rugby: {also: [»r]}}\nsheets: [a.csv]\n',
    '"r" stands for Rowing already | Take one of them out.',
  ],
  [
    'an unknown role',
    entry('columns: {Id: »athleteid}'),
    'sheets.columns.Id "athleteid" is no role of a column | Did you mean athlete_id? For a measure write { measure: athleteid }.',
  ],
  [
    'a measure where a role should be',
    entry('columns: {Pluse: »pulse}'),
    'sheets.columns.Pluse "pulse" is no role of a column | For a measure write { measure: pulse }; the roles are athlete_id, name, first_name, last_name, team, sex, date, test, side, trial, value, unit, status, tester, device, ignore.',
  ],
  [
    'a slip in the line of a name',
    'people:\n  Jane Doe: »A01: x\nsheets: [a.csv]\n',
    'this line of people: is not written as YAML takes it | Write each line as "name on the sheet": "athlete_id", both in quotes, with a space after the colon.',
  ],
  [
    'a list beside a name',
    'people:\n  Jane Doe: »[1]\nsheets: [a.csv]\n',
    'people [1] is read as a list, since YAML takes the brackets for one | Put it in quotes: "[1]".',
  ],
  [
    'one name for two athletes, in two spellings',
    'people: {"Jane Doe": A01, »"jane-doe": A02, "JANE DOE": A01}\nsheets: [a.csv]\n',
    'this name is the one of line 1, but for capitals and marks, and leads to another athlete_id | Take one of them out. Two athletes of one name are told apart by the sheet alone, by their ids.',
  ],
  [
    'one name twice',
    'people:\n  Jane Doe: A01\n  »Jane Doe: A02\nsheets: [a.csv]\n',
    'this name is given twice, first in line 2 | Take one of them out.',
  ],
  [
    'a column with an unknown key',
    entry('columns: {Id: {measure: reach, »seid: left}}'),
    'sheets.columns.Id: unknown key "seid" | Did you mean side?',
  ],
  [
    'a heading given twice',
    entry('columns: {Id: name, »" id": name}'),
    'heading " id" is given twice | Take one of them out.',
  ],
  [
    'a heading of a side file given twice',
    'roster: {file: a.csv, columns: {Id: athlete_id, »ID: athlete_id}}\nsheets: [a.csv]\n',
    'heading "ID" is given twice | Take one of them out.',
  ],
  ['a side file without its name', '»roster: {columns: {Id: athlete_id}}\nsheets: [a.csv]\n', 'roster has no file'],
  [
    'a file name with an unknown fact',
    entry('from_name: »"{teem}_{date}"'),
    'from_name knows no fact {teem} | Did you mean team?',
  ],
  [
    'a file name with facts side by side',
    entry('from_name: »"{team}{date}"'),
    'from_name has nothing between {team} and {date}, so that nobody can say where one ends | Write what parts them in the name, as in {team}_{date}.',
  ],
  [
    'a file name with a fact beside a part that says nothing',
    entry('from_name: »"{team}_{}{date}"'),
    'from_name has nothing between {} and {date}, so that nobody can say where one ends',
  ],
  [
    'a file name with a fact twice',
    entry('from_name: »"{team}_{team}"'),
    'from_name has {team} twice | Write {} for a part that says nothing.',
  ],
  [
    'a file name with an open brace',
    entry('from_name: »"{team}_{date"'),
    'from_name has a brace without its other | Write facts as in {team}.',
  ],
  [
    'a file name with a folder',
    entry('from_name: »"{season}/{team}"'),
    'from_name has a folder in it | Write the name alone: folders are not looked at.',
  ],
  [
    'a file name with its ending',
    entry('from_name: »"{team}.csv"'),
    'from_name has the ending .csv | Take it out: the name is looked at without its ending.',
  ],
  [
    'a file name that says nothing',
    entry('from_name: »"grip_{}"'),
    'from_name holds no fact | Known: {team}, {station}, {date}, {season}, {tester}, {device}.',
  ],
  [
    'a file name of a novel',
    entry(`from_name: »"{team}${'x'.repeat(200)}"`),
    'from_name has 206 characters | Take at most 200.',
  ],
  [
    'a fact that entry and file name say',
    entry('»date: 2026-08-17, team: Rowing, from_name: "{station}_{date}"'),
    'date is said twice, here and as {date} in from_name | Take one of them out: {} in from_name stands for a part that says nothing.',
  ],
  [
    'a column with side and sides',
    entry('columns: {X: {measure: reach, side: left, »sides: left_right}}'),
    'a column has side or sides, not both | Take one of them out: sides is for cells like 35/40.',
  ],
  [
    'another order of sides',
    entry('columns: {X: {measure: reach, sides: »left-right}}'),
    'sheets.columns.X.sides "left-right" is not one of left_right, right_left | Did you mean left_right?',
  ],
  [
    'another side',
    entry('columns: {X: {measure: reach, side: »surgicl}}'),
    'sheets.columns.X.side "surgicl" is not one of left, right, both, none, dominant, nondominant, other, surgical, non_surgical, involved, uninvolved | Did you mean surgical?',
  ],
])('screening.yaml: %s', (_, text, ...told) => {
  const given = marked(text, 'screening.yaml');
  expectTroubles(
    given,
    failureOf(() => load(given.text)),
    told,
  );
});

test.each<[string, string, ...string[]]>([
  [
    'a unit of an unknown measure',
    entry('units: {»hip_aduction: kgf}'),
    'the protocol has no measure hip_aduction | Did you mean hip_adduction?',
  ],
  [
    'a column of an unknown measure',
    entry('columns: {X: {measure: »reech}}'),
    'the protocol has no measure reech | Did you mean reach?',
  ],
  [
    'a column of a derived measure',
    entry('columns: {X: {measure: »adductor_ratio}}'),
    'adductor_ratio is worked out, so no sheet holds it | Set the column to ignore.',
  ],
  [
    'a unit of another kind',
    entry('units: {hip_adduction: »cm}'),
    'sheets.units.hip_adduction "cm" does not convert into N, the unit it stands for | Write a unit of the same kind.',
  ],
  [
    'a unit of another kind in a column',
    entry('columns: {X: {measure: reach, unit: »kg}}'),
    'sheets.columns.X.unit "kg" does not convert into cm, the unit it stands for',
  ],
  [
    'a unit that UCUM does not know',
    entry('columns: {X: {measure: reach, unit: »cmx}}'),
    'sheets.columns.X.unit "cmx" is no UCUM unit known here | Write one of m, cm, mm, [in_i], [ft_i].',
  ],
  [
    'both sides in a column of a measure without sides',
    entry('columns: {X: {measure: body_mass, »sides: left_right}}'),
    'body_mass has no sides | Take sides out.',
  ],
  [
    'an unknown roster column',
    'roster: {file: a.csv, columns: {Foot: »kicking_fot}}\nsheets: [a.csv]\n',
    'roster has no column kicking_fot for heading "Foot" | Did you mean kicking_foot?',
  ],
  [
    'an unknown column of the injuries',
    'injuries: {file: a.csv, columns: {Where: »regio}}\nsheets: [a.csv]\n',
    'injuries has no column regio for heading "Where" | Did you mean region?',
  ],
  [
    'several at once',
    `${entry('units: {»hip: N}, columns: {X: {measure: »reech}}')}`,
    'the protocol has no measure hip',
    'the protocol has no measure reech',
  ],
])('screening.yaml against the protocol: %s', (_, text, ...told) => {
  const given = marked(text, 'screening.yaml');
  expectTroubles(
    given,
    failureOf(() => resolve(given.text)),
    told,
  );
});

test('the schema can be printed for editors', () => {
  expect(z.toJSONSchema(screeningSchema, { io: 'input' }).required).toEqual(['sheets']);
});
