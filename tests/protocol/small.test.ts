import { expect, test } from 'vitest';
import { didYouMean, nearest } from '../../src/protocol/nearest.ts';
import { perCode } from '../../src/protocol/per_code.ts';
import { quotedYaml, shortened } from '../../src/protocol/quoting.ts';
import { parseUnit } from '../../src/units/unit.ts';

// Worked out by hand: a unit per another is the first times the other with every exponent turned; UCUM reads from left
// to right.
test.each([
  ['N', 'kg', 'N/kg'],
  ['N', 'kg/m2', 'N/kg.m2'],
  ['N', '/min', 'N.min'],
  ['cm', '1', 'cm/1'],
  ['N.m', 'mm[Hg]', 'N.m/mm[Hg]'],
  ['1', 's.{trial}', '1/s/{trial}'],
])('%s per %s is %s', (unit, per, code) => {
  expect(perCode(unit, per)).toBe(code);
  expect(parseUnit(code)).toBeDefined();
});

test('a kilogram per square metre in the divisor comes out upside down', () => {
  const left = parseUnit(perCode('N', 'kg/m2'))!;
  expect(left.dimension).toBe(parseUnit('N.m2/kg')!.dimension);
  expect(left.factor).toBe(1);
});

test.each([
  ['adducton', ['adduction', 'abduction'], 'adduction'],
  ['HIP', ['hip', 'knee'], 'hip'],
  ['zzzzzz', ['hip', 'knee'], undefined],
  ['hip', [], undefined],
  ['x'.repeat(500), ['hip'], undefined],
])('nearest to %s', (word, known, expected) => {
  expect(nearest(word, known)).toBe(expected);
});

test('without a near word all are named', () => {
  expect(didYouMean('zzzzzz', ['hip', 'knee'])).toBe('Known: hip, knee.');
  expect(didYouMean('zzzzzz', [])).toBe('There is none to choose from yet.');
});

test('texts are quoted so that YAML takes them literally', () => {
  expect(quotedYaml('mm[Hg]')).toBe('"mm[Hg]"');
  expect(quotedYaml(`6" x 5'`)).toBe(`'6" x 5'''`);
  expect(shortened('a\nb')).toBe('a');
  expect(shortened('x'.repeat(100))).toHaveLength(60);
});
