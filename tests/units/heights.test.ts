import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readFeetAndInches, readMetresAndCentimetres } from '../../src/units/heights.ts';

describe('readFeetAndInches', () => {
  // Inches worked out by hand: 12 × feet + inches.
  it.each([
    ['5\'11"', 71],
    ['5’11”', 71],
    ['5′11″', 71],
    ["5'11''", 71],
    ['5`11', 71],
    ['5\' 11 1/2"', 71.5],
    ['5\'11½"', 71.5],
    ['5\' ½"', 60.5],
    ["5'11.5", 71.5],
    ["5'11,5", 71.5],
    ["5'11", 71],
    ['5\'-11"', 71],
    ['5 ft 11 in', 71],
    ['5 ft. 11 in.', 71],
    ['5 FT, 11 IN', 71],
    ['5ft11', 71],
    ['5ft11in', 71],
    ['5 feet 11 inches', 71],
    ['5 foot 11', 71],
    ['5-11', 71],
    ['5–11', 71],
    ['5 - 11', 71],
    ['5 11', 71],
    ['5-11"', 71],
    ['5 11 3/4', 71.75],
    ['6-0', 72],
    ["6'", 72],
    ["6'4", 76],
    ['6ft', 72],
    [' 6  ft  2 ', 74],
    ['５＇１１＂', 71],
  ])('%s is %d inches', (text, value) => {
    expect(readFeetAndInches(text)).toEqual({ kind: 'inches', value });
  });

  it.each([
    ['5.11', ['5 ft 11 in', '5.11 ft']],
    ['5,11', ['5 ft 11 in', '5.11 ft']],
    ['5.11 ft', ['5 ft 11 in', '5.11 ft']],
    ['5.9', ['5 ft 9 in', '5.9 ft']],
    ['511', ['5 ft 11 in', '511']],
    ['602', ['6 ft 2 in', '602']],
    ['5.1', ['5 ft 1 in', '5 ft 10 in', '5.1 ft']],
    ['5.10', ['5 ft 10 in', '5.10 ft']],
    ['5\'14"', ['5 ft 14 in', '5.14 ft']],
    ['5\'14.5"', ['5 ft 14.5 in']],
    ['5-12', ['5 ft 12 in', '5.12 ft']],
  ])('%s is ambiguous', (text, readings) => {
    expect(readFeetAndInches(text)).toEqual({ kind: 'problem', code: 'height_ambiguous', readings });
  });

  it.each([
    ['11-May', ['5\'11"']],
    ['May-11', ['5\'11"']],
    ['11 May', ['5\'11"']],
    ['5-Nov', ['5\'11"']],
    ['11-May-26', ['5\'11"']],
    ['11-May-2026', ['5\'11"']],
    ['May 11, 2026', ['5\'11"']],
    ['5/11/2026', ['5\'11"']],
    ['5/11/26', ['5\'11"']],
    ['5/11', ['5\'11"']],
    ['5.11.2026', ['5\'11"']],
    ['05/11/2026', ['5\'11"']],
    ['2026-05-11', ['5\'11"']],
    ['2026-05-11 00:00:00', ['5\'11"']],
    ['2026-11-05', ['5\'11"']],
    ['46153', ['5\'11"']], // worked out by hand: serial 46153 is 2026-05-11
    ['6-May', ['5\'6"', '6\'5"']],
    ['5/6/2026', ['5\'6"', '6\'5"']],
    ['2026-08-30', []],
  ])('%s was turned into a date', (text, readings) => {
    expect(readFeetAndInches(text)).toEqual({ kind: 'problem', code: 'height_as_date', readings });
  });

  it.each([
    '71',
    '180',
    '1.80',
    '1,80',
    '5.75',
    '5.0',
    '71"',
    '71 in',
    '180 cm',
    '1.80 m',
    '1 80',
    '1 234',
    '5 1/2',
    '5\'11 5/3"',
    "5'11 1/0",
    '5-111',
    '17 ½',
    '11-Foo',
    '99999',
    '',
    'NT',
    "5'11 cm",
  ])('%s is no such notation', (text) => {
    expect(readFeetAndInches(text)).toBeUndefined();
  });

  it('never throws', () => {
    fc.assert(fc.property(fc.string({ unit: 'grapheme' }), (text) => void readFeetAndInches(text)));
    const height = fc.string({ unit: fc.constantFrom(...'0123456789\'"-/. ftin½’”May'), maxLength: 45 });
    fc.assert(fc.property(height, (text) => void readFeetAndInches(text)));
  });

  it.each(['1', ' ', "'", '"', ',', '5-', '½'])('returns on %j repeated', (piece) => {
    expect(readFeetAndInches(piece.repeat(100_000))).toBeUndefined();
  });
});

describe('readMetresAndCentimetres', () => {
  it.each([
    ['1m80', 1.8],
    ['1 m 80', 1.8],
    ['1 M 80', 1.8],
    ['1m 80cm', 1.8],
    ['1 m 80 cm', 1.8],
    ['1 metre 80 centimetres', 1.8],
    ['1 m, 80', 1.8],
    ['1m05', 1.05],
    ['1 m 5 cm', 1.05],
    ['1m80.5', 1.805],
    ['1m80,5', 1.805],
    ['2m00', 2],
    ['0m95', 0.95],
    ['１ｍ８０', 1.8],
    ['1\u00a0m\u00a080', 1.8],
  ])('%s is %d m', (text, value) => {
    expect(readMetresAndCentimetres(text)).toEqual({ kind: 'metres', value });
  });

  it.each([
    ['1m8', ['1 m 8 cm', '1.8 m']],
    ['6 m 5', ['6 m 5 cm', '6.5 m']],
  ])('%s is ambiguous', (text, readings) => {
    expect(readMetresAndCentimetres(text)).toEqual({ kind: 'problem', code: 'height_ambiguous', readings });
  });

  it.each(['1.80 m', '1 m', '180 cm', '1m805', '1mm80', '12m80', '1m80 kg', 'm80', '1 min 80', '1m 80m', '', '1m'])(
    '%s is no such notation',
    (text) => {
      expect(readMetresAndCentimetres(text)).toBeUndefined();
    },
  );

  it('returns at once on a long cell', () => {
    expect(readMetresAndCentimetres('1m8 '.repeat(100_000))).toBeUndefined();
  });
});
