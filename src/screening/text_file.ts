import { createReadStream } from 'node:fs';
import path from 'node:path';
import { Failure } from '../problems/failure.ts';
import { decodeText, surveyBytes } from '../tables/decode.ts';
import { shownPath } from './sources.ts';
import { SAVE_AS_CSV, workbookBeside } from './workbooks.ts';

/**
 * A whole text file; its bytes may be UTF-8, UTF-16 with a mark, or Windows-1252.
 * @param base absolute path that the file is named relative to
 * @param what that the file should hold, for the message
 * @throws Failure 2 if it is not there, a folder or no text; 3 if it cannot be read
 */
export async function readTextFile(base: string, file: string, what: string): Promise<string> {
  const full = path.resolve(base, file);
  const shown = shownPath(base, full);
  const pieces: Buffer[] = [];
  try {
    for await (const piece of createReadStream(full)) pieces.push(piece as Buffer);
  } catch (error) {
    throw unread(full, shown, what, error as NodeJS.ErrnoException);
  }
  const { encoding, problem } = await surveyBytes(pieces);
  if (problem && problem.code !== 'file_empty') {
    const message = `is not a text file: it holds ${problem.found}`;
    throw new Failure(2, { file: shown, message, hint: 'Save it as text (UTF-8).' });
  }
  let text = '';
  for await (const piece of decodeText(pieces, encoding)) text += piece;
  return text;
}

function unread(full: string, file: string, what: string, { code, message }: NodeJS.ErrnoException): Failure {
  const workbook = code === 'ENOENT' ? workbookBeside(full) : undefined;
  const hint = workbook
    ? `Beside it lies ${workbook}, a workbook, which bilat does not read. ${SAVE_AS_CSV} Name it ${path.basename(full)}.`
    : 'Check the path.';
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    return new Failure(2, { file, message: `there is no such file, and it should hold the ${what}`, hint });
  }
  if (code === 'EISDIR') {
    return new Failure(2, { file, message: `is a folder, and should be the file that holds the ${what}`, hint });
  }
  return new Failure(3, { file, message: `cannot be read: ${message}` });
}
