import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, test } from 'vitest';
import { BUILT_IN_STATUSES } from '../src/findings/check.ts';
import { REJECTS } from '../src/problems/rejects.ts';
import { FIELDS } from '../src/protocol/types.ts';
import { PURPOSES, ROLES } from '../src/sheets/entry.ts';
import {
  ATHLETES,
  CERTAINTIES,
  COHORT,
  COVERAGE,
  COVERAGE_STATES,
  DECISIONS,
  FINDINGS,
  GRADES,
  GROUP_KINDS,
  IGNORED,
  LEDGER,
  OBSERVATIONS,
  PLAN,
  RECHECK,
  RECHECK_KINDS,
  REJECTS as REJECT_COLUMNS,
  RESULT_STATUSES,
  RESULTS,
} from '../src/tables/schemas.ts';
import type { Schema } from '../src/tables/table.ts';
import { SIDES } from '../src/units/sides.ts';
import { OBSERVATION_STATUSES } from '../src/units/statuses.ts';
import { bilat, read, tempFolder } from './cases/bilat.ts';
import { SMALL } from './cases/small.ts';

/** Columns of the tables, in their order. Other people's scripts are written against these. */
const TABLES = {
  observations:
    'athlete_id,team,season,date,measure,side,trial,value,unit,status,tester,device,station,purpose,raw,file,line,column,written_in,unit_from',
  athletes: 'athlete_id,season,team,sex,birth_date,entry_year,from',
  rejects: 'file,line,column,heading,raw,code,message,suggestion,cells',
  ignored: 'file,line,column,heading,cells,reason',
  ledger: 'file,cells,measured,not_measured,context,ignored,rejected',
  results:
    'athlete_id,team,season,date,measure,unit,left,right,both,value,weaker,deficit_pct,gap,difference,direction_pct,dominance_pct,dominance_gap,symmetry_angle,bilateral_index_pct,trials_left,trials_right,spread_left_pct,spread_right_pct,status',
  findings:
    'athlete_id,team,season,date,sport_group,rule,measure,side,field,value,limit,margin,error,error_basis,certainty,grade,previous_injury,programme,owner,message',
  recheck: 'athlete_id,team,season,date,measure,side,trial,value,unit,kind,score,low,high,suggestion,file,line,column',
  cohort:
    'season,group_kind,group,rule,eligible,tested,flagged,flagged_partial,pain,unable,missing,share,share_low,share_high,worse_left,worse_right,others_tested,others_flagged,ratio,ratio_low,ratio_high,decision',
  plan: 'priority,scope,group,athlete_id,team,programme,owner,side,rules,grade,reason,instruction,start,retest_by',
  coverage: 'athlete_id,team,season,measure,state,station,retest_by',
} as const;
type TableName = keyof typeof TABLES;

const SCHEMAS: Readonly<Record<TableName, Schema>> = {
  observations: OBSERVATIONS,
  athletes: ATHLETES,
  rejects: REJECT_COLUMNS,
  ignored: IGNORED,
  ledger: LEDGER,
  results: RESULTS,
  findings: FINDINGS,
  recheck: RECHECK,
  cohort: COHORT,
  plan: PLAN,
  coverage: COVERAGE,
};

const WORDS: Readonly<Record<string, readonly [readonly string[], string]>> = {
  sides: [SIDES, 'left right both none'],
  'roles of a column': [
    ROLES,
    'athlete_id name first_name last_name team sex date test side trial value unit status tester device ignore',
  ],
  purposes: [PURPOSES, 'test makeup retest return'],
  'observation statuses': [OBSERVATION_STATUSES, 'measured pain unable refused not_tested held not_applicable void'],
  'result statuses, in the order in which they are joined': [
    RESULT_STATUSES,
    `missing_left missing_right missing_part few_trials unequal_trials wide_spread pain_left pain_right pain unable
     refused held not_tested no_dominant_side not_positive partial_total small_group repeated_row later_days`,
  ],
  'fields a rule can judge': [
    FIELDS,
    'value worse deficit_pct gap difference direction_pct dominance_pct dominance_gap z change status',
  ],
  'built-in findings': [BUILT_IN_STATUSES, 'pain unable one_side'],
  certainties: [CERTAINTIES, 'clear within_error error_unknown not_applicable'],
  'grades, the mildest first': [GRADES, 'watch act refer'],
  'kinds of groups': [GROUP_KINDS, 'all team sport_group sex'],
  'decisions on a group': [DECISIONS, 'shared individual too_few'],
  'states of coverage': [COVERAGE_STATES, 'done partial pain unable refused held not_tested missing retest_due'],
  'kinds of the recheck list': [
    RECHECK_KINDS,
    `implausible unit_slip column_unit_slip sides_identical columns_swapped sides_swapped trial_apart repeated_row
     digit_slip run_of_fill outlier`,
  ],
  'reject codes': [
    Object.keys(REJECTS),
    `file_unreadable file_empty file_not_text encoding_invalid delimiter_unknown quote_unclosed header_missing
     heading_unknown heading_ambiguous heading_duplicate row_too_long athlete_missing athlete_unknown athlete_ambiguous
     date_missing date_invalid date_ambiguous test_unknown side_missing side_unknown side_needs_roster trial_invalid
     status_unknown unit_unknown unit_mismatch number_unreadable number_ambiguous number_censored number_approximate
     spreadsheet_error pair_incomplete height_ambiguous height_as_date implausible`,
  ],
};

test.each(Object.entries(WORDS))('%s', (_, [found, expected]) => {
  expect(found).toEqual(expected.split(/\s+/));
});

test('the commands that there are stand in the help under their names', () => {
  const { stdout } = bilat(['--help']);
  const listed = [...stdout.slice(stdout.indexOf('\nCommands:\n')).matchAll(/^ {2}([a-z]+) /gm)].map(
    ([, name]) => name,
  );
  expect(listed).toEqual(
    'new forms check run scan ingest outliers coverage derive flag cohort plan explain help'.split(' '),
  );
});

describe.each(Object.entries(TABLES) as [TableName, string][])('%s', (name, header) => {
  let folder: string;
  beforeAll(() => {
    folder = tempFolder(SMALL);
    expect(bilat(['run'], { cwd: folder })).toMatchObject({ code: 0 });
  });

  test('has the columns of the contract, in memory and on the disk', () => {
    const columns = SCHEMAS[name].filter((column) => !column.internal).map((column) => column.name);
    expect(columns).toEqual(header.split(','));
    expect(read(folder, `out/${name}.csv`).split('\n')[0]).toBe(header);
  });

  test('is UTF-8 without a mark, with \\n at the end of each line', () => {
    const bytes = readFileSync(`${folder}/out/${name}.csv`);
    expect(bytes.at(-1)).toBe(0x0a);
    expect(bytes.includes(0x0d)).toBe(false);
    expect(bytes[0]).toBe(header.charCodeAt(0));
  });

  test('comes with CSVW metadata that tell what it is made of, and no clock', () => {
    const metadata = JSON.parse(read(folder, `out/${name}-metadata.json`));
    expect(Object.keys(metadata)).toEqual([
      '@context',
      'url',
      'dialect',
      'null',
      'tableSchema',
      'bilat:version',
      'bilat:command',
      'bilat:inputs',
      'bilat:sha256',
      'bilat:rows',
    ]);
    expect(metadata).toMatchObject({
      '@context': 'http://www.w3.org/ns/csvw',
      url: `${name}.csv`,
      'bilat:command': 'bilat run',
      'bilat:inputs': [{ path: 'protocol.yaml' }, { path: 'sheets/a.csv' }],
      'bilat:rows': read(folder, `out/${name}.csv`).split('\n').length - 2,
    });
    const { columns } = metadata.tableSchema;
    expect(columns.map((column: { titles: string }) => column.titles)).toEqual(header.split(','));
  });
});

test('the dominance columns of the protocol follow those of athletes', () => {
  const protocol = SMALL['protocol.yaml'].replace('sides: each,', 'sides: each, dominance: throwing_hand,');
  const roster = 'athlete_id,throwing_hand\nA1,left\nA2,both\nA3,\n';
  const folder = tempFolder({ ...SMALL, 'protocol.yaml': protocol, 'roster.csv': roster });
  expect(bilat(['run'], { cwd: folder })).toMatchObject({ code: 0 });
  expect(read(folder, 'out/athletes.csv').split('\n')[0]).toBe(`${TABLES.athletes},throwing_hand`);
});
