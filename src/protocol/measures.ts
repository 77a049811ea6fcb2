import { type Context, labelOf } from './context.ts';
import { checkJudged, checkRange, errorOf, errorsOf } from './judged.ts';
import { pathText } from './places.ts';
import type { MeasureData } from './schema.ts';
import type { Compare, Measure } from './types.ts';
import { ucumCode, unitAt } from './written_units.ts';

/** Counts and scores are not compared in percent. */
function compareOf(data: MeasureData): Compare {
  return data.compare ?? (data.levels ? 'gap' : 'percent');
}

/** A measure with its defaults, or undefined if its unit cannot be read. */
export function buildMeasure(context: Context, name: string, data: MeasureData, index: number): Measure | undefined {
  const { report } = context;
  const path = ['measures', name];
  const unit = unitAt(report, [...path, 'unit'], String(data.unit));
  if (unit === undefined) return undefined;
  const writtenIn = data.written_in === undefined ? undefined : ucumCode(data.written_in, unit);
  if (data.written_in !== undefined) unitAt(report, [...path, 'written_in'], data.written_in, unit);
  const better = data.better ?? 'higher';
  const { keep, expect = 1, spread_pct: spreadPct } = data.trials ?? {};
  const measure: Measure = {
    name,
    index,
    label: labelOf(name, data.label),
    unit,
    writtenIn,
    sides: data.sides,
    dominance: data.dominance,
    better,
    compare: compareOf(data),
    trials: { keep: keep ?? (better === 'between' ? 'mean' : 'best'), expect, spreadPct },
    plausible: data.plausible,
    plausibleBoth: data.plausible_both,
    error: data.error && errorOf(data.error),
    errors: errorsOf(data),
    levels: data.levels,
    headings: data.headings ?? [],
  };
  checkJudged(context, path, data, measure);
  checkOwn(context, data, measure);
  return measure;
}

function checkOwn(context: Context, data: MeasureData, measure: Measure): void {
  const { report } = context;
  const path = ['measures', measure.name];
  checkRange(context, [...path, 'plausible_both'], data.plausible_both);
  if (data.plausible_both && data.sides === 'none') {
    report.add(
      [...path, 'plausible_both'],
      `${measure.name}.plausible_both is for the two limbs at once, and ${measure.name} has no sides`,
      'Take it out.',
      'key',
    );
  }
  if (measure.better === 'between' && data.trials?.keep === 'best') {
    report.add(
      [...path, 'trials', 'keep'],
      `${measure.name}.trials.keep "best" does not go with better: between, where no attempt is the best`,
      'Write keep: mean, median, first or last.',
    );
  }
  if (data.levels && data.compare === 'percent') {
    report.add(
      [...path, 'compare'],
      `${measure.name}.compare "percent" does not go with levels: scores are never percent`,
      'Write compare: gap or compare: none.',
    );
  }
  const falling = data.levels?.findIndex((level, at) => at > 0 && level <= data.levels![at - 1]) ?? -1;
  if (falling > 0) {
    const at = [...path, 'levels', falling];
    report.add(at, `${pathText(at)} are not ascending: ${data.levels![falling]} follows ${data.levels![falling - 1]}`);
  }
}
