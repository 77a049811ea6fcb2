import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plainNumber, readNumber } from '../../src/units/numbers.ts';

type Decimal = '.' | ',' | undefined;

describe('readNumber', () => {
  it.each<[string, Decimal, number, string]>([
    ['12', undefined, 12, ''],
    ['12.5', undefined, 12.5, ''],
    ['-3', undefined, -3, ''],
    ['+3', undefined, 3, ''],
    ['.5', undefined, 0.5, ''],
    ['12.', undefined, 12, ''],
    [' 12.5 ', undefined, 12.5, ''],
    ['-0', undefined, 0, ''],
    ['−7', undefined, -7, ''],
    ['–7', undefined, -7, ''],
    ['１２．５', undefined, 12.5, ''],
    ['007', undefined, 7, ''],
    ['45°', undefined, 45, '°'],
    ['45 deg', undefined, 45, 'deg'],
    ['12.5cm', undefined, 12.5, 'cm'],
    ['120#', undefined, 120, '#'],
    ['82 kg', undefined, 82, 'kg'],
    ['71"', undefined, 71, '"'],
    ['71 in', undefined, 71, 'in'],
    ['24 kg/m2', undefined, 24, 'kg/m2'],
    ['72/min', undefined, 72, '/min'],
    ['17 ½', undefined, 17.5, ''],
    ['17½', undefined, 17.5, ''],
    ['17 1/2', undefined, 17.5, ''],
    ['17-1/2"', undefined, 17.5, '"'],
    ['-17 3/4 in', undefined, -17.75, 'in'],
    ['½', undefined, 0.5, ''],
    ['1.234', undefined, 1.234, ''],
    ['1,234.5', undefined, 1234.5, ''],
    ['1.234,5', undefined, 1234.5, ''],
    ['1.234.567', undefined, 1234567, ''],
    ['1 234', undefined, 1234, ''],
    ['12\u00a0345', undefined, 12345, ''],
    ["1'234", undefined, 1234, ''],
    ['1’234.5', undefined, 1234.5, ''],
    ['7,5', ',', 7.5, ''],
    [',5', ',', 0.5, ''],
    ['12,', ',', 12, ''],
    ['1,234', ',', 1.234, ''],
    ['1.234', ',', 1234, ''],
    ['1.234,5', ',', 1234.5, ''],
    ['1 234,5 N', ',', 1234.5, 'N'],
    ['35,4 cm', ',', 35.4, 'cm'],
    ['1,234', '.', 1234, ''],
    ['1,234.5', '.', 1234.5, ''],
    ['1,234,567', '.', 1234567, ''],
    ['1.2E+02', undefined, 120, ''],
    ['-1.2E-01', undefined, -0.12, ''],
    ['1,2E+02', ',', 120, ''],
  ])('%s with decimal mark %s is %d and %j', (text, decimal, value, unitText) => {
    expect(readNumber(text, decimal)).toEqual({ kind: 'number', value, unitText, starred: false });
  });

  it.each([
    ['45*', 45, ''],
    ['45 **', 45, ''],
    ['45 deg *', 45, 'deg'],
  ])('%s is starred', (text, value, unitText) => {
    expect(readNumber(text, undefined)).toEqual({ kind: 'number', value, unitText, starred: true });
  });

  it.each<[string, Decimal, string[]]>([
    ['1,234', undefined, ['1234', '1.234']],
    ['-1,234', undefined, ['-1234', '-1.234']],
    ['7,5', undefined, ['7.5', '7 and 5']],
    ['35,40', undefined, ['35.4', '35 and 40']],
    ['7,2345', undefined, ['7.2345', '7 and 2345']],
    ['0,234', undefined, ['0.234', '0 and 234']],
    [',5', undefined, ['0.5']],
    ['112,120,118', undefined, ['112120118', '112 and 120 and 118']],
    ['98 102', undefined, ['98102', '98 and 102']],
    ['98 102.5', undefined, ['98102.5', '98 and 102.5']],
    ['1 234,5', undefined, ['1234.5', '1234 and 5']],
    ['1.5', ',', ['1.5']],
    ['1,234.5', ',', ['1234.5']],
    ['7,5', '.', ['7.5', '7 and 5']],
    ['1.234,5', '.', ['1234.5']],
  ])('%s with decimal mark %s is ambiguous', (text, decimal, readings) => {
    expect(readNumber(text, decimal)).toEqual({ kind: 'problem', code: 'number_ambiguous', readings });
  });

  it.each([
    ['>30', 'number_censored'],
    ['<5', 'number_censored'],
    ['< 5 cm', 'number_censored'],
    ['30+', 'number_censored'],
    ['30 cm+', 'number_censored'],
    ['≥30', 'number_censored'],
    ['>=30', 'number_censored'],
    ['＞30', 'number_censored'],
    ['~35', 'number_approximate'],
    ['ca. 35', 'number_approximate'],
    ['c. 35', 'number_approximate'],
    ['about 35 kg', 'number_approximate'],
    ['35?', 'number_approximate'],
    ['35 (?)', 'number_approximate'],
    ['≈35', 'number_approximate'],
    ['#DIV/0!', 'spreadsheet_error'],
    ['#N/A', 'spreadsheet_error'],
    ['#VALUE!', 'spreadsheet_error'],
    ['#REF!', 'spreadsheet_error'],
    ['#NAME?', 'spreadsheet_error'],
    ['#num!', 'spreadsheet_error'],
    ['#NULL!', 'spreadsheet_error'],
    ['####', 'spreadsheet_error'],
    ['Err:502', 'spreadsheet_error'],
    ['12²', 'number_unreadable'],
    ['1O', 'number_unreadable'],
    ['1O5', 'number_unreadable'],
    ['12l', 'number_unreadable'],
    ['l2', 'number_unreadable'],
    ['0x1F', 'number_unreadable'],
    ['0xFF', 'number_unreadable'],
    ['1e5', 'number_unreadable'],
    ['12E+2', 'number_unreadable'],
    ['NaN', 'number_unreadable'],
    ['Infinity', 'number_unreadable'],
    ['9'.repeat(399), 'number_unreadable'],
    ['', 'number_unreadable'],
    ['*', 'number_unreadable'],
    ['#', 'number_unreadable'],
    ['.', 'number_unreadable'],
    ['1/2', 'number_unreadable'],
    ['35/40', 'number_unreadable'],
    ['118/72', 'number_unreadable'],
    ['30 28/31', 'number_unreadable'],
    ['32, 34, 33', 'number_unreadable'],
    ['32,34,33', 'number_unreadable'],
    ['0-135', 'number_unreadable'],
    ['0–135', 'number_unreadable'],
    ['5\'11"', 'number_unreadable'],
    ['5 ft 11 in', 'number_unreadable'],
    ['12:30', 'number_unreadable'],
    ['2026-08-12', 'number_unreadable'],
    ['14.8.2026', 'number_unreadable'],
    ['(12)', 'number_unreadable'],
    ['1_000', 'number_unreadable'],
    ['WNL', 'number_unreadable'],
    ['12 12', 'number_unreadable'],
    ['1,2345,678', 'number_unreadable'],
    ['--3', 'number_unreadable'],
  ])('%s is %s', (text, code) => {
    expect(readNumber(text, undefined)).toEqual({ kind: 'problem', code });
  });

  it('never throws, and never gives a number that is not finite', () => {
    const cell = fc.oneof(
      fc.string({ unit: 'grapheme' }),
      fc.string({ unit: fc.constantFrom(...'0123456789.,-+ \'"/½¼*#?<>~eEOxkg°−–') }),
    );
    fc.assert(
      fc.property(cell, fc.constantFrom<Decimal>('.', ',', undefined), (text, decimal) => {
        const reading = readNumber(text, decimal);
        if (reading.kind === 'number') expect(Number.isFinite(reading.value)).toBe(true);
      }),
    );
  });

  it('has no digit in a value that is not in the text', () => {
    const cell = fc.string({ unit: fc.constantFrom(..."0123456789.,- '*cm"), maxLength: 15 });
    fc.assert(
      fc.property(cell, fc.constantFrom<Decimal>('.', ',', undefined), (text, decimal) => {
        const reading = readNumber(text, decimal);
        if (reading.kind === 'problem') return;
        // Zeros that lead or trail carry no value; Number prints numbers below a millionth with an exponent.
        fc.pre(reading.value === 0 || Math.abs(reading.value) >= 1e-6);
        const digits = text
          .slice(0, text.length - reading.unitText.length)
          .replace(/\D/g, '')
          .replace(/^0+/, '');
        const shown = String(reading.value).replace(/\D/g, '').replace(/^0+/, '');
        expect(digits.startsWith(shown)).toBe(true);
        expect(digits.slice(shown.length)).toMatch(/^0*$/);
      }),
    );
  });

  it.each(['1', '1,', '1 ', "1'", '"', ' ', ',', '*', '1*', '1/', '+', '#', '½'])('returns on %j repeated', (piece) => {
    expect(readNumber(piece.repeat(100_000), undefined).kind).toBe('problem');
    expect(readNumber(piece.repeat(390 / piece.length), undefined).kind).toBe('problem');
  });
});

describe('plainNumber', () => {
  it.each([
    ['12', 12],
    ['-12.50', -12.5],
    ['0.1', 0.1],
    ['180.34', 180.34],
    ['0.30000000000000004', 0.30000000000000004],
    ['123456789012345678901', 123456789012345680000],
    ['-0', 0],
    ['', Number.NaN],
    ['-', Number.NaN],
    ['.', Number.NaN],
    ['.5', Number.NaN],
    ['5.', Number.NaN],
    ['+5', Number.NaN],
    ['1.2.3', Number.NaN],
    ['1e5', Number.NaN],
    [' 1', Number.NaN],
    ['1 ', Number.NaN],
    ['٣', Number.NaN],
    ['9'.repeat(100_000), Number.NaN],
  ])('%s is %d', (text, value) => {
    expect(plainNumber(text)).toBe(value);
  });

  it('reads a part of a text', () => {
    expect(plainNumber('a,12.5,b', 2, 6)).toBe(12.5);
    expect(plainNumber('a,12.5,b', 2, 7)).toBeNaN();
    expect(plainNumber('12', 1, 9)).toBeNaN();
  });

  it('agrees with Number on canonical decimals', () => {
    const digits = (minLength: number) =>
      fc.string({ unit: fc.constantFrom(...'0123456789'), minLength, maxLength: 20 });
    fc.assert(
      fc.property(fc.constantFrom('', '-'), digits(1), fc.option(digits(1)), (sign, whole, fraction) => {
        const text = sign + whole + (fraction === null ? '' : `.${fraction}`);
        expect(plainNumber(text)).toBe(Number(text) + 0);
      }),
      { numRuns: 2000 },
    );
  });
});
