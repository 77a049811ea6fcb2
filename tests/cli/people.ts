import { loadProtocol } from '../../src/protocol/load.ts';
import { type RowOf, type Schema, Table } from '../../src/tables/table.ts';

/** A protocol with something for everybody: strength, vital signs, body mass, measures made of them, earlier injuries. */
export const PROTOCOL = loadProtocol(
  `bilat: 1
name: Battery for readers
measures:
  hip: { label: Hip strength, unit: N, sides: each, headings: [hip] }
  height: { label: Standing height, unit: cm, sides: none, better: between, headings: [ht] }
  body_mass: { label: Body mass, unit: kg, sides: none, better: between, headings: [wt, bm] }
  systolic: { label: Systolic pressure, unit: "mm[Hg]", sides: none, better: lower, headings: [sys] }
  diastolic: { label: Diastolic pressure, unit: "mm[Hg]", sides: none, better: lower, headings: [dia] }
  pulse: { label: Resting pulse, unit: /min, sides: none, better: between, headings: [hr, heart rate] }
derived:
  pulse_pressure: { label: Upper minus lower, difference: [systolic, diastolic] }
  upper_to_lower: { label: Upper to lower, ratio: [systolic, diastolic] }
  hip_per_kg: { label: Hip per kilogram, per: [hip, body_mass] }
  size: { label: Size, per: [body_mass, height] }
compounds:
  blood_pressure: { headings: [arm cuff], parts: [systolic, diastolic], between: "/" }
rules:
  hip_deficit: { measure: hip, field: deficit_pct, at_least: 15, grade: act, programme: hip_strength, source: common practice }
  hip_pain: { measure: hip, field: status, status: pain, grade: act, source: common practice }
  hip_light: { measure: hip_per_kg, field: worse, below: 3, grade: act, programme: hip_strength, source: common practice }
  hip_after_injury: { measure: hip, field: worse, below: 80, grade: act, programme: hip_strength, history: { region: groin, side: any }, source: common practice }
  size_large: { measure: size, field: value, above: 0.6, grade: act, programme: hip_strength, source: common practice }
  pulse_high: { measure: pulse, field: value, above: 100, grade: act, programme: easy_runs, source: common practice }
  systolic_high: { measure: systolic, field: value, at_least: 140, grade: refer, programme: seated_again, source: common practice }
  ratio_high: { measure: upper_to_lower, field: value, above: 2, grade: watch, source: common practice }
everyone: [hip, height, body_mass, systolic, diastolic, pulse]
programmes:
  hip_strength: { label: Hip strength, owner: strength, individual: Hip work., source: common practice }
  easy_runs: { label: Easy runs, owner: strength, individual: Easy runs., source: common practice }
  seated_again: { label: "Seated, again", owner: medical, individual: Again., source: common practice }
`,
  'protocol.yaml',
);

type Cells<S extends Schema> = Partial<RowOf<S>>;

/** A table of rows; cells that a row leaves out are empty. */
export function tableWith<S extends Schema>(schema: S, rows: readonly Cells<S>[]): Table<S> {
  const table = new Table(schema);
  for (const row of rows) {
    const cells = row as Readonly<Record<string, string | number | null>>;
    for (const { name } of schema) {
      (table.column(name) as { push(value: string | number | null): void }).push(cells[name] ?? null);
    }
  }
  return table;
}

/** The cells of a table that are not empty, a row an object; internal ones too. */
export function filledCells<S extends Schema>(table: Table<S>): Record<string, unknown>[] {
  return Array.from({ length: table.length }, (_, row) => {
    const cells = table.schema.map(({ name }) => [name, table.column(name).get(row)] as const);
    return Object.fromEntries(cells.filter(([, value]) => value !== null));
  });
}
