import { expect, test } from 'vitest';
import { unitText, withUnit } from '../../src/units/unit_text.ts';

// Common practice: unit symbols as the SI brochure and staff write them.
test.each([
  ['N', 'N'],
  ['%', '%'],
  ['deg', '°'],
  ['cm', 'cm'],
  ['mm[Hg]', 'mmHg'],
  ['[in_i]', 'in'],
  ['[lbf_av]', 'lbf'],
  ['1', ''],
  ['N/kg', 'N/kg'],
  ['N.m/kg', 'N·m/kg'],
  ['m/s2', 'm/s²'],
  ['kg.m-2', 'kg·m⁻²'],
  ['/min', '/min'],
  ['1/min', '/min'],
  ['{beats}/min', 'beats/min'],
  ['{a/b.c}', 'a/b.c'],
])('%s is written %s', (code, text) => {
  expect(unitText(code)).toBe(text);
});

test.each([
  ['11.2', '%', '11.2 %'],
  ['35', 'deg', '35°'],
  ['0.72', '1', '0.72'],
  ['148', 'mm[Hg]', '148 mmHg'],
])('%s in %s is written %s', (number, unit, text) => {
  expect(withUnit(number, unit)).toBe(text);
});
