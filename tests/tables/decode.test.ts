import { describe, expect, it } from 'vitest';
import { decodeText, type Encoding, surveyBytes } from '../../src/tables/decode.ts';

const bytes = (...values: number[]): Uint8Array[] => [Uint8Array.from(values)];
const utf8 = (text: string): Uint8Array[] => [Buffer.from(text)];

/** The same bytes in pieces of one, to cut every sequence of bytes apart. */
const single = (pieces: Uint8Array[]): Uint8Array[] =>
  pieces.flatMap((piece) => [...piece].map((byte) => Uint8Array.from([byte])));

async function text(pieces: Uint8Array[], encoding: Encoding): Promise<string> {
  let all = '';
  for await (const piece of decodeText(pieces, encoding)) all += piece;
  return all;
}

describe('what the bytes of a file say', () => {
  it.each([
    ['plain ASCII', utf8('a,b\n'), 'utf-8', undefined],
    ['UTF-8 with accents', utf8('Bjørn,5’11”\n'), 'utf-8', undefined],
    ['UTF-8 with a mark', [Uint8Array.from([0xef, 0xbb, 0xbf, 0x61])], 'utf-8', undefined],
    ['UTF-16 little endian with a mark', bytes(0xff, 0xfe, 0x61, 0), 'utf-16le', undefined],
    ['UTF-16 big endian with a mark', bytes(0xfe, 0xff, 0, 0x61), 'utf-16be', undefined],
    ['bytes that are not UTF-8', bytes(0x61, 0x92, 0x62), 'windows-1252', undefined],
    ['nothing', bytes(), 'utf-8', 'file_empty'],
    ['a NUL byte', bytes(0x61, 0, 0x62), 'utf-8', 'file_not_text'],
    ['a zip archive', bytes(0x50, 0x4b, 3, 4, 0, 0), 'utf-8', 'file_not_text'],
    ['an old workbook', bytes(0xd0, 0xcf, 0x11, 0xe0, 0), 'utf-8', 'file_not_text'],
  ])('%s', async (_, pieces, encoding, problem) => {
    const survey = await surveyBytes(pieces);
    expect([survey.encoding, survey.problem?.code]).toEqual([encoding, problem]);
  });

  it('says where declared UTF-8 breaks, also across pieces', async () => {
    const pieces = [...utf8('ab…'), ...bytes(0x92, 0x61)];
    for (const cut of [pieces, single(pieces)]) {
      const { problem } = await surveyBytes(cut, 'utf-8');
      expect(problem).toEqual({ code: 'encoding_invalid', found: 'byte 6 is not UTF-8' });
    }
  });

  it('takes a sequence that is cut apart for what it is', async () => {
    const { encoding, certain } = await surveyBytes(single(utf8('5’11” é 😀\n')));
    expect([encoding, certain]).toEqual(['utf-8', true]);
  });
});

describe('text of bytes', () => {
  it('drops the mark', async () => {
    expect(await text([Uint8Array.from([0xef, 0xbb, 0xbf, 0x61])], 'utf-8')).toBe('a');
    expect(await text(bytes(0xff, 0xfe, 0x61, 0), 'utf-16le')).toBe('a');
  });

  // Windows code page 1252, published by its maker and the WHATWG Encoding Standard: 0x91 to 0x94 are quotes.
  it('reads curly quotes of Windows-1252, in one piece or many', async () => {
    const pieces = bytes(0x35, 0x92, 0x31, 0x31, 0x94);
    expect(await text(pieces, 'windows-1252')).toBe('5’11”');
    expect(await text(single(pieces), 'windows-1252')).toBe('5’11”');
  });
});
