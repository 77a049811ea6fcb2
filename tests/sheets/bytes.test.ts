import { describe, expect, it } from 'vitest';
import { codes, ingestText, shorts } from './ingest_text.ts';

const entry = { date: '2026-08-17' };
const SHEET = 'ID,Ht\nK001,5’11”\n';
const HEIGHT = ['height 1 = 180.34'];

const utf16le = Buffer.from(`\ufeff${SHEET}`, 'utf16le');

describe('bytes that a pipe hands over one by one', () => {
  it.each<readonly [name: string, bytes: Uint8Array]>([
    ['UTF-8', Buffer.from(SHEET)],
    ['UTF-8 with a mark', Buffer.from(`\ufeff${SHEET}`)],
    ['UTF-16LE with a mark', utf16le],
    ['UTF-16BE with a mark', Buffer.from(utf16le).swap16()],
    // 0x92 and 0x94 are the quotes of Windows code page 1252 (WHATWG Encoding Standard).
    ['Windows-1252', Uint8Array.from(SHEET, (c) => ({ '’': 0x92, '”': 0x94 })[c] ?? c.charCodeAt(0))],
  ])('%s', async (_, bytes) => {
    for (const piece of [1, 2, 3, 5]) expect(shorts(await ingestText(bytes, { entry, piece }))).toEqual(HEIGHT);
  });

  it.each<readonly [name: string, bytes: Uint8Array, found: string]>([
    ['a workbook', Uint8Array.of(0x50, 0x4b, 3, 4, 20, 0, 6, 0), 'a workbook or zip archive'],
    ['an old workbook', Uint8Array.of(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1), 'an old workbook'],
    ['a PDF', Buffer.from('%PDF-1.7\n'), 'a PDF'],
    ['a NUL byte', Buffer.from('ID,Ht\nK001,18\u00000\n'), 'a NUL byte at byte 14'],
    ['UTF-16 without a mark', Buffer.from(SHEET, 'utf16le'), 'a NUL byte at byte 2'],
  ])('%s is no text', async (_, bytes, found) => {
    for (const piece of [1, 3, 65_536]) {
      const ingested = await ingestText(bytes, { entry, piece });
      expect(codes(ingested)).toEqual(['file_not_text @-:-']);
      expect(ingested.rejects[0].message).toBe(`The file is not a text file: it holds ${found}.`);
      expect(ingested.ledger[0].cells).toBe(0);
    }
  });
});

describe('an encoding', () => {
  it('is taken as declared', async () => {
    const bare = Buffer.from(SHEET, 'utf16le');
    expect(shorts(await ingestText(bare, { entry: { ...entry, encoding: 'utf-16le' } }))).toEqual(HEIGHT);
  });

  it('that the bytes contradict is a reject that says where', async () => {
    const bytes = Uint8Array.from(SHEET, (c) => ({ '’': 0x92, '”': 0x94 })[c] ?? c.charCodeAt(0));
    const { rejects } = await ingestText(bytes, { entry: { ...entry, encoding: 'utf-8' } });
    expect(rejects.map(({ code, message }) => [code, message])).toEqual([
      ['encoding_invalid', 'The file is not UTF-8: byte 13 is not UTF-8.'],
    ]);
  });

  it('of two bytes that ends with one is a reject', async () => {
    const { rejects } = await ingestText(utf16le.subarray(0, -1), { entry });
    expect(rejects.map(({ code, message }) => [code, message])).toEqual([
      ['encoding_invalid', 'The file is not UTF-16LE: half a character is left at its end.'],
    ]);
  });
});
