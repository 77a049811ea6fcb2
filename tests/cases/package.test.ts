import { readdirSync } from 'node:fs';
import path from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { bash, bilat, contents, copyOfExamples, ROOT, read, tempFolder } from './bilat.ts';

const { version } = JSON.parse(read(ROOT, 'package.json'));

/** The package as npm packs it, unpacked where no other package can be found. */
describe('the package', () => {
  let home: string;
  let files: string[];

  beforeAll(() => {
    home = tempFolder({ 'node_modules/bilat/': '' });
    const packed = bash(`npm pack --ignore-scripts --silent --pack-destination "${home}"`, { cwd: ROOT });
    expect(packed).toMatchObject({ code: 0 });
    const unpacked = bash('tar -xzf *.tgz --strip-components=1 -C node_modules/bilat', { cwd: home });
    expect(unpacked).toMatchObject({ code: 0 });
    files = readdirSync(path.join(home, 'node_modules/bilat'), { recursive: true }).map(String);
  });

  test('holds what it needs and no more', () => {
    expect(files).toEqual(
      expect.arrayContaining(['bin/bilat.js', 'dist/cli.js', 'dist/index.js', 'LICENSE', 'package.json']),
    );
    expect(files.filter((file) => /^(src|tests|node_modules|\.)/.test(file))).toEqual([]);
    expect(files.filter((file) => /(^|\/)out(\/|$)/.test(file))).toEqual([]);
  });

  test('runs without any other package', () => {
    const bin = 'node node_modules/bilat/bin/bilat.js';
    expect(bash(`${bin} --version`, { cwd: home })).toEqual({ code: 0, stdout: `${version}\n`, stderr: '' });
    const examples = copyOfExamples();
    const run = bash(`${bin} run --folder "${examples}/examples/college" --format json`, { cwd: home });
    expect(run).toMatchObject({ code: 0, stderr: '' });
    expect(JSON.parse(run.stdout)).toMatchObject({ season: 2026, athletes: 149, sheets: 15, observations: 13972 });
  });

  test('makes the starter folder, which its own check has nothing against', () => {
    const [cwd, other] = [tempFolder(), tempFolder()];
    const bin = `node "${home}/node_modules/bilat/bin/bilat.js"`;
    expect(bash(`${bin} new preseason`, { cwd })).toMatchObject({ code: 0, stderr: '' });
    expect(bilat(['new', 'preseason'], { cwd: other })).toMatchObject({ code: 0 });
    const made = contents(path.join(cwd, 'preseason'));
    expect(Object.keys(made)).toEqual(expect.arrayContaining(['README.md', 'protocol.yaml', 'roster.csv']));
    expect(made).toEqual(contents(path.join(other, 'preseason')));
    const check = bash(`${bin} check --format json`, { cwd: path.join(cwd, 'preseason') });
    expect(check).toMatchObject({ code: 0, stderr: '' });
    const problems: { severity: string; code: string }[] = JSON.parse(check.stdout);
    expect(problems.filter(({ severity }) => severity !== 'note')).toEqual([]);
    expect(problems.map(({ code }) => code)).toEqual(expect.arrayContaining(['roster_empty', 'no_sheets']));
  });

  test.each([
    ['adductor_ratio', 'adductor_ratio (measure): Adduction to abduction ratio\n'],
    ['adductor_ratio_low', 'adductor_ratio_low (rule): '],
    ['within_error', 'within_error (certainty): not distinguishable from the limit\n'],
    ['unit_unknown', 'unit_unknown (reject code): Unit not known\n'],
  ])('explains %s outside any folder', (word, first) => {
    const bin = `node "${home}/node_modules/bilat/bin/bilat.js"`;
    const done = bash(`${bin} explain ${word}`, { cwd: tempFolder() });
    expect(done).toMatchObject({ code: 0, stderr: '' });
    expect(done.stdout.slice(0, first.length)).toBe(first);
  });

  test('runs its demo, as the tests run it', () => {
    const demo = bash('npm run --silent demo', { cwd: path.join(home, 'node_modules/bilat') });
    expect(demo).toMatchObject({ code: 0, stderr: '' });
    expect(demo.stdout).toMatch(/^Season 2026: 149 athletes tested; 15 sheets and 13972 observations in all\.\n/);
    const college = path.join(copyOfExamples(), 'examples/college');
    expect(bilat(['run', '--folder', college])).toMatchObject({ code: 0 });
    const out = path.join(home, 'node_modules/bilat/examples/college/out');
    expect(contents(out)).toEqual(contents(path.join(college, 'out')));
  });

  test('is a library', () => {
    const line = `node --input-type=module -e 'const bilat = await import("bilat"); console.log(typeof bilat.ingest, typeof bilat.derive, typeof bilat.flag)'`;
    expect(bash(line, { cwd: home })).toEqual({ code: 0, stdout: 'function function function\n', stderr: '' });
  });

  test('without its build says how to get one', () => {
    const bare = tempFolder({ 'bin/bilat.js': read(ROOT, 'bin/bilat.js'), 'package.json': '{"type": "module"}' });
    expect(bash('node bin/bilat.js', { cwd: bare })).toEqual({
      code: 3,
      stdout: '',
      stderr: 'bilat is not built yet. In its folder, run: npm ci && npm run build\n',
    });
  });
});
