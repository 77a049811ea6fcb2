import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import Papa from 'papaparse';
import { afterAll } from 'vitest';

/** The top folder of the project. */
export const ROOT = fileURLToPath(new URL('../..', import.meta.url));
export const LAUNCHER = path.join(ROOT, 'bin/bilat.js');

const scratch = mkdtempSync(path.join(tmpdir(), 'bilat-cases-'));
afterAll(() => rmSync(scratch, { recursive: true, force: true }));

export interface Ended {
  readonly code: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Setting {
  readonly cwd?: string;
  readonly input?: string | Uint8Array;
  readonly env?: Readonly<Record<string, string>>;
}

function run(program: string, args: readonly string[], { cwd = scratch, input = '', env }: Setting): Ended {
  const done = spawnSync(program, args, {
    cwd,
    input,
    env: { ...process.env, ...env },
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (done.error) throw done.error;
  return { code: done.status, stdout: done.stdout, stderr: done.stderr };
}

/** Runs the program as it is shipped; without a terminal. */
export function bilat(args: readonly string[], setting: Setting = {}): Ended {
  return run(process.execPath, [LAUNCHER, ...args], setting);
}

/** Runs a line of bash in which `bilat` is the program. */
export function bash(line: string, setting: Setting = {}): Ended {
  return run('bash', ['-c', `bilat() { "${process.execPath}" "${LAUNCHER}" "$@"; }\n${line}`], setting);
}

/** A new folder with these files; a name that ends in / is a folder. Gone when the test file has ended. */
export function tempFolder(files: Readonly<Record<string, string | Uint8Array>> = {}): string {
  const folder = mkdtempSync(path.join(scratch, 'folder-'));
  for (const [name, content] of Object.entries(files)) {
    const file = path.join(folder, name);
    mkdirSync(name.endsWith('/') ? file : path.dirname(file), { recursive: true });
    if (!name.endsWith('/')) writeFileSync(file, content);
  }
  return folder;
}

/** A fresh copy of the examples, without what a run has left there. */
export function copyOfExamples(): string {
  const folder = tempFolder();
  const isOutput = (file: string): boolean => path.basename(file) === 'out';
  cpSync(path.join(ROOT, 'examples'), path.join(folder, 'examples'), {
    recursive: true,
    filter: (file) => !isOutput(file),
  });
  return folder;
}

/** Rows of a CSV table by column name, guards against formulas included. */
export function readCsv(text: string): Record<string, string>[] {
  const [header = [], ...rows] = Papa.parse<string[]>(text, { header: false, skipEmptyLines: true }).data;
  return rows.map((row) => Object.fromEntries(row.map((cell, at) => [header[at], cell])));
}

export const read = (...parts: string[]): string => readFileSync(path.join(...parts), 'utf8');

/** Every file below a folder, hidden ones too, with the SHA-256 of its bytes. */
export function contents(folder: string): Record<string, string> {
  const files = readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => path.join(entry.parentPath, entry.name))
    .sort();
  const digest = (file: string): string => createHash('sha256').update(readFileSync(file)).digest('hex');
  return Object.fromEntries(files.map((file) => [path.relative(folder, file), digest(file)]));
}
