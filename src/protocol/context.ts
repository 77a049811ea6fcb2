import { didYouMean } from './nearest.ts';
import type { Path, Report } from './places.ts';

/** What the builders of a protocol share. */
export interface Context {
  readonly report: Report;
  /** names whose own troubles are told already */
  readonly broken: Set<string>;
}

/** What a name stands for; an unknown one is told at its place, a broken one is passed over. */
export function named<T>(
  { report, broken }: Context,
  path: Path,
  name: string,
  known: ReadonlyMap<string, T>,
  kind: string,
): T | undefined {
  const found = known.get(name);
  if (found === undefined && !broken.has(name)) {
    report.add(path, `there is no ${kind} ${name}`, didYouMean(name, known.keys()));
  }
  return found;
}

/** The name as a label: hip_adduction reads hip adduction. */
export function labelOf(name: string, label: string | undefined): string {
  return label ?? name.replaceAll('_', ' ');
}
