import { ATHLETES } from '../tables/schemas.ts';
import type { Context } from './context.ts';
import { fieldTrouble } from './fields.ts';
import { type Path, pathText } from './places.ts';
import type { DerivedData, ErrorData, MeasureData } from './schema.ts';
import type { Field, Measure, MeasurementError } from './types.ts';

const LARGEST_READING = 1e6;
const TAKEN_COLUMNS: ReadonlySet<string> = new Set(ATHLETES.map((column) => column.name));
const ERROR_KEYS = ['sem', 'sem_pct', 'mdc', 'mdc_pct'] as const;

/** Checks what measures and derived measures may both say of themselves. */
export function checkJudged(context: Context, path: Path, data: MeasureData | DerivedData, measure: Measure): void {
  const { report } = context;
  const name = pathText(path);
  checkRange(context, [...path, 'plausible'], data.plausible);
  if (data.error) checkError(context, [...path, 'error'], data.error);
  for (const [field, error] of Object.entries(data.errors ?? {})) {
    const at = [...path, 'errors', field];
    checkError(context, at, error!);
    const trouble = fieldTrouble(measure, field as Field);
    if (trouble) report.add(at, `${pathText(at)}: ${trouble}`, 'Take it out.', 'key');
  }
  if (data.dominance !== undefined && measure.sides === 'none') {
    report.add(
      [...path, 'dominance'],
      `${name}.dominance names a dominant side, and ${measure.name} has no sides`,
      'Take it out.',
      'key',
    );
  }
  if (data.dominance !== undefined && TAKEN_COLUMNS.has(data.dominance)) {
    report.add(
      [...path, 'dominance'],
      `${name}.dominance "${data.dominance}" is a roster column that does not tell a side`,
      'Name a column of your own, for example kicking_foot.',
    );
  }
  if (measure.sides === 'each' && measure.compare === 'percent' && data.plausible && data.plausible[0] < 0) {
    report.add(
      [...path, data.compare ? 'compare' : 'plausible'],
      `${name} may read below 0 (plausible from ${data.plausible[0]}), so its sides cannot be compared in percent`,
      'Add compare: gap. Angles that pass zero are never percent.',
    );
  }
}

export function checkRange({ report }: Context, path: Path, range: readonly number[] | undefined): void {
  if (range === undefined) return;
  const [low, high] = range;
  const name = pathText(path);
  if (!(low < high)) {
    report.add(path, `${name} [${low}, ${high}] does not go from a lower to a higher number`, 'Turn the two around.');
  } else if (Math.max(Math.abs(low), Math.abs(high)) > LARGEST_READING) {
    report.add(path, `${name} [${low}, ${high}] goes beyond a million`, 'Choose a larger unit.');
  }
}

function checkError({ report }: Context, path: Path, error: ErrorData): void {
  const given = ERROR_KEYS.filter((key) => error[key] !== undefined);
  const name = pathText(path);
  if (given.length !== 1) {
    const said = given.length === 0 ? 'none of them' : given.join(' and ');
    report.add(path, `${name} needs exactly one of ${ERROR_KEYS.join(', ')}, and has ${said}`, undefined, 'key');
  } else if (error.level !== undefined && given[0].startsWith('sem')) {
    report.add(
      [...path, 'level'],
      `${name}.level belongs to mdc or mdc_pct, not to ${given[0]}`,
      'Take it out.',
      'key',
    );
  }
}

export function errorOf({ sem, sem_pct, mdc, mdc_pct, level, basis, n, source }: ErrorData): MeasurementError {
  return { sem, sem_pct, mdc, mdc_pct, level, basis, n, source };
}

export function errorsOf(data: MeasureData | DerivedData): { readonly [field: string]: MeasurementError } {
  return Object.fromEntries(Object.entries(data.errors ?? {}).map(([field, error]) => [field, errorOf(error!)]));
}
