import { type ClearanceRow, readClearance } from '../athletes/clearance.ts';
import type { AthleteDirectory } from '../athletes/directory.ts';
import { type ReferralRow, readReferrals } from '../athletes/referrals.ts';
import type { SideTable } from '../athletes/side_rows.ts';
import { readWork, type WorkRow } from '../athletes/work.ts';
import { BUILT_IN_STATUSES } from '../findings/check.ts';
import { type ExposureRow, readExposures } from '../outcomes/exposures.ts';
import { Failure, type Trouble } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
import type { Screening, SideFile } from './types.ts';

/** Rows of the side files that later stages use; none where there is no file. */
export interface SideTables {
  readonly exposures: readonly ExposureRow[];
  readonly clearance: readonly ClearanceRow[];
  readonly referrals: readonly ReferralRow[];
  readonly work: readonly WorkRow[];
}

/** What side files are read by. */
export interface Known {
  readonly directory: AthleteDirectory;
  readonly protocol: Protocol;
  readonly screening: Screening;
}

type Name = keyof SideTables;
type Readers = {
  readonly [N in Name]: (text: string, spec: SideFile, known: Known) => SideTable<SideTables[N][number]>;
};

/** One reader for each of these files, for whoever reads them one by one. */
export const SIDE_TABLE_READERS: Readers = {
  exposures: (text, spec, { directory, screening }) => readExposures(text, spec, directory, screening),
  clearance: (text, spec, { directory }) => readClearance(text, spec, directory),
  referrals: (text, spec, { directory, protocol: { rules } }) =>
    readReferrals(text, spec, directory, [...rules.map(({ name }) => name), ...BUILT_IN_STATUSES]),
  work: (text, spec, { directory, protocol }) => readWork(text, spec, directory, [...protocol.programmes.keys()]),
};

/**
 * Reads the side files that later stages use. Clearance, referrals and work decide who is held back, so one of them that
 * cannot be read stops everything; exposures are used by no stage yet, which is said, and stop nothing.
 * @param read gives the text of a file, which becomes an input
 * @param look gives the text of a file that is no input
 * @throws Failure 2
 */
export async function readSideTables(
  known: Known,
  read: (file: string, what: string) => Promise<string>,
  look: (file: string, what: string) => Promise<string>,
): Promise<{ readonly tables: SideTables; readonly warnings: readonly Trouble[] }> {
  const warnings: Trouble[] = [];
  const rowsOf = async <N extends Name>(name: N): Promise<SideTable<SideTables[N][number]>['rows']> => {
    const spec = known.screening[name];
    if (spec === undefined) return [];
    const table = SIDE_TABLE_READERS[name](await read(spec.file, name), spec, known);
    warnings.push(...table.warnings);
    return table.rows;
  };
  const exposures = async (): Promise<SideTables['exposures']> => {
    const spec = known.screening.exposures;
    if (spec === undefined) return [];
    const text = await look(spec.file, 'exposures');
    warnings.push({ file: spec.file, message: 'is there, and this version makes no use of exposures yet' });
    try {
      const table = SIDE_TABLE_READERS.exposures(text, spec, known);
      warnings.push(...table.warnings);
      return table.rows;
    } catch (error) {
      if (!(error instanceof Failure)) throw error;
      warnings.push(...error.troubles);
      return [];
    }
  };
  const tables = {
    exposures: await exposures(),
    clearance: await rowsOf('clearance'),
    referrals: await rowsOf('referrals'),
    work: await rowsOf('work'),
  };
  return { tables, warnings };
}
