import { writeSync } from 'node:fs';

/** Writes all bytes, also where the system takes them only in part; from `position`, or where the file stands. */
export function writeFully(fd: number, bytes: Uint8Array, position: number | null): void {
  for (let done = 0; done < bytes.length; ) {
    done += writeSync(fd, bytes, done, bytes.length - done, position === null ? null : position + done);
  }
}
