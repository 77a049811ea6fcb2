import { createRequire } from 'node:module';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  ANGLE,
  convert,
  FORCE,
  LENGTH,
  MASS,
  multiplier,
  NONE,
  PRESSURE,
  parseUnit,
  TIME,
  TORQUE,
  type Unit,
} from '../../src/units/unit.ts';

const { UcumLhcUtils } = createRequire(import.meta.url)('@lhncbc/ucum-lhc');
const ucum = UcumLhcUtils.getInstance();

function unit(code: string): Unit {
  const parsed = parseUnit(code);
  if (parsed === undefined) throw new Error(`${code} is no unit`);
  return parsed;
}

describe('factors', () => {
  it.each([
    ['[lbf_av]', 4.4482216152605, 'NIST SP 811 (2008), footnote 23'],
    ['kgf', 9.80665, 'NIST SP 811 (2008), B.8'],
    ['gf', 0.00980665, 'NIST SP 811 (2008), B.8'],
    ['[lb_av]', 0.45359237, 'NIST SP 811 (2008), B.8'],
    ['[oz_av]', 0.028349523125, 'worked out by hand: 0.45359237 / 16'],
    ['[in_i]', 0.0254, 'NIST SP 811 (2008), B.8'],
    ['[ft_i]', 0.3048, 'NIST SP 811 (2008), B.8'],
    ['[yd_i]', 0.9144, 'NIST SP 811 (2008), B.8'],
    ['[ft_i].[lbf_av]', 1.3558179483314003, 'worked out by hand: 0.3048 × 4.4482216152605 = 1.355817948331400 4'],
    ['[in_i].[lbf_av]', 0.1129848290276167, 'worked out by hand: 0.0254 × 4.4482216152605'],
    ['kgf.m', 9.80665, 'NIST SP 811 (2008), B.8'],
    ['mm[Hg]', 133.322387415, 'worked out by hand: 13595.1 × 9.80665 / 1000; NIST SP 811 prints 1.333 224 E+02'],
    ['deg', Math.PI / 180, 'SI Brochure (9th ed.), table 8'],
    ['min', 60, 'SI Brochure (9th ed.), table 8'],
    ['h', 3600, 'SI Brochure (9th ed.), table 8'],
    ['kg', 1, 'SI Brochure (9th ed.), table 2'],
    ['km', 1000, 'SI Brochure (9th ed.), table 7'],
    ['%', 0.01, 'SI Brochure (9th ed.), 5.4.7'],
    ['/min', 1 / 60, 'worked out by hand'],
    ['kg/m2', 1, 'coherent'],
    ['N.m/kg', 1, 'coherent'],
    ['{score}', 1, 'UCUM: an annotation alone is the unit 1'],
  ])('%s is %d in SI', (code, factor) => {
    expect(unit(code).factor).toBe(factor);
  });

  it('prints the inch pound of NIST SP 811 to its digits', () => {
    expect(unit('[in_i].[lbf_av]').factor.toPrecision(7)).toBe('0.1129848'); // NIST SP 811 (2008), B.8: 1.129 848 E-01
  });

  // The other implementation counts in grams and has the metre of mercury of UCUM, 133.3220 kPa.
  it.each([
    ['cm', 'm'],
    ['mm', 'cm'],
    ['km', 'm'],
    ['um', 'mm'],
    ['dm', 'cm'],
    ['g', 'kg'],
    ['mg', 'g'],
    ['ms', 's'],
    ['min', 's'],
    ['h', 'min'],
    ['kN', 'N'],
    ['kgf', 'N'],
    ['gf', 'N'],
    ['[lbf_av]', 'N'],
    ['[lbf_av]', 'kgf'],
    ['[lb_av]', 'kg'],
    ['[oz_av]', '[lb_av]'],
    ['[in_i]', 'cm'],
    ['[ft_i]', '[in_i]'],
    ['[yd_i]', 'm'],
    ['deg', 'rad'],
    ['kPa', 'Pa'],
    ['m[Hg]', 'mm[Hg]'],
    ['J', 'N.m'],
    ['W', 'J/s'],
    ['Hz', '/min'],
    ['%', '1'],
    ['{score}', '1'],
    ['[ft_i].[lbf_av]', 'N.m'],
    ['[in_i].[lbf_av]', 'kgf.m'],
    ['[lb_av]/[in_i]2', 'kg/m2'],
    ['deg/s', 'rad/min'],
    ['m.s-2', 'cm/s2'],
    ['[lbf_av]/[lb_av]', 'N/kg'],
  ])('%s in %s agrees with another implementation of UCUM', (from, to) => {
    const other = ucum.convertUnitTo(from, 1, to);
    expect(other.status).toBe('succeeded');
    expect(multiplier(unit(from), unit(to)) / other.toVal).toBeCloseTo(1, 13);
  });
});

describe('dimensions', () => {
  it.each([
    ['N', FORCE],
    ['[lbf_av]', FORCE],
    ['kg.m/s2', FORCE],
    ['kg', MASS],
    ['[in_i]', LENGTH],
    ['deg', ANGLE],
    ['mm[Hg]', PRESSURE],
    ['N/m2', PRESSURE],
    ['h', TIME],
    ['kgf.m', TORQUE],
    ['%', NONE],
    ['1', NONE],
    ['{AE}', NONE],
    ['m/m', NONE],
    ['/min', 'T-1'],
    ['Hz', 'T-1'],
    ['kg/m2', 'L-2.M'],
    ['N/kg', 'L.T-2'],
    ['deg/s', 'T-1.A'],
  ])('%s is of %s', (code, dimension) => {
    expect(unit(code).dimension).toBe(dimension);
  });

  it('keeps an angle apart from a plain number', () => {
    expect(ANGLE).not.toBe(NONE);
    expect(() => convert(1, unit('deg'), unit('1'))).toThrow(RangeError);
  });
});

describe('parseUnit', () => {
  it.each([
    '',
    ' ',
    'lb',
    'KG',
    'Kg',
    'M',
    'kmin',
    'kdeg',
    'k[lb_av]',
    'kk',
    'm0',
    'm10',
    'm.',
    '.m',
    'm//s',
    'm s',
    '(m)',
    '//m',
    '/',
    '12',
    'constructor',
    '{open',
    '{a}2',
    'm.'.repeat(50),
  ])('%s is refused', (code) => {
    expect(parseUnit(code)).toBeUndefined();
  });

  it('keeps the code as given', () => {
    expect(unit('N{peak}').code).toBe('N{peak}');
  });
});

describe('convert', () => {
  it.each([
    [71, '[in_i]', 'cm', 180.34, 'worked out by hand: 71 × 2.54'],
    [180.34, 'cm', '[in_i]', 71, 'worked out by hand: 180.34 / 2.54'],
    [100, '[lbf_av]', 'N', 444.82216152605, 'worked out by hand: 100 × 4.4482216152605'],
    [444.82216152605, 'N', '[lbf_av]', 100, 'worked out by hand'],
    [100, 'kgf', 'N', 980.665, 'worked out by hand: 100 × 9.80665'],
    [180, '[lb_av]', 'kg', 81.6466266, 'worked out by hand: 180 × 0.45359237'],
    [100, '[ft_i].[lbf_av]', 'N.m', 135.58179483314004, 'worked out by hand: 100 × 1.3558179483314004'],
    [1.8, 'm', 'cm', 180, 'worked out by hand'],
    [72, '/min', 'Hz', 1.2, 'worked out by hand: 72 / 60'],
    [120, 'mm[Hg]', 'kPa', 15.9986864898, 'worked out by hand: 120 × 0.133322387415'],
    [180, 'deg', 'rad', Math.PI, 'SI Brochure (9th ed.), table 8'],
    [35, '%', '1', 0.35, 'worked out by hand'],
  ])('%d %s in %s is %d', (value, from, to, expected) => {
    expect(convert(value, unit(from), unit(to))).toBe(expected);
  });

  it('gives the very same number back when the codes are equal', () => {
    expect(convert(0.1 + 0.2, unit('mm[Hg]'), unit('mm[Hg]'))).toBe(0.1 + 0.2);
  });

  it('throws on different dimensions', () => {
    expect(() => convert(1, unit('kg'), unit('N'))).toThrow('kg does not convert into N');
  });

  const pairs = [
    ['[in_i]', 'cm'],
    ['[lbf_av]', 'N'],
    ['kgf', '[lbf_av]'],
    ['[ft_i].[lbf_av]', 'N.m'],
    ['deg', 'rad'],
    ['mm[Hg]', 'kPa'],
    ['[lb_av]', 'kg'],
  ] as const;
  it('comes back to within rounding', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...pairs),
        fc.double({ min: -1e6, max: 1e6, noNaN: true }).filter((value) => Math.abs(value) > 1e-6 || value === 0),
        ([from, to], value) => {
          const there = convert(value, unit(from), unit(to));
          const back = convert(there, unit(to), unit(from));
          expect(Math.abs(back - value)).toBeLessThanOrEqual(4 * Number.EPSILON * Math.abs(value));
          expect(Math.abs(there - value * multiplier(unit(from), unit(to)))).toBeLessThanOrEqual(
            2 * Number.EPSILON * Math.abs(there),
          );
        },
      ),
    );
  });
});
