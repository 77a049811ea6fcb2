import { statSync } from 'node:fs';
import path from 'node:path';
import { Failure, type Trouble } from '../problems/failure.ts';
import {
  folderUpward,
  holdsFile,
  isScreeningFolder,
  namedFolder,
  SETTINGS_FILE,
  USUAL_PROTOCOL,
} from './folder_place.ts';
import { isWorkbook, SAVE_AS_CSV } from './workbooks.ts';

/** What a command line says about what to read over. */
export interface CheckRequest {
  readonly cwd: string;
  /** a protocol, a screening folder or its screening.yaml */
  readonly name?: string;
  readonly folder?: string;
  readonly protocol?: string;
  readonly roster?: string;
}

/** A whole folder, or a protocol alone. Paths are absolute. */
export interface CheckPlace {
  /** what all files are named relative to */
  readonly base: string;
  readonly hasFolder: boolean;
  readonly protocol?: string;
  readonly roster?: string;
}

/**
 * Where to look: what is named, else the nearest screening.yaml upward.
 * @throws Failure 2 if nothing is there that could be read over
 */
export function checkPlace({ cwd, name, ...flags }: CheckRequest): CheckPlace {
  const absolute = (file: string | undefined): string | undefined => file && path.resolve(cwd, file);
  const roster = absolute(flags.roster);
  const named = name === undefined ? undefined : statSync(path.resolve(cwd, name), { throwIfNoEntry: false });
  if (name !== undefined && named === undefined) {
    const hint = 'Name a protocol or a screening folder.';
    throw new Failure(2, { file: name, message: 'there is no such file or folder', hint });
  }
  if (name !== undefined && named?.isFile() && path.basename(name) !== SETTINGS_FILE) {
    if (/\.ya?ml$/i.test(name)) return { base: cwd, hasFolder: false, protocol: absolute(name), roster };
    throw new Failure(2, { file: name, ...notChecked(cwd, name) });
  }
  const protocol = absolute(flags.protocol);
  const folder = name === undefined ? flags.folder : named?.isFile() ? path.dirname(name) : name;
  if (folder !== undefined) return { base: folderAt(cwd, folder, protocol), hasFolder: true, protocol, roster };
  const upward = folderUpward(cwd);
  if (upward !== undefined) return { base: upward, hasFolder: true, protocol, roster };
  if (holdsFile(cwd, USUAL_PROTOCOL)) return { base: cwd, hasFolder: true, protocol, roster };
  if (protocol !== undefined) return { base: cwd, hasFolder: false, protocol, roster };
  throw new Failure(2, {
    message: 'There is no screening folder here: neither this folder nor one above it holds a screening.yaml',
    hint: 'Name it with --folder DIR, name a protocol alone as in  bilat check protocol.yaml  or begin with  bilat new DIR',
  });
}

/** What a file is that check does not read by itself, and which command does. */
function notChecked(cwd: string, name: string): Pick<Trouble, 'message' | 'hint'> {
  if (isWorkbook(name)) {
    return { message: 'is a workbook of a spreadsheet program, which bilat does not read', hint: SAVE_AS_CSV };
  }
  if (!/\.(csv|tsv|tab|txt)$/i.test(name)) {
    return { message: 'is not a protocol (.yaml)', hint: 'Name a protocol or a screening folder.' };
  }
  const full = path.resolve(cwd, name);
  const folder = folderUpward(path.dirname(full)) ?? [cwd].find((here) => holdsFile(here, USUAL_PROTOCOL));
  const within = folder && path.relative(folder, full);
  const shown = folder && (path.relative(cwd, folder) || undefined);
  const withFolder = `bilat check${shown === undefined ? '' : ` ${shown}`}`;
  if (within && path.dirname(within) === '.') {
    return {
      message: 'is read over together with its folder, not by itself',
      hint: `Say:  ${withFolder}  If it is the sheet of a station, say:  bilat scan ${name}`,
    };
  }
  return {
    message: 'is not a protocol (.yaml), and sheets are looked at by scan',
    hint: `Say:  bilat scan ${name}  A roster or another list is read over with its folder:  bilat check --folder DIR`,
  };
}

function folderAt(cwd: string, folder: string, protocol: string | undefined): string {
  const full = namedFolder(cwd, folder);
  if (protocol !== undefined || isScreeningFolder(full)) return full;
  throw new Failure(2, {
    file: folder,
    message: `holds neither ${SETTINGS_FILE} nor ${USUAL_PROTOCOL}`,
    hint: 'Begin with  bilat new DIR  or name the right folder.',
  });
}
