import { mkdirSync, readdirSync, renameSync, rmdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { Failure } from '../problems/failure.ts';
import { onStop } from './signals.ts';
import { quietly, writing } from './system_errors.ts';

export interface NewFile {
  /** from the folder on, with forward slashes */
  readonly path: string;
  readonly text: string;
}

/** What file managers leave in a folder that is empty to the eye. */
const LEFT_BY_FINDERS: ReadonlySet<string> = new Set(['.DS_Store', 'desktop.ini', 'Thumbs.db']);

/** What stands where the folder is to be: nothing, or an empty folder. */
function stateOf(folder: string, shown: string): 'missing' | 'empty' {
  const stat = writing(shown, () => statSync(folder, { throwIfNoEntry: false }));
  if (stat === undefined) return 'missing';
  if (!stat.isDirectory()) {
    throw new Failure(2, { file: shown, message: 'is a file already', hint: 'Name a folder that is not there yet.' });
  }
  const held = writing(shown, () => readdirSync(folder))
    .filter((name) => !LEFT_BY_FINDERS.has(name))
    .sort();
  if (held.length === 0) return 'empty';
  const more = held.length > 1 ? ` and ${held.length - 1} more` : '';
  throw new Failure(2, {
    file: shown,
    message: `holds ${held[0]}${more} already, and nothing is written over`,
    hint: 'Name a folder that is not there yet, or an empty one.',
  });
}

/** Throws Failure 2 unless the folder above is there. */
function requireParent(folder: string, shown: string): void {
  if (statSync(path.dirname(folder), { throwIfNoEntry: false })?.isDirectory()) return;
  throw new Failure(2, {
    file: shown,
    message: 'the folder that it is to lie in is not there',
    hint: 'Make that one first, or write elsewhere.',
  });
}

/**
 * Makes a folder with these files and empty folders in it. All of it is written aside first and put in its place at the
 * end, so that a run which fails or is stopped leaves nothing; a folder that is there and empty keeps its permissions.
 *
 * @param folder absolute path
 * @param shown the folder as the user named it, for messages
 * @throws Failure 2 if something is there already or the folder above is missing, Failure 3 if the disk refuses
 */
export function writeNewFolder(
  folder: string,
  shown: string,
  files: readonly NewFile[],
  emptyFolders: readonly string[],
): void {
  writing(shown, () => requireParent(folder, shown));
  const state = stateOf(folder, shown);
  const name = `.bilat-new-${process.pid}`;
  const place = state === 'empty' ? path.join(folder, name) : path.join(path.dirname(folder), name);
  const put: string[] = [];
  const clear = (): void => {
    for (const entry of put) quietly(() => rmSync(path.join(folder, entry), { recursive: true, force: true }));
    quietly(() => rmSync(place, { recursive: true, force: true }));
  };
  const forget = onStop(clear);
  try {
    writing(shown, () => {
      // What a killed run has left may bear the same name.
      rmSync(place, { recursive: true, force: true });
      mkdirSync(place);
      for (const name of emptyFolders) mkdirSync(path.join(place, name), { recursive: true });
      for (const file of files) {
        const full = path.join(place, file.path);
        mkdirSync(path.dirname(full), { recursive: true });
        writeFileSync(full, file.text, { flag: 'wx' });
      }
      if (state === 'missing') renameSync(place, folder);
      else {
        for (const entry of readdirSync(place)) {
          renameSync(path.join(place, entry), path.join(folder, entry));
          put.push(entry);
        }
        rmdirSync(place);
      }
    });
  } catch (error) {
    clear();
    throw error;
  } finally {
    forget();
  }
}
