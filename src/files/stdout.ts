import { fstatSync } from 'node:fs';
import { isatty } from 'node:tty';
import { systemCode, systemFailure } from './system_errors.ts';
import { writeFully } from './write_fully.ts';

/** The reader of a pipe is gone (`| head`): no error, there is just nobody left to write for. */
export function isReaderGone(error: unknown): boolean {
  const code = systemCode(error);
  return code === 'EPIPE' || code === 'ECONNRESET' || code === 'ERR_STREAM_DESTROYED';
}

/** Node.js takes a short write to a file for a whole one, so files and devices are written without its streams. */
function isFileOrDevice(fd: number): boolean {
  const stat = fstatSync(fd);
  return stat.isFile() || (stat.isCharacterDevice() && !isatty(fd));
}

function standardWriter(fd: 1 | 2): (text: string) => Promise<void> {
  const stream = () => (fd === 1 ? process.stdout : process.stderr);
  let direct: boolean | undefined;
  let gone = false;

  function throughStream(text: string): Promise<void> {
    return new Promise((resolve, reject) => {
      stream().write(text, (error) => (error ? reject(error) : resolve()));
    });
  }

  return async (text) => {
    if (gone) return;
    if (direct === undefined) {
      direct = isFileOrDevice(fd);
      // Each error also reaches the callback of its write; without a listener it would end the process.
      if (!direct) stream().on('error', () => {});
    }
    try {
      if (direct) writeFully(fd, Buffer.from(text), null);
      else await throughStream(text);
    } catch (error) {
      if (!isReaderGone(error)) throw error;
      gone = true;
    }
  };
}

const writeOut = standardWriter(1);
const writeErr = standardWriter(2);

/**
 * Writes text to standard output and waits until it is taken. When the reader of a pipe is gone, this and all later
 * text is dropped without a word. Throws Failure 3 for other errors (a full disk).
 */
export async function writeStdout(text: string): Promise<void> {
  try {
    await writeOut(text);
  } catch (error) {
    throw systemFailure(error, 'standard output', 'written');
  }
}

/** Writes text to standard error. Never fails: there would be nowhere to say so. */
export async function writeStderr(text: string): Promise<void> {
  await writeErr(text).catch(() => {});
}
