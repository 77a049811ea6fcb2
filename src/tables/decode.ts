import { isUtf8 } from 'node:buffer';

export const ENCODINGS = ['utf-8', 'utf-16le', 'utf-16be', 'windows-1252'] as const;
export type Encoding = (typeof ENCODINGS)[number];

/** What the bytes of a file say about themselves. */
export interface ByteSurvey {
  readonly bytes: number;
  readonly encoding: Encoding;
  /** false where the encoding was neither declared nor marked, and the bytes are not UTF-8 */
  readonly certain: boolean;
  readonly problem?: { readonly code: 'file_empty' | 'file_not_text' | 'encoding_invalid'; readonly found: string };
}

const ZIP = [0x50, 0x4b, 0x03, 0x04];
const OLD_WORKBOOK = [0xd0, 0xcf, 0x11, 0xe0];
const PDF = [0x25, 0x50, 0x44, 0x46];
const LONGEST_SIGNATURE = 4;

function begins(bytes: Uint8Array, signature: readonly number[]): boolean {
  return signature.every((byte, at) => bytes[at] === byte);
}

/** Length of an unfinished UTF-8 sequence at the end of bytes: it may be completed by the next piece. */
function unfinished(bytes: Uint8Array): number {
  for (let back = 1; back <= Math.min(3, bytes.length); back++) {
    const byte = bytes[bytes.length - back];
    if (byte < 0x80) return 0;
    if (byte >= 0xc0) {
      const needed = byte >= 0xf0 ? 4 : byte >= 0xe0 ? 3 : 2;
      return needed > back ? back : 0;
    }
  }
  return 0;
}

/** Offset of the first byte that breaks UTF-8, by bisection: the decoder gives none. */
function firstBadByte(bytes: Uint8Array): number {
  let low = 0;
  let high = bytes.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const head = bytes.subarray(0, middle + 1);
    if (isUtf8(head.subarray(0, head.length - unfinished(head)))) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The same bytes, the first piece long enough to hold a signature: a pipe may hand them over one by one. */
async function* withWholeSignature(
  pieces: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
): AsyncGenerator<Uint8Array> {
  let start: Uint8Array | undefined = new Uint8Array(0);
  for await (const piece of pieces) {
    if (start === undefined) {
      yield piece;
      continue;
    }
    start = start.length > 0 ? Buffer.concat([start, piece]) : piece;
    if (start.length < LONGEST_SIGNATURE) continue;
    yield start;
    start = undefined;
  }
  if (start !== undefined && start.length > 0) yield start;
}

/**
 * Looks through all bytes of a file before any is read as text: NUL bytes, the signature of a workbook, UTF-8 or not.
 * Bytes that are not UTF-8 and whose encoding nobody declared are taken as Windows-1252, and the caller says so.
 */
export async function surveyBytes(
  pieces: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  declared?: Encoding,
): Promise<ByteSurvey> {
  let bytes = 0;
  let encoding: Encoding | undefined = declared;
  let marked = false;
  let badByte = -1;
  let nul = -1;
  let tail = new Uint8Array(0);
  for await (const piece of withWholeSignature(pieces)) {
    if (bytes === 0) {
      const kind = begins(piece, ZIP)
        ? 'a workbook or zip archive'
        : begins(piece, OLD_WORKBOOK)
          ? 'an old workbook'
          : begins(piece, PDF)
            ? 'a PDF'
            : undefined;
      if (kind) {
        return {
          bytes: piece.length,
          encoding: 'utf-8',
          certain: false,
          problem: { code: 'file_not_text', found: kind },
        };
      }
      if (piece[0] === 0xff && piece[1] === 0xfe) encoding = 'utf-16le';
      else if (piece[0] === 0xfe && piece[1] === 0xff) encoding = 'utf-16be';
      else if (begins(piece, [0xef, 0xbb, 0xbf])) encoding = 'utf-8';
      marked = encoding !== undefined && encoding !== declared;
    }
    const wide = encoding === 'utf-16le' || encoding === 'utf-16be';
    if (!wide && nul < 0) {
      const at = piece.indexOf(0);
      if (at >= 0) nul = bytes + at;
    }
    if (!wide && encoding !== 'windows-1252' && badByte < 0) {
      const joined = tail.length ? Buffer.concat([tail, piece]) : piece;
      const rest = unfinished(joined);
      if (!isUtf8(joined.subarray(0, joined.length - rest))) badByte = bytes - tail.length + firstBadByte(joined);
      tail = joined.slice(joined.length - rest);
    }
    bytes += piece.length;
  }
  if (badByte < 0 && tail.length > 0) badByte = bytes - tail.length;
  const found = encoding ?? (badByte >= 0 ? 'windows-1252' : 'utf-8');
  const certain = declared !== undefined || marked || found === 'utf-8';
  const survey = { bytes, encoding: found, certain };
  if (bytes === 0) return { ...survey, problem: { code: 'file_empty', found: 'no bytes' } };
  if (nul >= 0) return { ...survey, problem: { code: 'file_not_text', found: `a NUL byte at byte ${nul + 1}` } };
  if (found === 'utf-8' && badByte >= 0) {
    return { ...survey, problem: { code: 'encoding_invalid', found: `byte ${badByte + 1} is not UTF-8` } };
  }
  if (found.startsWith('utf-16') && bytes % 2 === 1) {
    return { ...survey, problem: { code: 'encoding_invalid', found: 'half a character is left at its end' } };
  }
  return survey;
}

/** Text of a file in pieces; the byte order mark is dropped. */
export async function* decodeText(
  pieces: AsyncIterable<Uint8Array> | Iterable<Uint8Array>,
  encoding: Encoding,
): AsyncGenerator<string> {
  const decoder = new TextDecoder(encoding);
  for await (const piece of pieces) {
    const text = decoder.decode(piece, { stream: true });
    if (text !== '') yield text;
  }
  const rest = decoder.decode();
  if (rest !== '') yield rest;
}
