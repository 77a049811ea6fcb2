import type { Failure, Trouble } from './failure.ts';

/** error: `run` refuses it, or the statistics do; warning: it will bite; note: one should know. Worst first. */
export const SEVERITIES = ['error', 'warning', 'note'] as const;
export type Severity = (typeof SEVERITIES)[number];

/** Something that was found when a protocol or folder was read over. Line and column count from 1; null: unknown. */
export interface Problem {
  readonly severity: Severity;
  /** short, in snake case; the same for the same kind of problem */
  readonly code: string;
  readonly file: string;
  readonly line: number | null;
  readonly column: number | null;
  /** what is wrong, with the value and the rule it broke; one sentence without full stop */
  readonly message: string;
  /** what to do */
  readonly hint: string | null;
  /** lines of YAML that do it, to be pasted as they are */
  readonly paste: string | null;
}

/** A trouble as a problem; `file` names the file where the trouble names none. */
export function problemOf(severity: Severity, code: string, trouble: Trouble, file: string): Problem {
  const { line = null, message, hint = null } = trouble;
  // A column that is not there has place 0.
  const column = trouble.column || null;
  const paste = trouble.paste?.join('\n') ?? null;
  return { severity, code, file: trouble.file ?? file, line, column, message, hint, paste };
}

/** Every trouble of a failure as an error. */
export function problemsOf(code: string, failure: Failure, file: string): Problem[] {
  return failure.troubles.map((trouble) => problemOf('error', code, trouble, file));
}

const byPlace = (a: Problem, b: Problem): number => (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0);

/** Problems by severity, file (code units), line and column; those without a line first. */
export function sortedProblems(problems: readonly Problem[]): Problem[] {
  return problems.toSorted(
    (a, b) =>
      SEVERITIES.indexOf(a.severity) - SEVERITIES.indexOf(b.severity) ||
      (a.file < b.file ? -1 : a.file > b.file ? 1 : byPlace(a, b)),
  );
}
