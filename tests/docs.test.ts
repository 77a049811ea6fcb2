import { spawnSync } from 'node:child_process';
import {
  accessSync,
  constants,
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, test } from 'vitest';
import { REJECTS } from '../src/problems/rejects.ts';
import { COVERAGE_STATES, PLAN_SCOPES, RECHECK_KINDS } from '../src/tables/schemas.ts';
import { unitText } from '../src/units/unit_text.ts';
import { ingestText } from './sheets/ingest_text.ts';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const read = (file: string): string => readFileSync(path.join(ROOT, file), 'utf8');
const README = read('README.md');
const DEVELOPERS = read('DEVELOPERS.md');
const manifest = JSON.parse(read('package.json'));

/** A fenced block, the heading it stands under, and the next block under that heading. */
interface Block {
  readonly language: string;
  readonly heading: string;
  text: string;
  next?: Block;
}

function blocksOf(page: string): Block[] {
  const blocks: Block[] = [];
  let heading = '';
  let open: string[] | undefined;
  for (const line of page.split('\n')) {
    if (open === undefined && /^#+ /.test(line)) heading = line.replace(/^#+ /, '');
    if (!line.startsWith('```')) {
      open?.push(line);
      continue;
    }
    if (open === undefined) {
      open = [];
      const before = blocks.at(-1);
      blocks.push({ language: line.slice(3), text: '', heading });
      if (before?.heading === heading) before.next = blocks.at(-1)!;
    } else {
      blocks.at(-1)!.text = `${open.join('\n')}\n`;
      open = undefined;
    }
  }
  return blocks;
}

const BLOCKS = blocksOf(README);
/** Its commands are run on sheets of strangers, by tests/cases/ten_minutes.test.ts. */
const OWN_SHEETS = 'Ten minutes with your own sheets';

/** The one block of a language that holds a text. */
function blockWith(language: string, part: string): string {
  const found = BLOCKS.filter((block) => block.language === language && block.text.includes(part));
  expect(found).toHaveLength(1);
  return found[0].text;
}

/** The rows of the table under a heading, cell by cell as they are shown; code spans without their marks. */
function tableUnder(heading: string): string[][] {
  const lines = README.split('\n');
  const from = lines.indexOf(heading);
  expect(from).toBeGreaterThan(0);
  const start = lines.findIndex((line, at) => at > from && line.startsWith('|'));
  const rows: string[][] = [];
  for (let at = start + 2; lines[at].startsWith('|'); at++) {
    rows.push(
      lines[at]
        .slice(1, -1)
        .split('|')
        .map((cell) => cell.trim().replace(/^`(.*)`$/, '$1')),
    );
  }
  return rows;
}

/** The first piece of an excerpt that is not in a text, whole lines in order; a line … stands for any lines. */
function missingPiece(excerpt: string, text: string): string | undefined {
  const lines = text.trimEnd().split('\n');
  const pieces: string[][] = [[]];
  for (const line of excerpt.trimEnd().split('\n')) {
    if (line === '…') pieces.push([]);
    else pieces.at(-1)!.push(line);
  }
  let from = 0;
  for (const [at, piece] of pieces.entries()) {
    if (piece.length === 0) continue;
    const isHere = (start: number): boolean => piece.every((line, offset) => lines[start + offset] === line);
    const last = lines.length - piece.length;
    let start = at === pieces.length - 1 ? Math.max(from, last) : from;
    while (at > 0 && start < last && !isHere(start)) start++;
    const mustEnd = at === pieces.length - 1 && start !== last;
    if (mustEnd || !isHere(start)) return piece.join('\n');
    from = start + piece.length;
  }
  return undefined;
}

const scratch = mkdtempSync(path.join(tmpdir(), 'bilat-docs-'));
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

const launcher = path.join(scratch, 'bin');
mkdirSync(launcher);
writeFileSync(
  path.join(launcher, 'bilat'),
  `#!/bin/sh\nexec "${process.execPath}" "${path.join(ROOT, 'bin/bilat.js')}" "$@"\n`,
  { mode: 0o755 },
);

/** A fresh copy of the examples. */
function copyOfExamples(): string {
  const folder = mkdtempSync(path.join(scratch, 'copy-'));
  cpSync(path.join(ROOT, 'examples'), path.join(folder, 'examples'), {
    recursive: true,
    filter: (file) => path.basename(file) !== 'out',
  });
  return folder;
}

const inCollege = (folder: string): string => path.join(folder, 'examples/college');

function shell(line: string, cwd: string, input = ''): { code: number | null; stdout: string; stderr: string } {
  const env = { ...process.env, PATH: `${launcher}${path.delimiter}${process.env.PATH}` };
  const done = spawnSync('sh', ['-c', line], { cwd, input, env, encoding: 'utf8', maxBuffer: 1 << 28 });
  return { code: done.status, stdout: done.stdout, stderr: done.stderr };
}

describe('README: commands', () => {
  const college = inCollege(copyOfExamples());
  const commandBlocks = BLOCKS.filter(
    ({ language, text, heading }) => language === 'sh' && text.startsWith('bilat') && heading !== OWN_SHEETS,
  );

  test.each(commandBlocks)('$heading: $text', ({ text, next }) => {
    let printed = '';
    for (const line of text.trimEnd().split('\n')) {
      expect(line).toMatch(/^bilat /);
      const { code, stdout, stderr } = shell(line, college);
      expect({ line, code, stderr }).toMatchObject({ code: Number(/# exit code (\d+)$/.exec(line)?.[1] ?? 0) });
      printed = stdout + stderr;
    }
    if (next?.language === 'text') expect(missingPiece(next.text, printed), printed).toBeUndefined();
  });

  test('every output that is shown is compared', () => {
    const compared = BLOCKS.filter((block) => block.next?.language === 'text').map((block) => block.language);
    expect(compared).toHaveLength(BLOCKS.filter((block) => block.language === 'text').length);
    for (const language of compared) expect(['sh', 'js', 'csv']).toContain(language);
  });

  test('every other sh block sets up, and is one of the three that are meant to', () => {
    const others = BLOCKS.filter(
      ({ language, text, heading }) => language === 'sh' && !text.startsWith('bilat') && heading !== OWN_SHEETS,
    );
    expect(others.map((block) => block.text)).toEqual([
      'npm ci && npm run demo\n',
      'npm ci && npm test\n',
      'npm ci && npm install -g .\n',
    ]);
  });

  test('the demo runs the example', () => {
    const { code, stdout } = shell(manifest.scripts.demo.replace('node bin/bilat.js', 'bilat'), copyOfExamples());
    expect(code).toBe(0);
    expect(stdout).toContain('\nTo see medical staff: 5 athletes\n');
  });

  test('what is said to be missing is missing', () => {
    const help = shell('bilat --help', college).stdout;
    const list = /- Commands: ([^.]*)\./.exec(README)![1];
    const missing = [...list.matchAll(/`([a-z]+)`/g)].map(([, name]) => name);
    expect(missing).toContain('trend');
    for (const name of missing) expect(help).not.toMatch(new RegExp(`^  ${name} `, 'm'));
  });
});

describe('README: sheets and cures', () => {
  const samples = BLOCKS.filter((block) => block.heading === 'What a sheet may look like').map((block) => block.text);
  /** readings and words of each sample, counted by hand */
  const counts: readonly (readonly [readings: number, words: number])[] = [
    [7, 1],
    [4, 0],
    [4, 0],
    [2, 0],
    [5, 1],
    [8, 0],
    [6, 0],
    [8, 0],
    [4, 0],
    [4, 0],
  ];

  test('every sample is counted', () => expect(samples).toHaveLength(counts.length));

  test.each(samples.map((sample, at) => [sample, ...counts[at]] as const))(
    'is read to its last cell: %s',
    (sample, readings, words) => {
      const { code, stderr } = shell('bilat ingest -', inCollege(copyOfExamples()), sample);
      expect(code).toBe(0);
      expect(stderr).toContain(` cells: ${readings} readings, ${words} not measured,`);
      expect(stderr).toContain(' 0 rejected.');
    },
  );

  const given = {
    protocol: read('examples/college/protocol.yaml'),
    roster: read('examples/college/roster.csv'),
  };
  const quoted = (cell: string): string => `"${cell.replaceAll('"', '""')}"`;
  /** One athlete's sheet with one cell to look at. */
  const sheetOf = (heading: string, cell: string): string =>
    heading === 'Date'
      ? `Athlete no,Date,Grip L (kg)\nK001,${quoted(cell)},51\n`
      : `Athlete no,Date,${heading}\nK001,2026-08-17,${quoted(cell)}\n`;

  test.each(tableUnder('### What a cell may hold'))('%s: %s is read as %s', async (heading, cell, readAs) => {
    const { observations, rejects } = await ingestText(sheetOf(heading, cell), given);
    expect(rejects).toEqual([]);
    const differs = (of: 'measure' | 'side'): boolean => new Set(observations.map((row) => row[of])).size > 1;
    const words = observations.map(({ measure, side, value, unit, status }) => {
      const number = value === null ? [] : [`${Number(value.toFixed(2))} ${unitText(unit!)}`];
      const word = status === 'measured' ? [] : [value === null ? status.replaceAll('_', ' ') : `with ${status}`];
      const where = [...(differs('measure') ? [measure] : []), ...(differs('side') ? [side] : [])];
      return [...where, ...number, ...word].join(' ');
    });
    expect(words.join(', ')).toBe(readAs);
  });

  test.each(tableUnder('### What is never read without asking'))('%s: %s can be %s', async (heading, cell, choices) => {
    const { observations, rejects } = await ingestText(sheetOf(heading, cell), given);
    expect(observations.filter(({ value }) => value !== null)).toEqual([]);
    expect(rejects).toHaveLength(1);
    expect(rejects[0].message).toContain(`"${cell}" can be ${choices}.`);
  });

  test('nor is the rest of the list', async () => {
    const open: readonly (readonly [string, string])[] = [
      ['unit_unknown', 'Athlete no,Date,Hip Add L\nK001,2026-08-17,14.0 kg\nK002,2026-08-17,14.8\n'],
      ['unit_unknown', 'Athlete no,Date,Weight\nK001,2026-08-17,150 lbs\nK002,2026-08-17,180\n'],
      ['athlete_ambiguous', 'Athlete no,Name,Date,Grip L (kg)\nK001,Kell Marrowbent,2026-08-17,51\n'],
      ['athlete_missing', 'Athlete no,Date,Grip L (kg)\nK001,2026-08-17,51\n,2026-08-17,52\n'],
      ['date_missing', '17 - 18 August 2026\nAthlete no,Grip L (kg)\nK001,51\n'],
      ['side_needs_roster', 'Athlete no,Date,Side,Grip (kg)\nK001,2026-08-17,surgical,51\n'],
      ['number_censored', sheetOf('Grip L (kg)', '>30')],
      ['number_approximate', sheetOf('Grip L (kg)', '~35')],
      ['number_unreadable', sheetOf('Grip L (kg)', '1O')],
      ['number_unreadable', sheetOf('Grip L (kg)', 'WNL')],
      ['spreadsheet_error', sheetOf('Grip L (kg)', '#DIV/0!')],
      ['height_as_date', sheetOf('Height', '11-May')],
      ['implausible', sheetOf('Height', '18')],
    ];
    for (const [code, sheet] of open) {
      const { rejects } = await ingestText(sheet, given);
      expect(
        rejects.map((row) => row.code),
        sheet,
      ).toEqual([code]);
    }
  });

  test('notes are said as shown', () => {
    const [{ text, next }] = BLOCKS.filter(
      (block) => block.language === 'csv' && block.heading === 'Look at a new sheet first',
    );
    const { code, stdout } = shell('bilat scan -', inCollege(copyOfExamples()), text);
    expect(code).toBe(0);
    expect(missingPiece(next!.text, stdout), stdout).toBeUndefined();
  });

  test('what screening.yaml says of sheets is done', () => {
    const college = inCollege(copyOfExamples());
    rmSync(path.join(college, 'sheets'), { recursive: true });
    rmSync(path.join(college, 'corrections.csv'));
    mkdirSync(path.join(college, 'sheets/2026'), { recursive: true });
    const write = (file: string, text: string): void => writeFileSync(path.join(college, file), text);
    write('screening.yaml', `roster: roster.csv\n${blockWith('yaml', 'from_name:')}  - sheets/2026/sides.csv\n`);
    write('history.csv', blockWith('csv', 'region,side,date,surgery'));
    write('sheets/2026/Rowing_Hip_2026-08-17.csv', 'Athlete no,Grip R (kg)\nK003,51\n');
    write('sheets/2026/board.csv', ',K004,K005\nDate,2026-08-17,2026-08-17\nGrip R (kg),52,53\n');
    write('sheets/2026/rotation.csv', 'Athlete no,Hip IR (deg),\nK006,37/40,54\n');
    write(
      'sheets/2026/sides.csv',
      'Athlete no,Date,Side,Grip (kg)\nK001,2026-08-17,surgical,55\nK002,2026-08-17,involved,56\nK002,2026-08-17,surgical,57\n',
    );
    const { stdout, stderr } = shell('bilat ingest --format json', college);
    const rows: Record<string, unknown>[] = JSON.parse(stdout);
    const shown = rows.map(({ athlete_id, date, measure, side, value, station }) =>
      [athlete_id, date, measure, side, value, station].join(' ').trim(),
    );
    expect(shown).toEqual([
      'K003 2026-08-17 grip right 51 Hip',
      'K004 2026-08-17 grip right 52',
      'K005 2026-08-17 grip right 53',
      'K006 2026-08-17 hip_internal_rotation right 37',
      'K006 2026-08-17 hip_internal_rotation left 40',
      'K006 2026-08-17 grip left 54',
      'K001 2026-08-17 grip left 55',
      'K002 2026-08-17 grip right 56',
    ]);
    // The ankle of K002 was not operated on.
    expect(stderr).toContain(' 1 rejected.');
  });

  const change = (file: string, from: string, to: string): void => {
    const text = readFileSync(file, 'utf8');
    expect(text).toContain(from);
    writeFileSync(file, text.replace(from, to));
  };
  const lastLine = (text: string): string => text.slice(text.trimEnd().lastIndexOf('\n') + 1);
  const rejectsOf = (college: string): string =>
    shell('bilat ingest -o observations.csv --rejects rejects.csv && cat rejects.csv', college).stdout;

  test('a heading added to the protocol is understood', () => {
    const college = inCollege(copyOfExamples());
    expect(rejectsOf(college)).toContain('Pusle');
    const said = lastLine(blockWith('yaml', 'pusle]'));
    change(path.join(college, 'protocol.yaml'), said.replace(', pusle', ''), said);
    expect(rejectsOf(college)).not.toContain('Pusle');
  });

  test('a measure and a rule of ones own are taken, and found good but for the group that nobody gave them', () => {
    const college = inCollege(copyOfExamples());
    const file = path.join(college, 'protocol.yaml');
    const [measure, rule] = blockWith('yaml', 'side_plank:').split('rules:\n');
    change(file, 'measures:\n', measure);
    change(file, '\nrules:\n', `\nrules:\n${rule}`);
    const before = shell('bilat check', college);
    expect(before.code).toBe(0);
    expect(before.stdout.replace(/\s+/g, ' ')).toContain('side_plank');
    change(file, 'everyone: [', 'everyone: [side_plank, ');
    const { code, stdout } = shell('bilat check', college);
    expect(code).toBe(0);
    expect(stdout).toContain('No errors, no warnings,');
    const sheet = 'Athlete no,Date,Plank L (s),Plank R (s)\nK001,2026-08-17,60,90\n';
    const found = shell('bilat ingest - | bilat flag - --format csv', college, sheet).stdout;
    expect(found).toContain('side_plank_deficit,side_plank,left,deficit_pct,33.3');
  });

  test('a rule with history and urgency is taken, and judges whom the page says', () => {
    const college = inCollege(copyOfExamples());
    const file = path.join(college, 'protocol.yaml');
    change(file, '\nrules:\n', `\n${blockWith('yaml', 'urgency:')}`);
    const { code, stdout } = shell('bilat check', college);
    expect(code).toBe(0);
    expect(stdout).toContain('No errors, no warnings,');
    // K012 had the right groin hurt in 2023, which is too long ago; K017 the left one, a year before the test.
    const history = path.join(college, 'history.csv');
    writeFileSync(history, `${readFileSync(history, 'utf8')}K017,groin,left,2025-08-20,no,\n`);
    const sheet =
      'Athlete no,Date,Hip Add L (N),Hip Add R (N)\n' +
      'K012,2026-08-17,200,100\nK017,2026-08-17,100,200\nK018,2026-08-17,100,200\n';
    const found = shell('bilat ingest - | bilat flag - --format csv', college, sheet).stdout.split('\n');
    const own = found.filter((line) => line.includes(',groin_strength_after_injury,'));
    expect(own).toHaveLength(1);
    expect(own[0]).toMatch(/^K017,.*,left,deficit_pct,50,10,40,.*,refer,same_side,/);
  });

  test('a column settled in screening.yaml is understood', () => {
    const college = inCollege(copyOfExamples());
    const entry = blockWith('yaml', '"Pusle"').replace('sheets:\n', '');
    change(path.join(college, 'screening.yaml'), entry.slice(0, entry.indexOf('    columns:')), entry);
    expect(rejectsOf(college)).not.toContain('Pusle');
  });

  test('corrections are applied', () => {
    const college = inCollege(copyOfExamples());
    const file = path.join(college, 'corrections.csv');
    const rows = blockWith('csv', 'file,line,column,raw').split('\n').slice(1);
    for (const row of rows.slice(0, -1)) {
      const [sheet, line, , raw] = row.split(',');
      const written = readFileSync(path.join(college, sheet), 'utf8').split('\n')[Number(line) - 1];
      expect(written.split(',')).toContain(raw);
    }
    writeFileSync(file, readFileSync(file, 'utf8') + rows.join('\n'));
    const rejects = rejectsOf(college);
    for (const code of ['implausible', 'number_unreadable']) expect(rejects).not.toContain(code);
  });

  test('a force column without a unit is held back, with the words shown, until its unit is said', () => {
    const college = inCollege(copyOfExamples());
    const message = BLOCKS.find((block) => block.heading === 'Units' && block.language === 'text')!.text.trim();
    writeFileSync(path.join(college, 'sheets/2026/bare.csv'), blockWith('csv', 'ID,Date,Hip Add L,Hip Add R\n'));
    const ingest = 'bilat ingest sheets/2026/bare.csv -o observations.csv --rejects rejects.csv && cat rejects.csv';
    expect(shell(ingest, college).stdout).toContain(message.replaceAll('"', '""'));
    change(path.join(college, 'screening.yaml'), 'sheets:\n', blockWith('yaml', 'bare.csv'));
    expect(shell(ingest, college).stderr).toContain(' 0 rejected.');
  });
});

test('README: the library example prints what is shown', () => {
  const [{ text, next }] = BLOCKS.filter((block) => block.language === 'js');
  // The package can name itself only from inside its own folder.
  const script = `process.chdir(${JSON.stringify(inCollege(copyOfExamples()))});\n${text}`;
  const done = spawnSync(process.execPath, ['--input-type=module', '-e', script], { cwd: ROOT, encoding: 'utf8' });
  expect(done.stderr).toBe('');
  expect(done.stdout).toBe(next!.text);
});

test('README: the reject codes and their titles are those of the registry', () => {
  const shown = tableUnder('## Reject codes').map(([code, title]) => [code, title]);
  expect(shown).toEqual(Object.entries(REJECTS).map(([code, { title }]) => [code, title]));
});

describe('README: words of groups and plan', () => {
  const firsts = (heading: string): string[] => tableUnder(heading).map(([word]) => word);

  test('scopes, states and kinds are those of the tables', () => {
    expect(firsts('### The work list').sort()).toEqual([...PLAN_SCOPES].sort());
    expect(firsts('### Who is missing')).toEqual([...COVERAGE_STATES]);
    expect(firsts('### Readings to look at again')).toEqual([...RECHECK_KINDS]);
  });

  test('the files of the desk have the columns that are shown', () => {
    for (const [file, columns] of tableUnder('### The desk')) {
      expect([file, read(`examples/college/${file}`).split('\n')[0]]).toEqual([file, columns]);
    }
  });

  test('the referral that is shown takes the athlete off the list, from its last day on', () => {
    const college = inCollege(copyOfExamples());
    const file = path.join(college, 'referrals.csv');
    const row = blockWith('csv', 'pain,2026-08-28').split('\n')[1];
    writeFileSync(file, `${readFileSync(file, 'utf8')}${row}\n`);
    const scopes = (on: string): string[] => {
      const { code, stdout } = shell(`bilat plan --athlete K012 --on ${on} --format json`, college);
      expect(code).toBe(0);
      return JSON.parse(stdout).map(({ scope }: { scope: string }) => scope);
    };
    expect([scopes('2026-08-27'), scopes('2026-08-28')]).toEqual([['refer'], []]);
  });

  test('the tables are those that run writes', () => {
    const college = inCollege(copyOfExamples());
    expect(shell('bilat run', college).code).toBe(0);
    const written = readdirSync(path.join(college, 'out')).filter((file) => file.endsWith('.csv'));
    expect(firsts('### The tables').sort()).toEqual(written.sort());
  });
});

describe('pages', () => {
  test.each(['README.md', 'DEVELOPERS.md', 'CHANGELOG.md', 'examples/README.md'])(
    '%s links to files that exist',
    (page) => {
      for (const [, target] of read(page).matchAll(/\]\((?!https?:)([^)#]+)[^)]*\)/g)) {
        expect(existsSync(path.join(ROOT, path.dirname(page), target)), target).toBe(true);
      }
    },
  );

  test('DEVELOPERS names every package, and gives its reason', () => {
    const packages = Object.keys({ ...manifest.dependencies, ...manifest.devDependencies });
    for (const name of packages) expect(DEVELOPERS).toContain(`\`${name}\``);
  });

  test('DEVELOPERS names every folder of src', () => {
    const folders = readdirSync(path.join(ROOT, 'src'), { withFileTypes: true }).filter((entry) => entry.isDirectory());
    for (const { name } of folders) expect(DEVELOPERS).toContain(`src/${name}/`);
  });

  test('DEVELOPERS names every file of src/sheets', () => {
    const part = DEVELOPERS.slice(DEVELOPERS.indexOf('## How a sheet is read'), DEVELOPERS.indexOf('### What counts'));
    for (const file of readdirSync(path.join(ROOT, 'src/sheets'))) expect(part).toContain(`\`${file.slice(0, -3)}\``);
  });

  test('DEVELOPERS and README name only scripts that exist', () => {
    for (const [, script] of `${README}${DEVELOPERS}`.matchAll(/npm run ([a-z:]+)/g)) {
      expect(manifest.scripts).toHaveProperty([script]);
    }
  });

  test('CHANGELOG has this version on top', () => {
    expect(/^## (\S+)/m.exec(read('CHANGELOG.md'))?.[1]).toBe(manifest.version);
  });
});

test('.ci/run can be run and calls the test command of the README', () => {
  const file = path.join(ROOT, '.ci/run');
  accessSync(file, constants.X_OK);
  const [command] = BLOCKS.filter((block) => block.text.endsWith('npm test\n')).map((block) => block.text.trim());
  expect(readFileSync(file, 'utf8')).toContain(`(${command})\n`);
});
