import fc from 'fast-check';
import { expect, it } from 'vitest';
import { readSide } from '../../src/units/sides.ts';

it.each([
  ['L', 'left'],
  ['l.', 'left'],
  ['Lt', 'left'],
  ['lft', 'left'],
  ['LEFT', 'left'],
  ['(L)', 'left'],
  ['LLE', 'left'],
  ['LUE', 'left'],
  ['Left leg', 'left'],
  ['R', 'right'],
  ['rt.', 'right'],
  ['Right', 'right'],
  [' (R) ', 'right'],
  ['RLE', 'right'],
  ['RUE', 'right'],
  ['R hand', 'right'],
  ['both', 'both'],
  ['B', 'both'],
  ['bil.', 'both'],
  ['Bilateral', 'both'],
  ['none', 'none'],
  ['D', 'dominant'],
  ['Dom', 'dominant'],
  ['dominant', 'dominant'],
  ['throwing arm', 'dominant'],
  ['Kicking', 'dominant'],
  ['ND', 'other'],
  ['N.D.', 'other'],
  ['Non-dom', 'other'],
  ['non dominant', 'other'],
  ['nondominant', 'other'],
  ['other', 'other'],
  ['plant foot', 'other'],
  ['stance', 'other'],
  ['LL', undefined],
  ['RL', undefined],
  ['U', undefined],
  ['I', undefined],
  ['n/a', undefined],
  ['', undefined],
  ['leg', undefined],
  ['constructor', undefined],
  [' '.repeat(100_000), undefined],
])('%s is %s', (text, side) => {
  expect(readSide(text)).toBe(side);
});

it('never throws', () => {
  fc.assert(fc.property(fc.string({ unit: 'grapheme' }), (text) => void readSide(text)));
});
