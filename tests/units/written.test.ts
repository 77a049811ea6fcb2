import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseUnit } from '../../src/units/unit.ts';
import { readUnit } from '../../src/units/written.ts';

function codeOf(text: string, wanted: string): string {
  const unit = readUnit(text, parseUnit(wanted)!);
  return unit === 'unknown' ? unit : unit.code;
}

describe('readUnit', () => {
  it.each([
    ['kg', 'N', 'kgf'],
    ['Kgs', 'N', 'kgf'],
    ['kilos', 'N', 'kgf'],
    ['kp', 'N', 'kgf'],
    ['kgf', 'N', 'kgf'],
    ['lb', 'N', '[lbf_av]'],
    ['LBS.', 'N', '[lbf_av]'],
    ['#', 'N', '[lbf_av]'],
    ['pounds', 'kgf', '[lbf_av]'],
    ['[lb_av]', 'N', '[lbf_av]'],
    ['lbf', 'N', '[lbf_av]'],
    ['newtons', 'N', 'N'],
    ['n', 'N', 'N'],
    ['(N)', 'kgf', 'N'],
    ['kg', 'kg', 'kg'],
    ['KG', 'kg', 'kg'],
    ['[kg]', 'kg', 'kg'],
    ['lbs', 'kg', '[lb_av]'],
    ['#', 'kg', '[lb_av]'],
    ['cm', '[in_i]', 'cm'],
    ['CM.', 'cm', 'cm'],
    ['centimeters', 'cm', 'cm'],
    ['Metres', 'cm', 'm'],
    ['mm', 'cm', 'mm'],
    ['in.', 'cm', '[in_i]'],
    ['inches', 'cm', '[in_i]'],
    ['"', 'cm', '[in_i]'],
    ['″', 'cm', '[in_i]'],
    ['”', 'cm', '[in_i]'],
    ['ft', 'cm', '[ft_i]'],
    ['’', 'cm', '[ft_i]'],
    ['°', 'deg', 'deg'],
    ['º', 'deg', 'deg'],
    ['Degrees', 'deg', 'deg'],
    ['°/s', 'deg/s', 'deg/s'],
    ['mmHg', 'mm[Hg]', 'mm[Hg]'],
    ['mm Hg', 'mm[Hg]', 'mm[Hg]'],
    ['bpm', '/min', '/min'],
    ['beats / min', '/min', '/min'],
    ['/min', '/min', '/min'],
    ['secs', 's', 's'],
    ['S', 's', 's'],
    ['ms', 's', 'ms'],
    ['min', 's', 'min'],
    ['"', 's', 'unknown'],
    ["'", 's', 'unknown'],
    ['Nm', 'N.m', 'N.m'],
    ['N·m', 'N.m', 'N.m'],
    ['N*m', 'N.m', 'N.m'],
    ['N m', 'N.m', 'N.m'],
    ['ft-lb', 'N.m', '[ft_i].[lbf_av]'],
    ['ft·lbs', 'N.m', '[ft_i].[lbf_av]'],
    ['ft lbs', 'N.m', '[ft_i].[lbf_av]'],
    ['in-lb', 'N.m', '[in_i].[lbf_av]'],
    ['kgf·m', 'N.m', 'kgf.m'],
    ['kgm', 'N.m', 'kgf.m'],
    ['kg·m', 'N.m', 'kgf.m'],
    ['kg.m', 'N.m', 'kgf.m'],
    ['Nm/kg', 'N.m/kg', 'N.m/kg'],
    ['N·m / kg', 'N.m/kg', 'N.m/kg'],
    ['N/kg', 'N/kg', 'N/kg'],
    ['kg/m²', 'kg/m2', 'kg/m2'],
    ['kg/m^2', 'kg/m2', 'kg/m2'],
    ['percent', '%', '%'],
    ['%', '1', '%'],
    ['pts', '1', '1'],
    ['{score}', '1', '{score}'],
    ['lb', 'cm', '[lb_av]'],
    ['cm', 'N', 'cm'],
    ['m', 's', 'm'],
    ['stones', 'kg', 'unknown'],
    ['', 'kg', 'unknown'],
    ['-', 'kg', 'unknown'],
    ['__proto__', 'kg', 'unknown'],
    ['k'.repeat(100_000), 'kg', 'unknown'],
  ])('%s where %s is wanted is %s', (text, wanted, expected) => {
    expect(codeOf(text, wanted)).toBe(expected);
  });

  it('never throws', () => {
    const wanted = parseUnit('N')!;
    fc.assert(fc.property(fc.string({ unit: 'grapheme' }), (text) => readUnit(text, wanted) !== undefined));
  });
});
