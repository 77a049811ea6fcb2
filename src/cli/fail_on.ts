import type { Findings, Grade } from '../tables/schemas.ts';
import type { Io } from './io.ts';
import type { FailOn } from './options.ts';
import { counted } from './render/counted.ts';

/**
 * Exit code by what --fail-on names: 1 if any of it was found, and a sentence that says so.
 * @param findings none where the command judges nothing
 */
export function failOn(
  wanted: readonly FailOn[] | undefined,
  rejects: number,
  findings: Findings | undefined,
  io: Io,
): number {
  const found: string[] = [];
  for (const name of wanted ?? []) {
    const count = name === 'rejects' ? rejects : countGrade(findings, name as Grade);
    if (count > 0)
      found.push(name === 'rejects' ? counted(count, 'reject') : `${counted(count, 'finding')} of grade ${name}`);
  }
  if (found.length === 0) return 0;
  io.err(`Exit code 1, because --fail-on found ${found.join(' and ')}.\n`);
  return 1;
}

function countGrade(findings: Findings | undefined, grade: Grade): number {
  if (findings === undefined) return 0;
  let count = 0;
  for (let row = 0; row < findings.length; row++) if (findings.columns.grade.get(row) === grade) count++;
  return count;
}
