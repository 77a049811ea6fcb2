import { randomBytes } from 'node:crypto';
import { closeSync, openSync, readFileSync, rmSync } from 'node:fs';
import { hostname } from 'node:os';
import { setTimeout } from 'node:timers/promises';
import { Failure } from '../problems/failure.ts';
import { onStop } from './signals.ts';
import { quietly, systemCode, systemFailure } from './system_errors.ts';
import { writeFully } from './write_fully.ts';

export interface Lock {
  /** Gives the lock back; a second call does nothing. */
  release(): void;
}

interface Holder {
  readonly pid: number;
  readonly host: string;
  /** eight hexadecimal digits that no other lock has */
  readonly token: string;
}

/** Locks of this process. */
const held = new Set<string>();

/** A run killed between making its lock and writing into it leaves it empty; a living one needs far less time. */
const EMPTY_FOR = { tries: 20, milliseconds: 50 };
const NOBODY: Holder = { pid: 0, host: '', token: '00000000' };

function parseHolder(text: string): Holder {
  try {
    const { pid, host, token } = JSON.parse(text);
    if (Number.isSafeInteger(pid) && pid > 0 && typeof host === 'string' && /^[0-9a-f]{8}$/.test(token)) {
      return { pid, host, token };
    }
  } catch {
    // As good as empty.
  }
  return NOBODY;
}

/** Who holds the lock; undefined if there is none. */
function readHolder(file: string): Holder | undefined {
  try {
    return parseHolder(readFileSync(file, 'utf8'));
  } catch (error) {
    if (systemCode(error) === 'ENOENT') return undefined;
    throw systemFailure(error, file, 'read');
  }
}

async function waitForHolder(file: string): Promise<Holder | undefined> {
  for (let tries = EMPTY_FOR.tries; tries > 0; tries--) {
    const holder = readHolder(file);
    if (holder !== NOBODY) return holder;
    await setTimeout(EMPTY_FOR.milliseconds);
  }
  return NOBODY;
}

/** Whether the process that took the lock is surely gone. Of another machine that cannot be known. */
function isDead({ pid, host, token }: Holder): boolean {
  if (pid === NOBODY.pid) return true;
  if (host !== hostname()) return false;
  if (pid === process.pid) return !held.has(token);
  try {
    process.kill(pid, 0);
    return false;
  } catch (error) {
    return systemCode(error) === 'ESRCH';
  }
}

/** Makes the lock file, or returns false if there is one. */
function create(file: string, holder: Holder): boolean {
  let fd: number | undefined;
  try {
    fd = openSync(file, 'wx');
    writeFully(fd, Buffer.from(`${JSON.stringify(holder)}\n`), null);
    return true;
  } catch (error) {
    if (fd === undefined && systemCode(error) === 'EEXIST') return false;
    if (fd !== undefined) quietly(() => rmSync(file));
    throw systemFailure(error, file, 'written');
  } finally {
    if (fd !== undefined) closeSync(fd);
  }
}

function busy(file: string, { pid, host }: Holder): Failure {
  const where = host === hostname() ? '' : ` on ${host}`;
  return new Failure(3, {
    file,
    message: `Another run (process ${pid}${where}) is writing here`,
    hint: 'Wait until it has finished. If no such process is at work, delete this file.',
  });
}

/**
 * Removes the lock of a dead process. Two runs that find it at once must not remove each other's new lock, so whoever
 * removes it holds a lock of its own, named after the dead one: under that name the dead lock cannot change.
 */
async function clear(file: string, dead: Holder): Promise<void> {
  const claim = await takeLock(`${file}-${dead.token}`);
  try {
    if (readHolder(file)?.token === dead.token) rmSync(file, { force: true });
  } catch (error) {
    throw systemFailure(error, file, 'written');
  } finally {
    claim.release();
  }
}

/**
 * Takes the lock that is this file, until it is released or this process ends; that of a process that was killed is taken
 * over.
 * @throws Failure 3 that names the process that holds it
 */
export async function takeLock(file: string): Promise<Lock> {
  const own: Holder = { pid: process.pid, host: hostname(), token: randomBytes(4).toString('hex') };
  const release = () => {
    if (!held.delete(own.token)) return;
    forget();
    quietly(() => {
      if (readHolder(file)?.token === own.token) rmSync(file);
    });
  };
  // Before the file is there: a signal in between would leave a lock that nobody gives back.
  held.add(own.token);
  const forget = onStop(release);
  try {
    while (!create(file, own)) {
      const holder = await waitForHolder(file);
      if (holder === undefined) continue;
      if (!isDead(holder)) throw busy(file, holder);
      await clear(file, holder);
    }
  } catch (error) {
    release();
    throw error;
  }
  return { release };
}
