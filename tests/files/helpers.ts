import { type ChildProcess, type SpawnOptions, spawn } from 'node:child_process';
import { chmodSync, mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll, onTestFinished } from 'vitest';
import { Failure } from '../../src/problems/failure.ts';

/** A folder that is gone after the test, and readable for other users until then. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'bilat-test-'));
  chmodSync(folder, 0o755);
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}

/** Path of session.ts as a bundle that plain node can run, for the time of a test file. */
export function sessionProgram(): string {
  const folder = mkdtempSync(join(tmpdir(), 'bilat-session-'));
  chmodSync(folder, 0o755);
  const outfile = join(folder, 'session.mjs');
  const entryPoints = [new URL('session.ts', import.meta.url).pathname];
  beforeAll(async () => {
    await build({ entryPoints, outfile, bundle: true, format: 'esm', platform: 'node', target: 'node20.19' });
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return outfile;
}

export interface Ended {
  readonly code: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Text of a stream as far as it has come. */
function collected(stream: NodeJS.ReadableStream | null): () => string {
  let text = '';
  stream?.on('data', (piece) => {
    text += piece;
  });
  return () => text;
}

export function ended(child: ChildProcess): Promise<Ended> {
  const stdout = collected(child.stdout);
  const stderr = collected(child.stderr);
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code, signal) => resolve({ code, signal, stdout: stdout(), stderr: stderr() }));
  });
}

export function start(file: string, args: readonly string[], options: SpawnOptions = {}): ChildProcess {
  return spawn(file, args, { stdio: ['ignore', 'pipe', 'pipe'], ...options });
}

/** Waits for the child's first word, then sends it a signal. */
export async function stopWhenReady(child: ChildProcess, signal: NodeJS.Signals): Promise<Ended> {
  const end = ended(child);
  child.stdout!.once('data', () => child.kill(signal));
  return end;
}

/** Names in a folder, hidden ones too. */
export function names(folder: string): string[] {
  return readdirSync(folder).sort();
}

/** The Failure that an action ends with. */
export async function failureOf(action: () => unknown): Promise<Failure> {
  try {
    await action();
  } catch (error) {
    if (error instanceof Failure) return error;
    throw error;
  }
  throw new Error('expected a Failure');
}
