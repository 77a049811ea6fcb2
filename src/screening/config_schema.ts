import * as z from 'zod';
import { PURPOSES, ROLES } from '../sheets/entry.ts';
import { parseIsoDay } from '../units/days.ts';
import { WRITTEN_SIDES } from '../units/sides.ts';
import { isSeasonStart, leavesFolder } from './config_checks.ts';

const text = z.string().min(1);
/** What editors can check of a path: the loader says more. */
const INSIDE = '^(?![/~]|[A-Za-z]:)(?!(.*[/{},()|])?[.][.]([/{},()|]|$))[^\\\\]+$';
const inside = text
  .refine((path) => !path.includes('\\'), { error: 'has a \\ in it', params: { hint: 'Part folders by /.' } })
  .refine((path) => !leavesFolder(path), {
    error: 'leaves the screening folder',
    params: { hint: 'Write the path from the folder on, without .. in it.' },
  })
  .meta({ pattern: INSIDE });

/** @param holds what stands in the file, with the name that it has where nothing is said */
const sideFile = (holds: string) =>
  z
    .union([
      text,
      z.strictObject({
        file: text.describe('path of the file, from the folder on'),
        columns: z.record(text, text).default({}).describe('heading in the file: column that it stands for, or ignore'),
      }),
    ])
    .optional()
    .describe(`${holds}: a file, or {file: …, columns: {heading: column}}`);

const column = z.union([
  z.enum(ROLES),
  z.strictObject({
    measure: text.describe('the measure in this column'),
    side: z.enum(WRITTEN_SIDES).optional().describe('the side that the whole column is of'),
    sides: z
      .enum(['left_right', 'right_left'])
      .optional()
      .describe('both sides stand in each cell, as in 35/40: which comes first'),
    trial: z.int().min(1).optional().describe('which attempt stands in this column, from 1'),
    unit: text.optional().describe('UCUM code'),
    sign: z.literal('reversed').optional().describe('reversed where the sheet writes plus for minus'),
  }),
]);

const entry = z.strictObject({
  files: z
    .union([inside, z.array(inside).min(1)])
    .describe('sheets of this entry, inside the folder; * stands for any part of a name'),
  team: text.optional().describe('team of everybody on these sheets, where the sheet itself does not say'),
  date: text
    .refine((date) => parseIsoDay(date) !== undefined, 'is no date written YYYY-MM-DD')
    .meta({ pattern: '^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$' })
    .optional()
    .describe('day of the test, YYYY-MM-DD, where the sheet itself does not say'),
  season: z.int().min(1900).max(2100).optional().describe('the year in which the season starts'),
  tester: text.optional().describe('who tested, where the sheet itself does not say'),
  device: text.optional().describe('what was tested with, where the sheet itself does not say'),
  station: text.optional().describe('name of the station that hands these sheets in'),
  purpose: z
    .enum(PURPOSES)
    .default('test')
    .describe(
      'test; makeup: joins the test that was missed; retest: a test anew; return: a test on the way back from an injury',
    ),
  dates: z
    .enum(['dmy', 'mdy', 'ymd'])
    .optional()
    .describe('order of day, month and year, where the dates of the sheet could be read two ways'),
  decimal: z.enum([',', '.']).optional().describe('decimal mark, where the numbers could be read two ways'),
  delimiter: z.enum([',', ';', '\t']).optional().describe('what parts the cells of a line'),
  encoding: z
    .enum(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252'])
    .optional()
    .describe('how letters are stored, where it cannot be told from the file'),
  layout: z.enum(['down', 'across']).optional().describe('athletes down the lines, or across the columns'),
  from_name: text
    .optional()
    .describe(
      'what the file name says, as in "{team}_{station}_{date}": also {season}, {tester}, {device}, and {} for a part that says nothing',
    ),
  units: z.record(text, text).default({}).describe('measure: UCUM code'),
  columns: z
    .record(text, column)
    .default({})
    .describe(
      'heading: a role, or {measure, side, sides, trial, unit, sign}; "column 7" is the seventh column where no heading reads so',
    ),
});

/** screening.yaml as people write it. */
export const screeningSchema = z.strictObject({
  protocol: text.default('protocol.yaml').describe('the file that says what is measured and how it is judged'),
  roster: sideFile('who the athletes are, roster.csv if it is there'),
  injuries: sideFile('injuries, injuries.csv if it is there'),
  exposures: sideFile('athlete exposures by season and team, exposures.csv if it is there'),
  history: sideFile('earlier injuries and surgery, history.csv if it is there'),
  clearance: sideFile('who may take part, clearance.csv if it is there'),
  referrals: sideFile('who was sent to whom, referrals.csv if it is there'),
  corrections: sideFile('cells of sheets put right, corrections.csv if it is there'),
  work: sideFile('what athletes have worked on, work.csv if it is there'),
  season_starts: text
    .refine(isSeasonStart, 'is no day of the year written "MM-DD"')
    .meta({ pattern: '^(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])$' })
    .default('07-01')
    .describe('month and day, as in "07-01"'),
  occasion_days: z
    .int()
    .min(0)
    .max(366)
    .default(14)
    .describe('days within which an athlete passes all stations once: a later test is a retest'),
  unlisted: z.enum(['reject', 'keep']).default('reject').describe('what becomes of athletes who are not on the roster'),
  teams: z
    .record(text, z.strictObject({ also: z.array(text).min(1).describe('a list of other spellings of the team') }))
    .default({})
    .describe('team: {also: other spellings of it}'),
  people: z.record(text, text).default({}).describe('nickname or misspelling: athlete_id'),
  sheets: z
    .array(z.union([inside, entry]))
    .min(1)
    .describe('a list of entries, each with files: sheets/*.csv in quotes'),
  out: inside.default('out').describe('the folder that bilat run writes its tables to'),
});

export type ScreeningData = z.infer<typeof screeningSchema>;
export type EntryData = z.infer<typeof entry>;
