import { cpSync, readdirSync, rmSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { bash, contents, copyOfExamples, ROOT, read } from './bilat.ts';

const STARTER = 'src/protocol/starter/protocol.yaml';
/** Kept by hand; all else in the folder is made. */
const KEPT = ['.gitattributes', 'screening.yaml'];
const MADE = [
  ...['clearance.csv', 'corrections.csv', 'exposures.csv', 'history.csv', 'injuries.csv', 'protocol.yaml'],
  ...['referrals.csv', 'roster.csv'],
  ...['hip-retest', 'hip', 'intake', 'landing'].map((name) => `sheets/2024/${name}.csv`),
  ...['hip', 'intake', 'landing', 'power', 'shoulder'].map((name) => `sheets/2025/${name}.csv`),
  ...['hip-makeup', 'hip', 'intake', 'landing', 'power', 'shoulder'].map((name) => `sheets/2026/${name}.csv`),
  'work.csv',
];

test('the script writes every made file of the example again, byte for byte', () => {
  const folder = copyOfExamples();
  symlinkSync(path.join(ROOT, 'node_modules'), path.join(folder, 'node_modules'));
  // The protocol is made of the starter protocol, which lies beside the examples.
  cpSync(path.join(ROOT, STARTER), path.join(folder, STARTER), { recursive: true });
  const college = path.join(folder, 'examples/college');
  const before = contents(college);
  expect(Object.keys(before).sort()).toEqual([...KEPT, ...MADE].sort());
  for (const file of readdirSync(college)) {
    if (!KEPT.includes(file)) rmSync(path.join(college, file), { recursive: true });
  }
  const kept = Object.fromEntries(KEPT.map((file) => [file, before[file]]));
  expect(contents(college)).toEqual(kept);
  const env = { TZ: 'Pacific/Auckland' };
  expect(bash('node examples/make-college.mjs', { cwd: folder, env })).toEqual({ code: 0, stdout: '', stderr: '' });
  expect(contents(college)).toEqual(before);
});

test('the protocol of the example is the starter protocol but for its head, its name and the teams', () => {
  const TEAMS = /(?<=^ {2}\w+:\n {4}label: .*\n {4}teams: )\[[^\]]*\]/gm;
  const body = (text: string): string =>
    text
      .slice(text.indexOf('# CONFIRM WITH'))
      .replace(/^name: .*$/m, 'name: …')
      .replace(TEAMS, '[…]');
  const starter = read(ROOT, STARTER);
  const example = read(ROOT, 'examples/college/protocol.yaml');
  expect(example.match(TEAMS)).toEqual([
    '[Fencing, Handball, Volleyball, Soccer]',
    '[Rowing, Fencing, Water polo, Soccer, Field hockey]',
    '[Water polo, Handball, Volleyball, Softball, Swimming, Tennis]',
    '[Soccer, Track, Wrestling]',
  ]);
  expect(body(example)).toBe(body(starter));
});
