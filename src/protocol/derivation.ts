import { type Context, named } from './context.ts';
import type { Operator } from './operators.ts';
import type { DerivedData } from './schema.ts';
import type { Derivation, Measure } from './types.ts';

/** Statistics, section 3: no group under ten is read. */
const SMALLEST_GROUP = 10;

/** An operator with its parts and settings, each checked. */
export function derivationOf(
  context: Context,
  name: string,
  data: DerivedData,
  operator: Operator,
  parts: readonly Measure[],
  asPercentOf: Measure | undefined,
): Derivation {
  switch (operator) {
    case 'sum':
    case 'mean':
      return { operator, parts, asPercentOf };
    case 'total':
      return {
        operator,
        parts,
        side: totalSide(context, name, data, parts),
        needs: needsOf(context, name, data, parts),
      };
    case 'z_mean':
      checkStandardised(context, name, data, parts);
      return {
        operator,
        parts,
        within: data.within ?? [],
        minGroup: data.min_group ?? SMALLEST_GROUP,
        needs: needsOf(context, name, data, parts),
      };
    default:
      return { operator, parts: [parts[0], parts[1]] };
  }
}

function needsOf({ report }: Context, name: string, data: DerivedData, parts: readonly Measure[]): number {
  if (data.needs === undefined || data.needs === 'all') return parts.length;
  if (data.needs > parts.length) {
    report.add(['derived', name, 'needs'], `${name}.needs ${data.needs} is more than its ${parts.length} parts`);
  }
  return data.needs;
}

function totalSide({ report }: Context, name: string, data: DerivedData, parts: readonly Measure[]) {
  const sided = parts.filter((part) => part.sides === 'each');
  const side = data.side ?? 'worse';
  if (data.side === undefined && sided.length > 0) {
    report.add(
      ['derived', name],
      `${name} has no side, and ${sided[0].name} has two`,
      'Add side: worse, better, mean or both.',
      'key',
    );
  }
  const open = sided.find((part) => part.better === 'between');
  if (open && (data.side === 'worse' || data.side === 'better')) {
    report.add(
      ['derived', name, 'side'],
      `${name}.side "${data.side}" does not go with ${open.name}, where neither higher nor lower is better`,
      'Write side: mean or both.',
    );
  }
  return side;
}

function checkStandardised({ report }: Context, name: string, data: DerivedData, parts: readonly Measure[]): void {
  if (data.within === undefined) {
    report.add(
      ['derived', name],
      `${name} has no within`,
      'Add within: [sex], or within: [] to compare with everybody.',
      'key',
    );
  }
  for (const [at, part] of parts.entries()) {
    if (part.better !== 'between') continue;
    report.add(
      ['derived', name, 'z_mean', at],
      `${name}.z_mean takes ${part.name}, where neither higher nor lower is better`,
      'Take it out of the list.',
    );
  }
}

/** Checks what a z_mean is taken within, once all dominance columns are known. */
export function checkWithin(context: Context, measure: Measure, dominanceColumns: readonly string[]): void {
  const { derivation } = measure;
  if (derivation?.operator !== 'z_mean') return;
  const known = new Map(['sex', 'team', ...dominanceColumns].map((column) => [column, column]));
  for (const [at, column] of derivation.within.entries()) {
    const path = ['derived', measure.name, 'within', at];
    named(context, path, column, known, 'column');
  }
}
