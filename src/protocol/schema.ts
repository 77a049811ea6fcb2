import * as z from 'zod';
import { GRADES } from '../tables/schemas.ts';
import { FIELDS } from './types.ts';

const name = z.string().regex(/^[a-z][a-z0-9_]*$/);
const text = z.string().min(1);
const count = z.int().min(1);
const grade = z.enum(GRADES);
const label = text.optional().describe('the name as people read it; without it the name with spaces for _');
const source = text
  .optional()
  .describe('where it comes from: journal year;volume:pages, common practice, or from memory');
/** A bare 1 is a unit too, and YAML reads it as a number. */
const unit = z.union([text, z.literal(1)]);
const range = z.tuple([z.number(), z.number()]);

const ERROR_FIELDS = [
  'value',
  'worse',
  'deficit_pct',
  'gap',
  'difference',
  'direction_pct',
  'dominance_pct',
  'dominance_gap',
] as const;

const error = z
  .strictObject({
    sem: z.number().positive().optional().describe('standard error of measurement, in the unit'),
    sem_pct: z.number().positive().optional().describe('the same in percent of the reading'),
    mdc: z.number().positive().optional().describe('minimal detectable change, in the unit'),
    mdc_pct: z.number().positive().optional().describe('the same in percent of the reading'),
    level: z.literal([95, 90]).optional().describe('confidence of the minimal detectable change, 95 or 90 percent'),
    basis: z
      .enum(['occasions', 'testers', 'trials'])
      .describe('what was repeated to find it: occasions, testers or trials'),
    n: count.optional().describe('how many athletes it was found on'),
    source,
  })
  .describe('measurement error: exactly one of sem, sem_pct, mdc, mdc_pct');

const judged = {
  label,
  better: z.enum(['higher', 'lower', 'between']).optional(),
  compare: z.enum(['percent', 'gap', 'none']).optional().describe('how sides are compared'),
  dominance: text.optional().describe('roster column that says left, right, both or nothing'),
  plausible: range.optional().describe('lowest and highest reading, in the unit, inclusive'),
  error: error.optional(),
  errors: z.partialRecord(z.enum(ERROR_FIELDS), error).optional(),
};

const measure = z.strictObject({
  ...judged,
  unit: unit.describe('the UCUM code that results are kept in, for example N, cm, deg or mm[Hg]'),
  written_in: text.optional().describe('UCUM code of readings whose unit nothing else tells'),
  sides: z.enum(['each', 'none']).describe('each for left and right, none for a measure without sides'),
  trials: z
    .strictObject({
      keep: z.enum(['best', 'mean', 'median', 'first', 'last']).optional(),
      expect: count.optional(),
      spread_pct: z.number().positive().optional(),
    })
    .optional(),
  plausible_both: range.optional().describe('the same for the two limbs at once'),
  levels: z.array(z.number()).min(2).optional().describe('what a score can be, ascending'),
  headings: z.array(text).optional().describe('column headings that mean this measure'),
});

const pair = z.array(name).min(2).max(2);
const several = z.array(name).min(2);

const derived = z.strictObject({
  ...judged,
  unit: unit.optional(),
  ratio: pair.optional(),
  difference: pair.optional().describe('the first less the second'),
  per: pair.optional(),
  percent_of: pair.optional(),
  sum: several.optional(),
  mean: several.optional(),
  as_percent_of: name.optional().describe('with mean only'),
  total: several.optional(),
  z_mean: several.optional(),
  side: z
    .enum(['worse', 'better', 'mean', 'both'])
    .optional()
    .describe('which side of an each-sided part counts in a total'),
  needs: z
    .union([z.literal('all'), count])
    .optional()
    .describe('how many parts must be there'),
  within: z.array(text).optional().describe('with z_mean: sex, team or a dominance column'),
  min_group: z.int().min(10).optional().describe('with z_mean: the smallest group that is read'),
});

const rule = z.strictObject({
  measure: name.describe('a measure or derived measure'),
  field: z.enum(FIELDS).optional(),
  below: z.number().optional(),
  at_most: z.number().optional(),
  above: z.number().optional(),
  at_least: z.number().optional(),
  status: z.enum(['pain', 'unable']).optional(),
  of: z.enum(['kept', 'any_trial']).default('kept'),
  grade: grade.describe('watch, act or refer'),
  also: z.array(name).default([]).describe('only where these rules are broken too'),
  sex: text.optional(),
  teams: z.array(text).optional(),
  sport_groups: z.array(name).optional(),
  history: z
    .strictObject({ region: text, side: z.enum(['same', 'any']).optional(), within_days: count.optional() })
    .optional(),
  from: z.enum(['last', 'best', 'before_injury']).optional().describe('with field: change'),
  within: z.array(text).optional().describe('with field: z'),
  share: z
    .union([z.boolean(), z.enum(['yes', 'no'])])
    .optional()
    .describe('may the whole group be given the programme'),
  region: text.optional(),
  programme: name.optional(),
  source,
  strength: text.optional().describe('how far the source carries, for example: one cohort, 8 injured of 47'),
});

/** protocol.yaml as people write it. */
export const protocolSchema = z.strictObject({
  bilat: z.literal(1).describe('1, the version of this format'),
  name: text.default('Protocol'),
  measures: z.record(name, measure).describe('what is tested, one entry a measure'),
  derived: z.record(name, derived).default({}).describe('what is worked out; one operator each'),
  compounds: z
    .record(
      name,
      z.strictObject({
        headings: z.array(text).min(1).describe('a list of column headings'),
        parts: several.describe('the measures in one cell, in order'),
        between: text.default('/'),
      }),
    )
    .default({})
    .describe('several measures in one cell'),
  rules: z.record(name, rule).default({}),
  sport_groups: z
    .record(
      name,
      z.strictObject({
        label,
        teams: z.array(text).min(1).describe('a list of teams'),
        measures: z.array(name).min(1).describe('a list of measures'),
      }),
    )
    .default({}),
  everyone: z.array(name).default([]).describe('measures that all athletes are given'),
  programmes: z
    .record(
      name,
      z.strictObject({
        label,
        owner: z.enum(['strength', 'medical']).describe('strength or medical, the staff who lead it'),
        shared: text.optional(),
        individual: text.optional(),
        retest_days: count.optional(),
        source,
      }),
    )
    .default({}),
  statuses: z
    .strictObject({ pain: grade.default('refer'), unable: grade.default('act'), one_side: grade.default('watch') })
    .default({ pain: 'refer', unable: 'act', one_side: 'watch' }),
  sharing: z
    .strictObject({
      from_share: z.number().min(0).max(1).default(0.33),
      min_tested: count.default(5),
      at_most_programmes: count.default(2),
    })
    .default({ from_share: 0.33, min_tested: 5, at_most_programmes: 2 }),
});

export type ProtocolData = z.infer<typeof protocolSchema>;
export type MeasureData = z.infer<typeof measure>;
export type DerivedData = z.infer<typeof derived>;
export type RuleData = z.infer<typeof rule>;
export type ErrorData = z.infer<typeof error>;
