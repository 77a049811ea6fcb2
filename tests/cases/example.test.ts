import { rmSync, symlinkSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { bash, contents, copyOfExamples, ROOT } from './bilat.ts';

test('the script writes the example again, byte for byte', () => {
  const folder = copyOfExamples();
  symlinkSync(path.join(ROOT, 'node_modules'), path.join(folder, 'node_modules'));
  const college = path.join(folder, 'examples/college');
  const before = contents(college);
  for (const made of ['sheets', 'roster.csv', 'corrections.csv']) rmSync(path.join(college, made), { recursive: true });
  expect(bash('node examples/make-college.mjs', { cwd: folder, env: { TZ: 'Pacific/Auckland' } })).toMatchObject({
    code: 0,
    stderr: '',
  });
  expect(contents(college)).toEqual(before);
});
