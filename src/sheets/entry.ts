import type { DateOrder } from '../units/dates.ts';
import type { WrittenSide } from '../units/sides.ts';

export const PURPOSES = ['test', 'makeup', 'retest', 'return'] as const;
export type Purpose = (typeof PURPOSES)[number];

export const ROLES = [
  'athlete_id',
  'name',
  'first_name',
  'last_name',
  'team',
  'sex',
  'date',
  'test',
  'side',
  'trial',
  'value',
  'unit',
  'status',
  'tester',
  'device',
  'ignore',
] as const;
export type Role = (typeof ROLES)[number];

/** What screening.yaml says of one column of a sheet. */
export type ColumnEntry =
  | { readonly role: Role }
  | {
      readonly measure: string;
      readonly side?: WrittenSide;
      /** both sides stand in each cell (`35/40`), in this order; never together with side */
      readonly sides?: 'left_right' | 'right_left';
      readonly trial?: number;
      /** UCUM code */
      readonly unit?: string;
      readonly sign?: 'reversed';
    };

/** One entry of `sheets:`: what the sheets themselves do not say. */
export interface SheetEntry {
  readonly files: readonly string[];
  readonly team?: string;
  /** ISO date */
  readonly date?: string;
  readonly season?: number;
  readonly tester?: string;
  readonly device?: string;
  readonly station?: string;
  readonly purpose: Purpose;
  readonly dates?: DateOrder;
  readonly decimal?: ',' | '.';
  readonly delimiter?: ',' | ';' | '\t';
  readonly encoding?: 'utf-8' | 'utf-16le' | 'utf-16be' | 'windows-1252';
  readonly layout?: 'down' | 'across';
  /** pattern of what the names of the files say, as in `{team}_{date}` */
  readonly fromName?: string;
  /** a sentence to follow the file: what its name should say and does not */
  readonly nameProblem?: string;
  /** measure name → UCUM code */
  readonly units: ReadonlyMap<string, string>;
  /** heading, trimmed and case folded, or the place of a column as in `column 7` → what it is */
  readonly columns: ReadonlyMap<string, ColumnEntry>;
}
