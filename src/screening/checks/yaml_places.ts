import type { Problem, Severity } from '../../problems/problem.ts';
import { contractKey } from '../../protocol/contract_key.ts';
import type { Path, Places } from '../../protocol/places.ts';
import { readYaml } from '../../protocol/yaml.ts';

/** The places of a YAML file that is known to be sound, for problems beyond its form. */
export interface YamlPlaces {
  readonly file: string;
  lineOf(path: Path): number;
  /** A problem at the value of a path, or at its key. */
  problem(
    severity: Severity,
    code: string,
    path: Path,
    message: string,
    hint?: string,
    what?: 'key' | 'value',
  ): Problem;
}

/** @throws Failure 2 if the text is not YAML */
export function yamlPlaces(text: string, file: string): YamlPlaces {
  const { places }: { places: Places } = readYaml(text, file, contractKey);
  return {
    file,
    lineOf: (path) => places.at(path, 'key').line,
    problem: (severity, code, path, message, hint, what = 'value') => ({
      severity,
      code,
      file,
      ...places.at(path, what),
      message,
      hint: hint ?? null,
      paste: null,
    }),
  };
}
