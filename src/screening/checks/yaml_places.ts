import type { Problem, Severity } from '../../problems/problem.ts';
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

/** Spelling of sections that is taken too: the value stands under the name that the contract has for it. */
function contractName(path: Path, key: string): string {
  if (path.length === 0 && (key === 'program' || key === 'programs')) return 'programmes';
  return path.length === 2 && path[0] === 'rules' && key === 'program' ? 'programme' : key;
}

/** @throws Failure 2 if the text is not YAML */
export function yamlPlaces(text: string, file: string): YamlPlaces {
  const { places }: { places: Places } = readYaml(text, file, contractName);
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
