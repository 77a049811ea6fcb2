import type { SheetEntry } from '../sheets/entry.ts';

/** A side file with the meaning of its headings, where they are not the contract's own. */
export interface SideFile {
  /** its key in screening.yaml */
  readonly key: string;
  /** relative to the folder */
  readonly file: string;
  /** heading, trimmed and case folded → column name or 'ignore' */
  readonly columns: ReadonlyMap<string, string>;
}

/** screening.yaml with every default filled in. Paths are relative to `folder`. */
export interface Screening {
  /** absolute path of the screening folder */
  readonly folder: string;
  readonly protocolFile: string;
  readonly roster?: SideFile;
  readonly injuries?: SideFile;
  readonly exposures?: SideFile;
  readonly history?: SideFile;
  readonly clearance?: SideFile;
  readonly referrals?: SideFile;
  readonly corrections?: SideFile;
  readonly work?: SideFile;
  /** "MM-DD" */
  readonly seasonStarts: string;
  readonly occasionDays: number;
  readonly unlisted: 'reject' | 'keep';
  /** alias, folded → team name */
  readonly teamAliases: ReadonlyMap<string, string>;
  /** teams that the roster names: they tell where a team ends in the name of a file */
  readonly rosterTeams?: readonly string[];
  /** nickname or misspelling → athlete_id */
  readonly people: ReadonlyMap<string, string>;
  readonly sheets: readonly SheetEntry[];
  readonly out: string;
}
