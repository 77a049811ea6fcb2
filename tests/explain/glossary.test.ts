import { describe, expect, it } from 'vitest';
import { foldName } from '../../src/explain/find.ts';
import { GLOSSARY } from '../../src/explain/glossary.ts';
import type { Topic, TopicKind } from '../../src/explain/topic.ts';
import { TABLE_WORDS } from '../../src/explain/words_tables.ts';
import { certaintyOf } from '../../src/findings/certainty.ts';
import { REJECTS } from '../../src/problems/rejects.ts';
import { loadProtocol } from '../../src/protocol/load.ts';
import { protocolSchema } from '../../src/protocol/schema.ts';
import { STARTER_PROTOCOL } from '../../src/protocol/starter.ts';
import { fieldError, foldedNormalShare, semAt } from '../../src/results/errors.ts';
import { bilateralIndexPct, deficitPct, signedPct, symmetryAngle } from '../../src/results/fields.ts';
import { screeningSchema } from '../../src/screening/config_schema.ts';
import { Z90, Z95 } from '../../src/stats/normal.ts';
import { wilson } from '../../src/stats/wilson.ts';
import { readSide } from '../../src/units/sides.ts';
import { OBSERVATION_STATUSES, readStatus } from '../../src/units/statuses.ts';

const find = (kind: TopicKind, name: string): Topic | undefined =>
  GLOSSARY.find((topic) => topic.kind === kind && topic.name === name);
const words = (text: string): string[] => text.trim().split(/[\s,]+/);

/** Typed from design, section 4: tables that this version writes, then those of later versions. */
const TABLES_NOW: Readonly<Record<string, string>> = {
  observations: `athlete_id,team,season,date,measure,side,trial,value,unit,status,tester,device,station,purpose,raw,
    file,line,column,written_in,unit_from`,
  athletes: 'athlete_id,season,team,sex,birth_date,entry_year,from',
  rejects: 'file,line,column,heading,raw,code,message,suggestion,cells',
  ignored: 'file,line,column,heading,cells,reason',
  ledger: 'file,cells,measured,not_measured,context,ignored,rejected',
  results: `athlete_id,team,season,date,measure,unit,left,right,both,value,weaker,deficit_pct,gap,difference,
    direction_pct,dominance_pct,dominance_gap,symmetry_angle,bilateral_index_pct,trials_left,trials_right,
    spread_left_pct,spread_right_pct,status`,
  findings: `athlete_id,team,season,date,sport_group,rule,measure,side,field,value,limit,margin,error,error_basis,
    certainty,grade,previous_injury,programme,owner,message`,
  recheck: `athlete_id,team,season,date,measure,side,trial,value,unit,kind,score,low,high,suggestion,file,line,column`,
  cohort: `season,group_kind,group,rule,eligible,tested,flagged,flagged_partial,pain,unable,missing,share,share_low,
    share_high,worse_left,worse_right,others_tested,others_flagged,ratio,ratio_low,ratio_high,decision`,
  plan: `priority,scope,group,athlete_id,team,programme,owner,side,rules,grade,reason,instruction,start,retest_by`,
  coverage: 'athlete_id,team,season,measure,state,station,retest_by',
};
const TABLES_LATER: Readonly<Record<string, string>> = {
  trend: `group_kind,group,measure,side,field,season,n,mean,mean_low,mean_high,sd,median,flagged,returners,change,
    change_low,change_high,newcomers_effect,leavers_effect`,
  changes: `athlete_id,team,measure,side,field,from_season,from_date,to_season,to_date,before,after,change,error,
    verdict,expected_after,expected_low,expected_high,beyond_expected`,
  agreement: 'measure,side,field,over,season,statistic,estimate,low,high,method,n,k',
  incidence: `season,group_kind,group,region,injuries,exposures,rate,rate_low,rate_high,ratio,ratio_low,ratio_high,
    days_lost,burden`,
  cutoff: 'statistic,estimate,low,high,method,note',
  curve: 'cutoff,comparator,tp,fp,fn,tn,sensitivity,specificity,youden',
};
/** Side files of section 3: those that this version uses, then the one of a later version. */
const FILES_NOW = words(`
  athlete_id,last_name,first_name,also_known_as,team,sex,birth_date,entry_year,season,left_on
  athlete_id,date,region,side,days_lost,type,contact,setting,recurrent,team
  athlete_id,region,side,date,surgery,full_return athlete_id,date,status,region,side,until
  athlete_id,date,rule,seen_on,outcome,closed_on athlete_id,programme,started,planned,done,stopped,reason
  file,line,column,raw,action,value,by,date`);
const FILES_LATER = words('season,team,athlete_exposures,athlete_id,kind');
const columnsOf = (tables: Readonly<Record<string, string>>): string[] => Object.values(tables).flatMap(words);
const NOW = new Set([...columnsOf(TABLES_NOW), ...FILES_NOW]);
const LATER = new Set([...columnsOf(TABLES_LATER), ...FILES_LATER].filter((name) => !NOW.has(name)));

const CLOSED_LISTS: readonly (readonly [TopicKind, string])[] = [
  ['status', 'measured pain unable refused not_tested held not_applicable void'],
  [
    'status',
    `missing_left missing_right missing_part few_trials unequal_trials wide_spread pain_left pain_right pain unable
     refused held not_tested no_dominant_side not_positive partial_total small_group repeated_row later_days`,
  ],
  ['certainty', 'clear within_error error_unknown not_applicable'],
  ['grade', 'watch act refer'],
  ['decision', 'shared individual too_few'],
  ['verdict', 'better worse within_error side_changed changed not_comparable error_unknown'],
  ['coverage state', 'done partial pain unable refused held not_tested missing retest_due'],
  [
    'recheck kind',
    `implausible unit_slip column_unit_slip sides_identical columns_swapped sides_swapped trial_apart repeated_row
     digit_slip run_of_fill outlier`,
  ],
  ['plan scope', 'refer hold repeat shared left_out individual'],
  ['clearance status', 'cleared limited not_cleared pending'],
  ['availability', 'full limited held'],
  ['urgency', 'now before_training routine'],
  ['referral state', 'open closed'],
  ['previous injury', 'same_side other_side side_unknown'],
  ['audience', 'coach strength medical'],
  [
    'statistic',
    `n events tp fp fn tn prevalence sensitivity specificity ppv npv accuracy lr_positive lr_negative odds_ratio
     risk_ratio risk_difference youden fisher_p flagged_per_injury cutpoint auc youden_reduced sensitivity_reduced
     specificity_reduced auc_difference`,
  ],
  ['method', 'wilson exact log delong logit bootstrap benjamini-hochberg'],
  [
    'statistic',
    `icc_1_1 icc_2_1 icc_3_1 icc_1_k icc_2_k icc_3_k sem mdc90 mdc95 cv_pct bias loa_low loa_high kappa kappa_linear
     kappa_quadratic mdc z mad rate burden deficit gap spread`,
  ],
  ['field', 'value worse deficit_pct gap difference direction_pct dominance_pct dominance_gap z change status'],
  ['word', 'all team sex test makeup retest return strength medical value void confirmed'],
  ['word', 'best mean median first last higher lower between percent gap none occasions testers trials'],
  ['word', 'declared derived left right both ratio sum difference per percent_of total z_mean kgf lbf N deg UCUM'],
  ['word', 'below at_most above at_least measure side trial occasion season rule finding battery ledger reject'],
];

describe('every word of the contract is explained', () => {
  it.each([...NOW])('column %s of a table or file of this version', (name) => {
    expect(find('column', name)).toMatchObject({ name });
    expect(find('column', name)!.later).toBeUndefined();
  });

  it.each([...LATER])('column %s of a later version, and says so', (name) => {
    expect(find('column', name)).toMatchObject({ name, later: true });
  });

  it.each(Object.entries(TABLES_NOW))('columns of %s say that they stand in it now', (table, columns) => {
    const wrong = words(columns).filter((name) => {
      const [now] = find('column', name)!.where!.split(/[;,]? ?\blater\b/);
      return !new RegExp(`\\b${table}\\b|^every table of athletes`).test(now);
    });
    expect(wrong).toEqual([]);
  });

  it.each(Object.entries(TABLES_LATER))(
    'columns of %s that stand elsewhere now say that they will',
    (table, columns) => {
      const shared = words(columns).filter((name) => NOW.has(name) && name !== 'athlete_id');
      const wrong = shared.filter((name) => {
        const [, later = ''] = find('column', name)!.where!.split(/\blater\b/);
        return !new RegExp(`\\b${table}\\b`).test(later);
      });
      expect(wrong).toEqual([]);
    },
  );

  it('nothing else than the tables of later versions is called later', () => {
    const tables = new Set([...Object.keys(TABLES_LATER), 'exposures']);
    const wrong = GLOSSARY.flatMap(({ name, where }) => {
      const later = where?.match(/\blater (.*)\.$/)?.[1] ?? '';
      return later === ''
        ? []
        : later
            .split(', ')
            .filter((table) => !tables.has(table))
            .map((table) => `${name}: ${table}`);
    });
    expect(wrong).toEqual([]);
  });

  it.each(CLOSED_LISTS.map(([kind, list]) => [kind, words(list)] as const))('%s: %j', (kind, names) => {
    expect(names.filter((name) => find(kind, name) === undefined)).toEqual([]);
  });

  it('no column beyond those', () => {
    const known = new Set([...NOW, ...LATER]);
    const columns = GLOSSARY.filter(({ kind }) => kind === 'column').map(({ name }) => name);
    expect(columns.filter((name) => !known.has(name))).toEqual([]);
  });

  it('statuses are those of readings and of results, and no more', () => {
    const listed = CLOSED_LISTS.filter(([kind]) => kind === 'status').flatMap(([, list]) => words(list));
    const explained = GLOSSARY.filter(({ kind }) => kind === 'status').map(({ name }) => name);
    expect(new Set(explained)).toEqual(new Set([...listed, ...OBSERVATION_STATUSES]));
  });

  it('every top-level key of protocol.yaml and screening.yaml has a word', () => {
    const keys = [...Object.keys(protocolSchema.shape), ...Object.keys(screeningSchema.shape)];
    expect(keys.length).toBeGreaterThan(25);
    expect(keys.filter((key) => find('word', key) === undefined)).toEqual([]);
  });
});

describe('the texts', () => {
  it('no two topics of one kind have one name, whatever its spaces, hyphens and case', () => {
    const keys = GLOSSARY.map(({ kind, name }) => `${kind}: ${foldName(name)}`);
    expect(keys.filter((key, at) => keys.indexOf(key) !== at)).toEqual([]);
  });

  it('see names only what is explained', () => {
    const { measures, rules } = loadProtocol(STARTER_PROTOCOL, 'protocol.yaml');
    const known = new Set([
      ...GLOSSARY.map(({ name }) => name),
      ...Object.keys(REJECTS),
      ...Object.keys(TABLE_WORDS),
      // Of the starter; where another protocol lacks them, nobody is sent there.
      ...[...measures, ...rules].map(({ name }) => name),
    ]);
    const open = GLOSSARY.flatMap(({ name, see }) =>
      (see ?? []).filter((to) => !known.has(to)).map((to) => `${name} → ${to}`),
    );
    expect(open).toEqual([]);
  });

  it('a definition is one to four sentences that end, on one line', () => {
    const bad = GLOSSARY.filter(({ definition, title, caution, formula }) => {
      const texts = [title, definition, caution ?? 'x.', formula ?? 'x'];
      return (
        !/[.)]$/.test(definition) ||
        !/\.$/.test(caution ?? 'x.') ||
        texts.some((text) => /\s\s|\n|^\s|\s$|^$/.test(text))
      );
    });
    expect(bad.map(({ name }) => name)).toEqual([]);
    expect(GLOSSARY.filter(({ title }) => title.length > 80 || title.endsWith('.'))).toEqual([]);
    expect(GLOSSARY.filter(({ definition }) => definition.split(/[.?!] (?=[A-Z0-9])/).length > 4)).toEqual([]);
  });

  it('words of statuses, certainties, grades and decisions are defined in at least 30 characters', () => {
    const kinds: readonly TopicKind[] = [
      ...(['status', 'certainty', 'grade', 'decision', 'plan scope', 'verdict', 'recheck kind'] as const),
      ...(['clearance status', 'availability', 'urgency', 'referral state', 'previous injury', 'audience'] as const),
    ];
    const short = GLOSSARY.filter(({ kind, definition }) => kinds.includes(kind) && definition.length < 30);
    expect(short.map(({ name }) => name)).toEqual([]);
  });

  it('formulas are plain characters, so that they can be copied', () => {
    const odd = GLOSSARY.filter(({ formula }) => formula !== undefined && !/^[ -~±]+$/.test(formula));
    expect(odd.map(({ name }) => name)).toEqual([]);
  });

  it('a source is a journal with year, volume and page, a standard, or says that there is none', () => {
    const paper =
      '[A-Z][A-Za-z ]+ \\d{4};\\d+(?:\\(\\d+\\))?:\\d+(?:-\\d+)?(?:, doi 10\\.\\S+)?(?: \\(from memory\\))?';
    const standard =
      'NIST SP 811|NIST/SEMATECH e-Handbook 1\\.3\\.5\\.17|common practice|from memory|simulation in R 4\\.2\\.2';
    const one = `(?:${paper}|${standard})`;
    const sources = GLOSSARY.flatMap(({ source }) => (source === undefined ? [] : [source]));
    expect(sources.length).toBeGreaterThan(60);
    expect(sources.filter((source) => !new RegExp(`^${one}(?:; ${one})*\\.$`).test(source))).toEqual([]);
  });

  it('every statistic and method has a source, save counts', () => {
    const kinds: readonly TopicKind[] = ['statistic', 'method'];
    const without = GLOSSARY.filter(({ kind, source }) => kinds.includes(kind) && source === undefined);
    expect(without.map(({ name }) => name)).toEqual(words('n events tp fp fn tn'));
  });

  it('names nobody and promises nothing', () => {
    const all = GLOSSARY.map((topic) => JSON.stringify(topic)).join('\n');
    expect(all).not.toMatch(/et al|colleagues|\b[A-Z]\. ?[A-Z][a-z]+|at risk of injury|traffic|best practice|NaN/);
  });

  it('what says no more than another kind of its name is not there: ICC and LSI lead somewhere', () => {
    const leads = (word: string) => GLOSSARY.filter(({ also }) => also?.includes(word)).map(({ name }) => name);
    expect(leads('ICC')).toEqual(['intraclass correlation']);
    expect(leads('LSI')).toEqual(['limb symmetry index']);
    expect(leads('kg')).toEqual(['kgf']);
    expect(leads('lbs')).toEqual(['lbf']);
    expect(leads('why is this flag within error')).toEqual(['within error']);
  });
});

/** Sum of squares of deviations. */
const squares = (values: readonly number[]): number => {
  const middle = values.reduce((sum, x) => sum + x, 0) / values.length;
  return values.reduce((sum, x) => sum + (x - middle) ** 2, 0);
};
const meanOf = (values: readonly number[]): number => values.reduce((sum, x) => sum + x, 0) / values.length;
/** Minimal detectable change of a standard error of measurement. */
const change = (sem: number, z: number): number => z * Math.SQRT2 * sem;

/** A published two-by-two table: BMJ 1994;308:1552. */
const [TP, FP, FN, TN] = [231, 32, 27, 54] as const;
const SE = TP / (TP + FN);
const SP = TN / (TN + FP);

/** Six people, four judges: Psychol Bull 1979;86:420-428, which prints .17 .29 .71 .44 .62 .91. */
const JUDGED = [
  [9, 2, 5, 8],
  [6, 1, 3, 2],
  [8, 4, 6, 8],
  [7, 1, 2, 6],
  [10, 5, 6, 9],
  [6, 2, 4, 7],
];
const N = JUDGED.length;
const K = 4;
const ROWS = JUDGED.map(meanOf);
const COLUMNS = [0, 1, 2, 3].map((at) => meanOf(JUDGED.map((row) => row[at])));
const MSR = (K * squares(ROWS)) / (N - 1);
const MSC = (N * squares(COLUMNS)) / (K - 1);
const WITHIN = JUDGED.reduce((sum, row) => sum + squares(row), 0);
const MSW = WITHIN / (N * (K - 1));
const MSE = (WITHIN - N * squares(COLUMNS)) / ((N - 1) * (K - 1));

/** Shares of pairs of scores: Psychol Bull 1968;70:213-220, which prints kappa .492. */
const SCORED = [
  [0.44, 0.07, 0.09],
  [0.05, 0.2, 0.05],
  [0.01, 0.03, 0.06],
];
const kappa = (weight: (i: number, j: number) => number): number => {
  let observed = 0;
  let expected = 0;
  for (const [i, row] of SCORED.entries()) {
    for (const [j, share] of row.entries()) {
      const byRow = row.reduce((sum, x) => sum + x, 0);
      const byColumn = SCORED.reduce((sum, other) => sum + other[j], 0);
      observed += weight(i, j) * share;
      expected += weight(i, j) * byRow * byColumn;
    }
  }
  return 1 - observed / expected;
};

/** Eight athletes lifting twice: J Strength Cond Res 2005;19:231-240, which prints a SEM of 7.6. */
const FIRST = [146, 148, 170, 90, 157, 156, 176, 205];
const SECOND = [140, 152, 152, 99, 145, 153, 167, 218];
/** Of two trials √MSE is the SD of the differences over √2. */
const SEM = Math.sqrt(squares(FIRST.map((x, at) => x - SECOND[at])) / (FIRST.length - 1) / 2);

/** p by Benjamini and Hochberg: the smallest of p·m/rank over its own rank and all higher ones. */
const adjusted = (sorted: readonly number[]): number[] =>
  sorted.map((_, rank) =>
    Number(Math.min(1, ...sorted.slice(rank).map((p, at) => (p * sorted.length) / (rank + at + 1))).toPrecision(3)),
  );

const RHO = 1 - 6 ** 2 / 15 ** 2;
const SIDES_25_20 = { left: 25, right: 20, value: 20, semLeft: 1.25, semRight: 1, semValue: Number.NaN };
const PERCENT_MEASURE = { errors: {} } as Parameters<typeof fieldError>[0];

describe('worked numbers in the texts are those of the formulas', () => {
  const declared = { sem: 6, basis: 'occasions' } as const;
  it.each<readonly [TopicKind, string, string]>([
    ['statistic', 'deficit', `25 and 20 give ${deficitPct(25, 20)} %`],
    ['column', 'deficit_pct', `25 and 20 give ${deficitPct(25, 20)} %`],
    ['field', 'deficit_pct', `25 and 20 give ${deficitPct(25, 20)} %`],
    ['column', 'direction_pct', `give ${signedPct(20, 25)} %`],
    ['column', 'dominance_pct', `give ${signedPct(25, 20)} %`],
    ['statistic', 'limb symmetry index', `25 and 20 give ${100 - deficitPct(25, 20)} %`],
    ['statistic', 'symmetry angle', `right 25 give ${symmetryAngle(20, 25).toFixed(2)}`],
    ['statistic', 'symmetry angle', `right 20 give ${symmetryAngle(25, 20).toFixed(2)}`],
    ['column', 'symmetry_angle', `right 25 give ${symmetryAngle(20, 25).toFixed(2)}`],
    ['statistic', 'bilateral index', `give ${bilateralIndexPct(1000, 530, 550).toFixed(2)} %`],
    ['column', 'bilateral_index_pct', `give ${bilateralIndexPct(1000, 530, 550).toFixed(2)} %`],
    ['statistic', 'spread', `give ${((100 * (34 - 32)) / 33).toFixed(2)} %`],
    ['column', 'spread_left_pct', `give ${((100 * (34 - 32)) / 33).toFixed(2)} %`],
    ['statistic', 'sem', `gave ${SEM.toFixed(2)} kg`],
    ['statistic', 'mdc95', `error of 7.56 gives ${change(7.56, Z95).toFixed(2)}`],
    ['statistic', 'mdc90', `error of 7.56 gives ${change(7.56, Z90).toFixed(2)}`],
    ['column', 'error', `6 N gives ${(Z95 * semAt(declared, 200)).toFixed(2)} N for a value`],
    ['column', 'error', `and ${change(6, Z95).toFixed(2)} N for a change`],
    ['word', 'error', `it is ${(Z95 * semAt(declared, 200)).toFixed(2)} N`],
    [
      'word',
      'within error',
      `give or take ${(Z95 * fieldError(PERCENT_MEASURE, 'deficit_pct', SIDES_25_20)!.sem).toFixed(2)} points`,
    ],
    ['statistic', 'z', `gives ${(70 - 60) / 8}`],
    ['column', 'expected_after', `it is ${(200 + RHO * (170 - 200)).toFixed(1)}`],
    ['statistic', 'regression to the mean', `rho ${RHO} and 170 before, ${(200 + RHO * (170 - 200)).toFixed(1)}`],
    [
      'method',
      'benjamini-hochberg',
      `become ${adjusted([0.01, 0.011, 0.5])
        .join(', ')
        .replaceAll('0.', '.')
        .replace(/, (?=[^,]*$)/, ' and ')}`,
    ],
    [
      'method',
      'wilson',
      `${wilson(81, 263)!.low.toFixed(4)} to ${wilson(81, 263)!.high.toFixed(4)}`.replaceAll('0.', '.'),
    ],
    ['method', 'wilson', `0 to ${wilson(0, 20)!.high.toFixed(4)}`.replaceAll('0.', '.')],
    ['statistic', 'n', `${TP + FP + FN + TN}`],
    ['statistic', 'events', `${TP + FN}`],
    ['statistic', 'prevalence', `are ${((TP + FN) / (TP + FP + FN + TN)).toFixed(2)}`],
    ['statistic', 'sensitivity', `${TP} of ${TP + FN} are ${SE.toFixed(3)}`],
    ['statistic', 'specificity', `${TN} of ${TN + FP} are ${SP.toFixed(3)}`],
    ['statistic', 'ppv', `${TP} of ${TP + FP} are ${(TP / (TP + FP)).toFixed(3)}`],
    ['statistic', 'npv', `${TN} of ${TN + FN} are ${(TN / (TN + FN)).toFixed(3)}`],
    ['statistic', 'accuracy', `${TP + TN} of 344 are ${((TP + TN) / 344).toFixed(3)}`],
    ['statistic', 'lr_positive', `give ${(SE / (1 - SP)).toFixed(2)}`],
    ['statistic', 'lr_negative', `give ${((1 - SE) / SP).toFixed(3)}`],
    ['statistic', 'odds_ratio', `give ${((TP * TN) / (FP * FN)).toFixed(2)}`],
    ['statistic', 'risk_ratio', `give ${(TP / (TP + FP) / (FN / (FN + TN))).toFixed(2)}`],
    ['statistic', 'risk_difference', `gives ${(TP / (TP + FP) - FN / (FN + TN)).toFixed(3)}`],
    ['statistic', 'youden', `give ${(SE + SP - 1).toFixed(3)}`],
    ['statistic', 'flagged_per_injury', `are ${((TP + FP) / TP).toFixed(2)}`],
    ['statistic', 'icc_1_1', ((MSR - MSW) / (MSR + (K - 1) * MSW)).toFixed(2)],
    ['statistic', 'icc_2_1', ((MSR - MSE) / (MSR + (K - 1) * MSE + (K * (MSC - MSE)) / N)).toFixed(2)],
    ['statistic', 'icc_3_1', ((MSR - MSE) / (MSR + (K - 1) * MSE)).toFixed(2)],
    ['statistic', 'icc_1_k', ((MSR - MSW) / MSR).toFixed(2)],
    ['statistic', 'icc_2_k', ((MSR - MSE) / (MSR + (MSC - MSE) / N)).toFixed(2)],
    ['statistic', 'icc_3_k', ((MSR - MSE) / MSR).toFixed(2)],
    ['statistic', 'kappa', kappa((i, j) => (i === j ? 0 : 1)).toFixed(3)],
    ['statistic', 'kappa_linear', kappa((i, j) => Math.abs(i - j)).toFixed(3)],
    ['statistic', 'kappa_quadratic', kappa((i, j) => (i - j) ** 2).toFixed(3)],
    ['statistic', 'cv_pct', `give ${(100 * Math.sqrt((2 / 31 ** 2 + 2 / 39 ** 2) / 2)).toFixed(2)} %`],
    ['statistic', 'rate', `are ${((1000 * 2821) / 331678).toFixed(2)}`],
    ['column', 'rate', `are ${((1000 * 2821) / 331678).toFixed(2)} in 1000`],
    ['statistic', 'rate ratio', `give a ratio of ${(0.71 / 3.2).toFixed(2)}`],
    ['statistic', 'burden', `are ${(1000 * 420) / 10000}`],
    ['statistic', 'athlete-exposure', `are ${20 * 5}`],
    ['word', 'ratio', `is ${180 / 225}`],
    ['word', 'per', `is ${210 / 70} N/kg`],
    ['word', 'percent_of', `is ${(100 * 153) / 180} %`],
    ['word', 'z_mean', `give ${((0.6 - 1.4) / 2).toFixed(1)}`],
    ['word', 'kgf', `are ${(20 * 9.80665).toFixed(3)} N`],
    ['word', 'lbf', `are ${(100 * 4.4482216152605).toFixed(3)} N`],
  ])('%s %s: %s', (kind, name, words) => {
    expect(find(kind, name)!.definition).toContain(words);
  });

  it('the published intervals of other sources stand as printed there', () => {
    // Exact binomial of 81 of 263 by Stat Med 1998;17:857-872; exact Poisson of 10 by Biometrika 1936;28:437-442.
    expect(find('method', 'exact')!.definition).toContain('.2527 to .3676');
    expect(find('method', 'exact')!.definition).toContain('4.80 to 18.39');
    // Lancet 1986;1:307-310, 17 pairs: mean -2.1, SD 38.8.
    expect(find('statistic', 'bias')!.definition).toContain('-2.1');
    expect(Number(find('statistic', 'loa_low')!.definition.match(/-[\d.]+\d/)![0])).toBeCloseTo(
      -2.1176 - 1.96 * 38.7651,
      2,
    );
    expect(Number(find('statistic', 'loa_high')!.definition.match(/\d+\.\d+/)![0])).toBeCloseTo(
      -2.1176 + 1.96 * 38.7651,
      2,
    );
    // Radiology 1982;143:29-36.
    expect(find('statistic', 'auc')!.definition).toContain('0.893');
  });

  it('the share of symmetric athletes beyond 10 % rounds to 14 % at 5 % error a side', () => {
    const share = foldedNormalShare(-100 * Math.log1p(-0.1), 5 * Math.SQRT2);
    expect(find('field', 'deficit_pct')!.caution).toContain(`about ${Math.round(100 * share)} %`);
  });

  it('clear and within_error say what certainty is decided by', () => {
    expect(find('certainty', 'clear')!.formula).toBe('margin >= error');
    expect(find('certainty', 'within_error')!.formula).toBe('margin < error');
    expect([certaintyOf(5, 5, false), certaintyOf(4.9, 5, false)]).toEqual(['clear', 'within_error']);
    // unequal trials are never clear, and the text says so
    expect(certaintyOf(9, 5, true)).toBe('within_error');
    expect(find('certainty', 'within_error')!.definition).toContain('one side had more trials');
  });

  it('defaults in the texts are those of the schemas', () => {
    const parsed = protocolSchema.parse({ bilat: 1, measures: {} });
    expect(find('word', 'from_share')!.definition).toContain(String(parsed.sharing.from_share));
    expect(find('word', 'min_tested')!.definition).toContain(`: ${parsed.sharing.min_tested} `);
    expect(find('word', 'at_most_programmes')!.definition).toContain(`: ${parsed.sharing.at_most_programmes} `);
    const { pain, unable, one_side } = parsed.statuses;
    expect(find('word', 'statuses')!.definition).toContain(
      `pain (${pain}), unable (${unable}) and one_side (${one_side})`,
    );
    const screening = screeningSchema.parse({ sheets: ['a.csv'] });
    expect(find('word', 'occasion_days')!.definition).toMatch(new RegExp(`^${screening.occasion_days} unless`));
    expect(find('word', 'season_starts')!.definition).toContain(`"${screening.season_starts}"`);
    expect(find('word', 'unlisted')!.definition).toContain(`${screening.unlisted} (the default)`);
    expect(find('word', 'out')!.definition).toContain(`${screening.out} unless`);
  });
});

describe('words of the sheets', () => {
  const statuses = GLOSSARY.filter(({ kind, also }) => kind === 'status' && also !== undefined);

  it('that lead to a status are read as that status', () => {
    const spelt = statuses.flatMap(({ name, also }) => also!.map((word) => [word, name] as const));
    expect(spelt.length).toBeGreaterThan(15);
    expect(spelt.filter(([word, name]) => readStatus(word) !== name)).toEqual([]);
  });

  it('that name a side are read as that side', () => {
    for (const name of ['left', 'right']) {
      for (const word of find('word', name)!.also!) expect(readSide(word), word).toBe(name);
    }
  });
});

describe('formulas', () => {
  it.each<readonly [TopicKind, string, string]>([
    // Statistics, sections 1, 4, 5 and 6.
    ['method', 'benjamini-hochberg', 'smallest of p(j)*m/j over the ranks j from i to m, at most 1'],
    ['method', 'wilson', '(p + z^2/(2*n) ± z*sqrt(p*(1 - p)/n + z^2/(4*n^2)))/(1 + z^2/n)'],
    ['method', 'exact', 'upper limit: there what was seen or less has'],
    ['statistic', 'sem', 'from testers or occasions sqrt(MSE + max(0, (MSC - MSE)/n))'],
    ['statistic', 'bias', 'mean(first - second)'],
    ['statistic', 'rate ratio', 'interval pi/(1 - pi)*exposures0/exposures1'],
    ['column', 'expected_after', 's*sqrt(2/pi)*exp(-m^2/(2*s^2)) + m*(1 - 2*Phi(-m/s))'],
    ['column', 'share', '100*beyond/tested'],
  ])('%s %s', (kind, name, words) => expect(find(kind, name)!.formula).toContain(words));

  it('the bias of the two flow meters is the first less the second', () => {
    // Lancet 1986;1:307-310: first readings by the large meter, then by the small one.
    const large = [494, 395, 516, 434, 476, 557, 413, 442, 650, 433, 417, 656, 267, 478, 178, 423, 427];
    const small = [512, 430, 520, 428, 500, 600, 364, 380, 658, 445, 432, 626, 260, 477, 259, 350, 451];
    const bias = meanOf(large.map((reading, at) => reading - small[at]));
    expect(find('statistic', 'bias')!.definition).toContain(`it is ${bias.toFixed(1)}:`);
  });
});
