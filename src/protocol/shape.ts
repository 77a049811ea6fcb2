import type * as z from 'zod';
import { Failure } from '../problems/failure.ts';
import { tellIssues } from './issues.ts';
import type { YamlFile } from './yaml.ts';

type Mapping = { [key: string]: unknown };

/** A file's data in the shape of its schema, without the entries that do not fit it. */
export interface Shaped<T> {
  readonly data: T;
  /** names of entries left out: their troubles are told, so that nothing that refers to them is a trouble too */
  readonly broken: Set<string>;
}

/**
 * Checks the data of a file against its schema. Entries of named sections that do not fit are reported and left out,
 * so that one look finds the troubles of the others as well.
 * @param sections keys that hold named entries, or may be left empty
 * @throws Failure 2 with every trouble, where nothing useful is left
 */
export function shaped<S extends z.ZodType>(
  schema: S,
  file: YamlFile,
  sections: ReadonlySet<string>,
): Shaped<z.infer<S>> {
  const { value, report } = file;
  if (value === null || typeof value !== 'object' || Array.isArray(value)) {
    report.add(
      [],
      'the file holds no keys at its top level',
      'Write each line as key: value, with a space after the colon.',
    );
    throw new Failure(2, report.troubles);
  }
  const top = value as Mapping;
  for (const section of sections) if (top[section] === null) delete top[section];
  const broken = new Set<string>();
  const first = schema.safeParse(top);
  if (first.success) return { data: first.data, broken };
  tellIssues(file, schema, first.error.issues);
  for (const { path, ...issue } of first.error.issues) {
    const [section, name] = path as string[];
    if (issue.code === 'unrecognized_keys') dropKeys(top, path as string[], issue.keys);
    else if (path.length > 1 && sections.has(section) && typeof name === 'string') {
      delete (top[section] as Mapping | undefined)?.[name];
      broken.add(name);
    } else if (path.length > 1 || !sections.has(section)) delete top[section];
  }
  const second = schema.safeParse(top);
  if (!second.success) throw new Failure(2, report.troubles);
  return { data: second.data, broken };
}

function dropKeys(top: Mapping, path: readonly string[], keys: readonly string[]): void {
  let holder: Mapping | undefined = top;
  for (const part of path) holder = holder?.[part] as Mapping | undefined;
  for (const key of keys) if (holder) delete holder[key];
}
