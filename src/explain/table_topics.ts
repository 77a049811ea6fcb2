import type { Protocol } from '../protocol/types.ts';
import {
  ATHLETES,
  COHORT,
  COVERAGE,
  FINDINGS,
  IGNORED,
  LEDGER,
  OBSERVATIONS,
  PLAN,
  RECHECK,
  REJECTS,
  RESULTS,
} from '../tables/schemas.ts';
import type { Schema } from '../tables/table.ts';
import type { Topic } from './topic.ts';
import { capital, listed, sentence, sentences } from './words.ts';
import { TABLE_WORDS } from './words_tables.ts';

/** Tables that this version makes, by name. */
const SCHEMAS: ReadonlyMap<string, Schema> = new Map<string, Schema>([
  ['observations', OBSERVATIONS],
  ['athletes', ATHLETES],
  ['rejects', REJECTS],
  ['ignored', IGNORED],
  ['ledger', LEDGER],
  ['results', RESULTS],
  ['findings', FINDINGS],
  ['recheck', RECHECK],
  ['cohort', COHORT],
  ['plan', PLAN],
  ['coverage', COVERAGE],
]);

const shown = (schema: Schema): Schema => schema.filter((column) => !column.internal);

/** Topics of all tables, those of later versions too. */
export function tableTopics(): readonly Topic[] {
  return Object.entries(TABLE_WORDS).map(([name, { title, row, caution, from }]) => {
    const schema = SCHEMAS.get(name);
    const columns = schema && shown(schema).map((column) => column.name);
    return {
      name,
      kind: 'table',
      title,
      definition: sentences(row, columns && `Columns: ${listed(columns)}.`),
      caution,
      where: sentences(from, columns && `As out/${name}.csv in the screening folder.`),
      later: columns === undefined,
      also: [`${name}.csv`],
    };
  });
}

/** Topics of the columns of all tables of this version: each name once, with its meaning in each table. */
export function columnTopics(): readonly Topic[] {
  const meanings = new Map<string, Map<string, string[]>>();
  for (const [table, schema] of SCHEMAS) {
    for (const { name, title } of shown(schema)) {
      const byTitle = meanings.get(name) ?? new Map<string, string[]>();
      byTitle.set(title, [...(byTitle.get(title) ?? []), table]);
      meanings.set(name, byTitle);
    }
  }
  return [...meanings].map(([name, byTitle]) => {
    const tables = [...byTitle.values()].flat();
    const [[first]] = byTitle;
    return {
      name,
      kind: 'column',
      title: capital(first),
      definition: [...byTitle].map(([title, where]) => sentence(`In ${listed(where)}: ${title}`)).join(' '),
      where: `Column of ${listed(tables)}.`,
      see: tables,
    };
  });
}

/** Topics of the roster columns that say the dominant side of an athlete. */
export function dominanceTopics({ dominanceColumns, measures }: Protocol): readonly Topic[] {
  return dominanceColumns.map((name) => {
    const labels = measures.filter((measure) => measure.dominance === name && !measure.derivation);
    const known = listed(labels.map((measure) => measure.name));
    return {
      name,
      kind: 'column',
      title: 'Dominant side of an athlete',
      definition: `Says which side is dominant: left, right, both, or nothing where it is not known.${known ? ` It is asked for ${known}.` : ''}`,
      caution:
        'Where it is empty or both, dominance_pct and dominance_gap are empty (no_dominant_side), and cells under D and ND cannot be read.',
      where: 'Column of the roster, and of athletes.',
      see: ['dominance_pct', 'dominance_gap', 'no_dominant_side'],
    };
  });
}
