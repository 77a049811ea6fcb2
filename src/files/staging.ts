import { chmodSync, renameSync, rmdirSync, rmSync, statSync } from 'node:fs';
import { basename, join } from 'node:path';
import type { Schema } from '../tables/table.ts';
import { makeAnew, makeFolder } from './folders.ts';
import { type Lock, takeLock } from './lock.ts';
import { metadataPath, metadataText, type Provenance } from './metadata.ts';
import { checkTargets, type TargetOptions } from './ownership.ts';
import { point } from './points.ts';
import { onStop } from './signals.ts';
import { StagedFile } from './staged_file.ts';
import { quietly, writing } from './system_errors.ts';

export interface StagingOptions extends TargetOptions {
  /** how the names of lock and staging folder begin; `.bilat` unless one folder is to hold several sessions */
  readonly prefix?: string;
}

/** Gives the new file the permissions of the one that it replaces. */
function keepPermissions(place: string, target: string): void {
  const before = statSync(target, { throwIfNoEntry: false });
  if (before) chmodSync(place, before.mode & 0o777);
}

function putInPlace(place: string, target: string): void {
  writing(target, () => {
    keepPermissions(place, target);
    renameSync(place, target);
  });
}

/** Files that are written together: none is seen before all of them are whole. */
export class Staging {
  readonly folder: string;
  readonly #options: TargetOptions;
  readonly #place: string;
  readonly #lock: Lock;
  readonly #made: boolean;
  readonly #files: StagedFile[] = [];
  readonly #forget: () => void;
  #open = true;

  /** Use `openStaging`, which holds the lock and has made the place. */
  constructor(folder: string, options: TargetOptions, place: string, lock: Lock, made: boolean) {
    this.folder = folder;
    this.#options = options;
    this.#place = place;
    this.#lock = lock;
    this.#made = made;
    this.#forget = onStop(() => this.abort());
  }

  /**
   * Begins a file; with a schema it is a table as CSV and starts with its header.
   *
   * @param name plain file name in the folder
   */
  file(name: string, schema?: Schema): StagedFile {
    const file = new StagedFile(join(this.#place, name), join(this.folder, name), schema);
    this.#files.push(file);
    return file;
  }

  /**
   * Puts all files in place, each just after its metadata. A process that is killed meanwhile leaves every file either
   * as it was or as it is to be; metadata that are ahead of their file tell by its hash that it is stale.
   *
   * @throws Failure 2 if a file that bilat did not write has come in the way, Failure 3 if the disk refuses
   */
  commit(provenance: Provenance): void {
    const files = this.#files.map((file) => ({ file, metadata: this.#finish(file, provenance) }));
    checkTargets(
      files.map(({ file }) => file.target),
      this.#options,
    );
    point('before_renames');
    for (const { file, metadata } of files) {
      putInPlace(metadata.place, metadata.target);
      point('metadata_renamed');
      putInPlace(file.place, file.target);
      point('file_renamed');
    }
    this.#close();
  }

  /** Leaves the folder as it was. After a commit it does nothing, so it may stand in a `finally`. */
  abort(): void {
    if (!this.#open) return;
    for (const file of this.#files) file.close();
    this.#close();
    if (this.#made) quietly(() => rmdirSync(this.folder));
  }

  #finish(file: StagedFile, provenance: Provenance): StagedFile {
    const { schema, rows, target } = file;
    const sha256 = file.finish();
    point('file_written');
    const metadata = new StagedFile(metadataPath(file.place), metadataPath(target));
    this.#files.push(metadata);
    metadata.write(metadataText(basename(target), { sha256, table: schema && { schema, rows } }, provenance));
    metadata.finish();
    return metadata;
  }

  #close(): void {
    this.#open = false;
    quietly(() => rmSync(this.#place, { recursive: true, force: true }));
    point('before_unlock');
    this.#lock.release();
    this.#forget();
  }
}

/**
 * Begins to write files into a folder, which is made if only it is missing. Holds the folder's lock until commit or
 * abort, clears away what a killed run has left, and keeps the new files in a hidden folder inside it until commit.
 *
 * @throws Failure 2 if the folder cannot be one, Failure 3 if another run writes there or the disk refuses
 */
export async function openStaging(folder: string, options: StagingOptions = {}): Promise<Staging> {
  const { prefix = '.bilat' } = options;
  const place = join(folder, `${prefix}-staging`);
  const made = makeFolder(folder);
  let lock: Lock | undefined;
  try {
    lock = await takeLock(join(folder, `${prefix}-lock`));
    point('locked');
    makeAnew(place);
    point('staging_opened');
    return new Staging(folder, options, place, lock, made);
  } catch (error) {
    lock?.release();
    if (made) quietly(() => rmdirSync(folder));
    throw error;
  }
}
