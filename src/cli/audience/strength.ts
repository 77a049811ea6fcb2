import type { Protocol } from '../../protocol/types.ts';
import { COHORT, FINDINGS, type Findings, PLAN } from '../../tables/schemas.ts';
import type { Schema, Table } from '../../tables/table.ts';
import { copyOf, keptRows, tableOf } from './edit.ts';
import { isForMedical, measureTest } from './private_measures.ts';
import { countsHiddenFromStrength, historyRules, medicalRules } from './private_rules.ts';
import { medicalWords } from './private_words.ts';
import { strengthPlan } from './strength_plan.ts';

/** Columns that may tell of a vital sign where a row names no measure: what of a sheet could not be read. */
const TELLING_COLUMNS = ['heading', 'raw', 'message', 'suggestion'] as const;

const hasColumn = (table: Table, name: string): boolean => table.schema.some((spec) => spec.name === name);

function textAt(table: Table, column: string, row: number): string {
  return hasColumn(table, column) ? ((table.column(column).get(row) as string | null) ?? '') : '';
}

/**
 * What strength staff see of any table: everything but vital signs, earlier injuries, rules that judge only whoever had
 * one, and what medical staff have to say. Pain stays: whoever loads the athlete must know it.
 */
export function strengthView(protocol: Protocol): <S extends Schema>(table: Table<S>) => Table<S> {
  const isMedicalMeasure = measureTest(protocol, isForMedical);
  const hiddenRules = new Set([...medicalRules(protocol), ...historyRules(protocol)]);
  const hiddenCounts = countsHiddenFromStrength(protocol);
  const planOf = strengthPlan(protocol);
  const speaksOfVitalSigns = medicalWords(protocol);
  const isHidden = (table: Table, row: number): boolean => {
    const measure = textAt(table, 'measure', row);
    const hidden = tableOf(table, COHORT) ? hiddenCounts : hiddenRules;
    if (isMedicalMeasure(measure) || hidden.has(textAt(table, 'rule', row))) return true;
    if (measure !== '' || !hasColumn(table, 'measure')) return false;
    return TELLING_COLUMNS.some((column) => speaksOfVitalSigns(textAt(table, column, row)));
  };
  return <S extends Schema>(table: Table<S>): Table<S> => {
    const plan = tableOf(table, PLAN);
    if (plan) return planOf(plan) as unknown as Table<S>;
    const kept = keptRows(table, (row) => !isHidden(table as unknown as Table, row));
    const findings = tableOf(kept, FINDINGS);
    return findings ? (withoutInjuries(findings) as unknown as Table<S>) : kept;
  };
}

function withoutInjuries(findings: Findings): Findings {
  const everyRow = Array.from({ length: findings.length }, (_, row) => row);
  const copy = copyOf(findings, everyRow);
  copy.columns.previous_injury.codes.fill(-1);
  return copy;
}
