import { closeSync, constants, openSync, statSync, writeSync } from 'node:fs';
import { setTimeout } from 'node:timers/promises';
import { isReaderGone } from './stdout.ts';
import { systemCode, systemFailure, writing } from './system_errors.ts';

const POLL_READER_MS = 20;
const POLL_ROOM_MS = 1;

/** A named pipe, a device or a file that is open already: takes text as it comes. */
export interface Pipe {
  /** Waits until the reader has room. When the reader is gone, all later text is dropped without a word. */
  write(text: string): Promise<void>;
  close(): void;
}

/** Opened so that nothing ever blocks: a blocked thread would keep a stopped process alive. */
async function openWithoutBlocking(path: string): Promise<number> {
  const isNamedPipe = writing(path, () => statSync(path)).isFIFO();
  for (;;) {
    try {
      return openSync(path, constants.O_WRONLY | constants.O_APPEND | constants.O_NONBLOCK);
    } catch (error) {
      if (!isNamedPipe || systemCode(error) !== 'ENXIO') throw systemFailure(error, path, 'written');
      await setTimeout(POLL_READER_MS);
    }
  }
}

/** Opens a pipe for writing, when something reads from it. Throws Failure 3, as its `write` does. */
export async function openPipe(path: string): Promise<Pipe> {
  const fd = await openWithoutBlocking(path);
  let open = true;
  let gone = false;
  return {
    async write(text) {
      const bytes = Buffer.from(text);
      for (let done = 0; done < bytes.length && !gone; ) {
        try {
          done += writeSync(fd, bytes, done);
        } catch (error) {
          if (isReaderGone(error)) gone = true;
          else if (systemCode(error) === 'EAGAIN') await setTimeout(POLL_ROOM_MS);
          else throw systemFailure(error, path, 'written');
        }
      }
    },
    close() {
      if (open) closeSync(fd);
      open = false;
    },
  };
}
