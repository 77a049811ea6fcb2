import type { Findings, Grade } from '../tables/schemas.ts';
import type { Audience } from './audience/who.ts';
import type { Io } from './io.ts';
import type { FailOn } from './options.ts';
import { counted } from './render/counted.ts';

/**
 * Exit code by what --fail-on names: 1 if any of it was found, and a sentence that says so.
 * @param findings none where the command judges nothing
 * @param rechecks lines of the recheck list
 * @param audience a coach is not told what was found, nor how often
 */
export function failOn(
  wanted: readonly FailOn[] | undefined,
  rejects: number,
  findings: Findings | undefined,
  io: Io,
  rechecks = 0,
  audience: Audience = 'medical',
): number {
  const found: string[] = [];
  for (const name of wanted ?? []) {
    if (name === 'rejects') {
      if (rejects > 0) found.push(counted(rejects, 'reject'));
    } else if (name === 'recheck') {
      if (rechecks > 0) found.push(`${counted(rechecks, 'line')} of the recheck list`);
    } else {
      const count = countGrade(findings, name);
      if (count > 0) found.push(`${counted(count, 'finding')} of grade ${name}`);
    }
  }
  if (found.length === 0) return 0;
  const what = audience === 'coach' ? 'something' : found.join(' and ');
  io.err(`Exit code 1, because --fail-on found ${what}.\n`);
  return 1;
}

function countGrade(findings: Findings | undefined, grade: Grade): number {
  if (findings === undefined) return 0;
  let count = 0;
  for (let row = 0; row < findings.length; row++) if (findings.columns.grade.get(row) === grade) count++;
  return count;
}
