import { type Context, labelOf, named } from './context.ts';
import type { ProtocolData } from './schema.ts';
import type { Compound, Measure, Programme, SportGroup } from './types.ts';

type Measures = ReadonlyMap<string, Measure>;

/** Sport groups by name; teams are free text, measures must exist. */
export function buildSportGroups(
  context: Context,
  data: ProtocolData['sport_groups'],
  measures: Measures,
): Map<string, SportGroup> {
  const groups = new Map<string, SportGroup>();
  for (const [name, { label, teams, measures: names }] of Object.entries(data)) {
    for (const [at, measure] of names.entries()) {
      named(context, ['sport_groups', name, 'measures', at], measure, measures, 'measure');
    }
    groups.set(name, { name, label: labelOf(name, label), teams, measures: names });
  }
  return groups;
}

export function checkEveryone(context: Context, names: readonly string[], measures: Measures): void {
  for (const [at, name] of names.entries()) named(context, ['everyone', at], name, measures, 'measure');
}

export function buildProgrammes(data: ProtocolData['programmes']): Map<string, Programme> {
  return new Map(
    Object.entries(data).map(([name, { label, owner, shared, individual, retest_days: retestDays, source }]) => [
      name,
      { name, label: labelOf(name, label), owner, shared, individual, retestDays, source },
    ]),
  );
}

/** Compounds: cells that hold several measures. Their parts are measured, not worked out. */
export function buildCompounds(context: Context, data: ProtocolData['compounds'], measures: Measures): Compound[] {
  const { report, broken } = context;
  const measured = new Map([...measures].filter(([, measure]) => !measure.derivation));
  return Object.entries(data).map(([name, { headings, parts, between }]) => {
    if (measures.has(name) || broken.has(name)) {
      report.add(['compounds', name], `${name} is the name of a measure already`, 'Choose another name.', 'key');
    }
    const found = parts.map((part, at) => {
      const place = ['compounds', name, 'parts', at];
      if (parts.indexOf(part) < at) report.add(place, `${name}.parts names ${part} twice`, 'Take one out.');
      if (measures.get(part)?.derivation) {
        report.add(place, `${name}.parts names ${part}, which is worked out, so no cell holds it`, 'Take it out.');
        return undefined;
      }
      return named(context, place, part, measured, 'measure');
    });
    return { name, headings, parts: found.filter((part) => part !== undefined), between };
  });
}
