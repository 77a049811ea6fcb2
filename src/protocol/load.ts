import { Failure } from '../problems/failure.ts';
import type { Context } from './context.ts';
import { contractKey } from './contract_key.ts';
import { checkWithin } from './derivation.ts';
import { buildDerived } from './derived.ts';
import { buildCompounds, buildProgrammes, buildSportGroups, checkEveryone } from './groups.ts';
import { buildMeasure } from './measures.ts';
import { checkCycles } from './rule_cycles.ts';
import { buildRule, type RuleWorld } from './rules.ts';
import { type ProtocolData, protocolSchema } from './schema.ts';
import { shaped } from './shape.ts';
import type { Measure, Protocol, Rule } from './types.ts';
import { readYaml, type YamlFile } from './yaml.ts';

const FORMAT = 1;

const SECTIONS: ReadonlySet<string> = new Set([
  'measures',
  'derived',
  'compounds',
  'rules',
  'sport_groups',
  'everyone',
  'programmes',
  'statuses',
  'sharing',
]);

/**
 * Loads and checks a protocol (design, section 3), with every default filled in.
 * @param text the YAML text
 * @param file its name, for messages
 * @throws Failure 2 with all troubles found, each with line and column
 */
export function loadProtocol(text: string, file: string): Protocol {
  const yaml = readYaml(text, file, contractKey);
  checkFormat(yaml);
  const { data, broken } = shaped(protocolSchema, yaml, SECTIONS);
  const context: Context = { report: yaml.report, broken };
  const byName = buildMeasures(context, data);
  const measures = [...byName.values()];
  const dominanceColumns = [...new Set(measures.flatMap((measure) => measure.dominance ?? []))];
  for (const measure of measures) checkWithin(context, measure, dominanceColumns);
  const programmes = buildProgrammes(data.programmes);
  const sportGroups = buildSportGroups(context, data.sport_groups, byName);
  checkEveryone(context, data.everyone, byName);
  const compounds = buildCompounds(context, data.compounds, byName);
  const rules = buildRules(context, {
    measures: byName,
    programmes,
    sportGroups,
    rules: new Map(Object.entries(data.rules)),
  });
  if (yaml.report.troubles.length > 0) throw new Failure(2, yaml.report.troubles);
  const { from_share: fromShare, min_tested: minTested, at_most_programmes: atMostProgrammes } = data.sharing;
  return {
    file,
    name: data.name,
    measures,
    byName,
    compounds,
    rules,
    sportGroups: [...sportGroups.values()],
    everyone: data.everyone,
    programmes,
    statuses: data.statuses,
    sharing: { fromShare, minTested, atMostProgrammes },
    dominanceColumns,
  };
}

function checkFormat({ value, report }: YamlFile): void {
  const format = (value as { bilat?: unknown } | null)?.bilat;
  if (typeof format !== 'number' || format <= FORMAT) return;
  report.add(
    ['bilat'],
    `the protocol is written for a later version (bilat: ${format}); this one reads bilat: ${FORMAT}`,
    'Update bilat, or write the protocol in the earlier form.',
  );
  throw new Failure(2, report.troubles);
}

function buildMeasures(context: Context, data: ProtocolData): Map<string, Measure> {
  const byName = new Map<string, Measure>();
  for (const [name, entry] of Object.entries(data.measures)) {
    const measure = buildMeasure(context, name, entry, byName.size);
    if (measure) byName.set(name, measure);
    else context.broken.add(name);
  }
  const all = new Set(Object.keys(data.derived));
  for (const [name, entry] of Object.entries(data.derived)) {
    if (byName.has(name)) {
      context.report.add(['derived', name], `${name} is the name of a measure already`, 'Choose another name.', 'key');
      continue;
    }
    const measure = buildDerived(context, name, entry, byName, all);
    if (measure) byName.set(name, measure);
    else context.broken.add(name);
  }
  return byName;
}

function buildRules(context: Context, world: RuleWorld): Rule[] {
  const rules: Rule[] = [];
  for (const [name, entry] of world.rules) {
    const rule = buildRule(context, name, entry, rules.length, world);
    if (rule) rules.push(rule);
  }
  checkCycles(context, world.rules);
  return rules;
}
