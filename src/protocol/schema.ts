import * as z from 'zod';
import { GRADES } from '../tables/schemas.ts';
import { OPERATORS } from './operators.ts';
import { FIELDS, URGENCIES } from './types.ts';

const name = z.string().regex(/^[a-z][a-z0-9_]*$/);
const text = z.string().min(1);
const count = z.int().min(1);
const grade = z.enum(GRADES);
const label = text.optional().describe('the name as people read it; without it the name with spaces for _');
const source = text
  .optional()
  .describe('where it comes from: journal year;volume:pages, common practice, or from memory')
  .meta({ examples: ['common practice', 'from memory'] });
/** A bare 1 is a unit too, and YAML reads it as a number. */
const unit = z.union([text, z.literal(1)]);
const range = z.tuple([z.number(), z.number()]);

/** For editors alone: the loader tells it in its own words. */
const exactlyOne = (keys: readonly string[]) => keys.map((key) => ({ required: [key] }));

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
  .describe('measurement error: exactly one of sem, sem_pct, mdc, mdc_pct')
  .meta({ oneOf: exactlyOne(['sem', 'sem_pct', 'mdc', 'mdc_pct']) });

const judged = {
  label,
  better: z
    .enum(['higher', 'lower', 'between'])
    .optional()
    .describe('which readings are the better ones; between: neither high nor low is. Without it higher'),
  compare: z
    .enum(['percent', 'gap', 'none'])
    .optional()
    .describe('how sides are compared: in percent, by their gap in the unit, or not at all; without it percent'),
  dominance: text
    .optional()
    .describe('roster column that says left, right, both or nothing')
    .meta({ examples: ['kicking_foot', 'throwing_hand'] }),
  plausible: range
    .optional()
    .describe('lowest and highest reading, in the unit, inclusive')
    .meta({ examples: [[10, 1000]] }),
  error: error.optional(),
  errors: z
    .partialRecord(z.enum(ERROR_FIELDS), error)
    .optional()
    .describe('measurement errors of single fields, where they are known better than from error'),
};

const measure = z.strictObject({
  ...judged,
  unit: unit
    .describe('the UCUM code that results are kept in, for example N, cm, deg or mm[Hg]')
    .meta({ examples: ['N', 'kgf', 'cm', 'kg', 'deg', 'mm[Hg]', '/min', '1'] }),
  written_in: text.optional().describe('UCUM code of readings whose unit nothing else tells'),
  sides: z.enum(['each', 'none']).describe('each for left and right, none for a measure without sides'),
  trials: z
    .strictObject({
      keep: z
        .enum(['best', 'mean', 'median', 'first', 'last'])
        .optional()
        .describe('which attempt is the result; without it best, or mean with better: between'),
      expect: count.optional().describe('how many attempts a station takes; without it 1'),
      spread_pct: z
        .number()
        .positive()
        .optional()
        .describe('attempts further apart than this, in percent, are marked wide_spread'),
    })
    .optional()
    .describe('attempts at the measure'),
  plausible_both: range.optional().describe('the same for the two limbs at once'),
  levels: z.array(z.number()).min(2).optional().describe('what a score can be, ascending'),
  headings: z.array(text).optional().describe('column headings that mean this measure'),
});

const pair = z.array(name).min(2).max(2);
const several = z.array(name).min(2);

const derived = z
  .strictObject({
    ...judged,
    unit: unit.optional().describe('UCUM code to keep results in; without it the one that follows from the parts'),
    ratio: pair.optional().describe('the first by the second, both of one dimension'),
    difference: pair.optional().describe('the first less the second'),
    per: pair.optional().describe('the first by the second, in the unit of one per the other'),
    percent_of: pair.optional().describe('the first in percent of the second'),
    sum: several.optional().describe('the parts added up'),
    mean: several.optional().describe('the mean of the parts'),
    as_percent_of: name.optional().describe('with mean only'),
    total: z.array(name).min(1).optional().describe('the parts added up over both sides, as side says'),
    z_mean: several
      .optional()
      .describe('the mean of the parts, each as standard deviations from the mean of the group'),
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
  })
  .meta({ oneOf: exactlyOne(OPERATORS) });

const rule = z
  .strictObject({
    measure: name.describe('a measure or derived measure'),
    field: z
      .enum(FIELDS)
      .optional()
      .describe('which number of the result is judged; without it value, each side in turn. Percents are 0 to 100'),
    below: z.number().optional().describe('broken by a number less than this'),
    at_most: z.number().optional().describe('broken by this number or less'),
    above: z.number().optional().describe('broken by a number greater than this'),
    at_least: z.number().optional().describe('broken by this number or more'),
    status: z
      .enum(['pain', 'unable'])
      .optional()
      .describe('broken by an attempt with this status, in place of a limit'),
    of: z
      .enum(['kept', 'any_trial'])
      .default('kept')
      .describe('kept: the result; any_trial: the worst single attempt of the occasion'),
    grade: grade.describe('watch, act or refer'),
    also: z.array(name).default([]).describe('only where these rules are broken too'),
    sex: text.optional().describe('for athletes of this sex only, as the roster keeps it: F, M or as written there'),
    teams: z.array(text).optional().describe('for athletes of these teams only'),
    sport_groups: z.array(name).optional().describe('for athletes of these sport groups only'),
    history: z
      .strictObject({
        region: text.describe('region of the body, as history.csv writes it'),
        side: z
          .enum(['same', 'any'])
          .default('same')
          .describe('same: the earlier injury was on the side that is judged, or nobody wrote the side down'),
        within_days: count.optional().describe('how many days back it may lie'),
      })
      .optional()
      .describe('for athletes with an earlier injury only, of injuries.csv or history.csv'),
    from: z.enum(['last', 'best', 'before_injury']).optional().describe('with field: change'),
    within: z.array(text).optional().describe('with field: z'),
    share: z
      .union([z.boolean(), z.enum(['yes', 'no'])])
      .optional()
      .describe('may the whole group be given the programme'),
    urgency: z
      .enum(URGENCIES)
      .optional()
      .describe('with grade refer: now, before_training or routine; without it vital signs and pain before training'),
    region: text.optional().describe('region of the body that the rule is about, as injuries.csv writes it'),
    programme: name.optional().describe('what is done about it: a name under programmes'),
    source,
    strength: text.optional().describe('how far the source carries, for example: one cohort, 8 injured of 47'),
  })
  .meta({ oneOf: exactlyOne(['below', 'at_most', 'above', 'at_least', 'status']) });

/** protocol.yaml as people write it. */
export const protocolSchema = z.strictObject({
  bilat: z.literal(1).describe('1, the version of this format'),
  name: text.default('Protocol').describe('what reports call this protocol'),
  measures: z.record(name, measure).describe('what is tested, one entry a measure'),
  derived: z.record(name, derived).default({}).describe('what is worked out; one operator each'),
  compounds: z
    .record(
      name,
      z.strictObject({
        headings: z.array(text).min(1).describe('a list of column headings'),
        parts: several.describe('the measures in one cell, in order'),
        between: text.default('/').describe('what stands between the parts'),
      }),
    )
    .default({})
    .describe('several measures in one cell'),
  rules: z.record(name, rule).default({}).describe('limits on results, one entry a limit'),
  sport_groups: z
    .record(
      name,
      z.strictObject({
        label,
        teams: z.array(text).min(1).describe('a list of teams'),
        measures: z.array(name).min(1).describe('a list of measures'),
      }),
    )
    .default({})
    .describe('teams with a common pattern of injury, and the measures that they are given'),
  everyone: z.array(name).default([]).describe('measures that all athletes are given'),
  programmes: z
    .record(
      name,
      z.strictObject({
        label,
        owner: z.enum(['strength', 'medical']).describe('strength or medical, the staff who lead it'),
        shared: text.optional().describe('what a whole group does'),
        individual: text.optional().describe('what one athlete does'),
        retest_days: count.optional().describe('days until the measure is taken again'),
        source,
      }),
    )
    .default({})
    .describe('what is done about findings'),
  statuses: z
    .strictObject({
      pain: grade.default('refer').describe('grade of pain at any attempt'),
      unable: grade.default('act').describe('grade of an attempt that the athlete could not make'),
      one_side: grade.default('watch').describe('grade of a measure that was taken on one side only'),
    })
    .default({ pain: 'refer', unable: 'act', one_side: 'watch' })
    .describe('grades of the findings that need no rule'),
  sharing: z
    .strictObject({
      from_share: z.number().min(0).max(1).default(0.33).describe('flagged by tested, 0 to 1, from which it is shared'),
      min_tested: count.default(5).describe('fewest athletes tested'),
      at_most_programmes: count.default(2).describe('most programmes that one group shares'),
    })
    .default({ from_share: 0.33, min_tested: 5, at_most_programmes: 2 })
    .describe('when a whole group is given a programme'),
});

export type ProtocolData = z.infer<typeof protocolSchema>;
export type MeasureData = z.infer<typeof measure>;
export type DerivedData = z.infer<typeof derived>;
export type RuleData = z.infer<typeof rule>;
export type ErrorData = z.infer<typeof error>;
