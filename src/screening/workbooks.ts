import { existsSync, readdirSync } from 'node:fs';
import path from 'node:path';
import type { Trouble } from '../problems/failure.ts';
import { type Problem, problemOf } from '../problems/problem.ts';
import { SETTINGS_FILE } from './folder_place.ts';
import type { Screening } from './types.ts';

const WORKBOOK = /\.(?:xlsx|xlsm|xls|ods|numbers)$/i;

/** The side files that a screening folder may hold, by their keys in screening.yaml. */
const LISTS = ['roster', 'injuries', 'exposures', 'history', 'clearance', 'referrals', 'corrections', 'work'] as const;

/** Whether a file is a workbook of a spreadsheet program, by its name. */
export function isWorkbook(file: string): boolean {
  return WORKBOOK.test(file);
}

/** What makes a workbook readable. */
export const SAVE_AS_CSV = 'Open it in the spreadsheet program and save it as CSV (UTF-8).';

/** Workbooks of a folder, one level deep, in order; none where there is no folder. */
export function workbooksIn(folder: string): string[] {
  return existsSync(folder) ? readdirSync(folder).filter(isWorkbook).sort() : [];
}

/** A workbook that lies beside the text file that it should have been saved as. */
export function workbookBeside(file: string): string | undefined {
  const { dir, name } = path.parse(file);
  return workbooksIn(dir).find((other) => path.parse(other).name.toLowerCase() === name.toLowerCase());
}

/** What is said of a folder in which no sheet is found: perhaps what there is are workbooks. */
export function noSheets(folder: string, notes: readonly string[]): Trouble {
  const workbooks = workbooksIn(path.join(folder, 'sheets')).map((file) => `sheets/${file}`);
  if (workbooks.length > 0) {
    const are = workbooks.length === 1 ? 'is a workbook' : 'are workbooks';
    const message = `no sheet was found that bilat reads: ${workbooks.slice(0, 8).join(', ')} ${are} of a spreadsheet program`;
    return {
      file: 'sheets',
      message,
      hint: 'Open each in the spreadsheet program and save every sheet of it as CSV (UTF-8).',
    };
  }
  return {
    file: SETTINGS_FILE,
    message: `no sheet was found${notes.length > 0 ? `: ${notes.join('; ')}` : ''}`,
    hint: 'Put the sheets into sheets/, or name them under sheets: in screening.yaml.',
  };
}

/** Lists of the folder that nobody reads, since they are workbooks. */
export function listsAsWorkbooks(folder: string, screening: Screening): Problem[] {
  return workbooksIn(folder).flatMap((file): Problem[] => {
    const name = path.parse(file).name.toLowerCase();
    const list = LISTS.find((one) => one === name);
    if (list === undefined || screening[list] !== undefined) return [];
    const message = `is a workbook of a spreadsheet program, which bilat does not read: nothing is known of ${list}`;
    return [problemOf('warning', 'list_is_workbook', { message, hint: `${SAVE_AS_CSV} Name it ${list}.csv.` }, file)];
  });
}
