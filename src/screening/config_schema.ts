import * as z from 'zod';
import { PURPOSES, ROLES } from '../sheets/entry.ts';
import { parseIsoDay } from '../units/days.ts';
import { WRITTEN_SIDES } from '../units/sides.ts';
import { isSeasonStart, leavesFolder } from './config_checks.ts';

const text = z.string().min(1);
const inside = text
  .refine((path) => !path.includes('\\'), { error: 'has a \\ in it', params: { hint: 'Part folders by /.' } })
  .refine((path) => !leavesFolder(path), {
    error: 'leaves the screening folder',
    params: { hint: 'Write the path from the folder on, without .. in it.' },
  });

const sideFile = z
  .union([text, z.strictObject({ file: text, columns: z.record(text, text).default({}) })])
  .optional()
  .describe('a file, or {file: …, columns: {heading: column}}');

const column = z.union([
  z.enum(ROLES),
  z.strictObject({
    measure: text.describe('the measure in this column'),
    side: z.enum(WRITTEN_SIDES).optional().describe('the side that the whole column is of'),
    sides: z
      .enum(['left_right', 'right_left'])
      .optional()
      .describe('both sides stand in each cell, as in 35/40: which comes first'),
    trial: z.int().min(1).optional(),
    unit: text.optional().describe('UCUM code'),
    sign: z.literal('reversed').optional(),
  }),
]);

const entry = z.strictObject({
  files: z
    .union([inside, z.array(inside).min(1)])
    .describe('sheets of this entry, inside the folder; * stands for any part of a name'),
  team: text.optional(),
  date: text.refine((date) => parseIsoDay(date) !== undefined, 'is no date written YYYY-MM-DD').optional(),
  season: z.int().min(1900).max(2100).optional().describe('the year in which the season starts'),
  tester: text.optional(),
  device: text.optional(),
  station: text.optional(),
  purpose: z.enum(PURPOSES).default('test'),
  dates: z.enum(['dmy', 'mdy', 'ymd']).optional(),
  decimal: z.enum([',', '.']).optional(),
  delimiter: z.enum([',', ';', '\t']).optional(),
  encoding: z.enum(['utf-8', 'utf-16le', 'utf-16be', 'windows-1252']).optional(),
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
  protocol: text.default('protocol.yaml'),
  roster: sideFile,
  injuries: sideFile,
  exposures: sideFile,
  history: sideFile,
  clearance: sideFile,
  referrals: sideFile,
  corrections: sideFile,
  work: sideFile,
  season_starts: text
    .refine(isSeasonStart, 'is no day of the year written "MM-DD"')
    .default('07-01')
    .describe('month and day, as in "07-01"'),
  occasion_days: z.int().min(0).max(366).default(14),
  unlisted: z.enum(['reject', 'keep']).default('reject').describe('what becomes of athletes who are not on the roster'),
  teams: z
    .record(text, z.strictObject({ also: z.array(text).min(1).describe('a list of other spellings of the team') }))
    .default({}),
  people: z.record(text, text).default({}).describe('nickname or misspelling: athlete_id'),
  sheets: z
    .array(z.union([inside, entry]))
    .min(1)
    .describe('a list of entries, each with files: sheets/*.csv in quotes'),
  out: inside.default('out'),
});

export type ScreeningData = z.infer<typeof screeningSchema>;
export type EntryData = z.infer<typeof entry>;
