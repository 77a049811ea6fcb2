import fc from 'fast-check';
import { expect, it } from 'vitest';
import { foldKey } from '../../src/units/keys.ts';

it.each([
  ['  Hip  Add (L) ', 'hip add l'],
  ['HIP_ADD-L', 'hip add l'],
  ['Björn Åse', 'bjorn ase'],
  ['Straße', 'strasse'],
  ['Łódź', 'lodz'],
  ["O'Neil-Reed", 'o neil reed'],
  ['Ｈｉｐ', 'hip'],
  ['ﬁve', 'five'],
  ['', ''],
  ['...', ''],
  [' '.repeat(100_000), ''],
])('%j folds to %j', (text, key) => {
  expect(foldKey(text)).toBe(key);
});

it('is stable, lower case and single spaced', () => {
  fc.assert(
    fc.property(fc.string({ unit: 'grapheme' }), (text) => {
      const key = foldKey(text);
      expect(key).toMatch(/^(?:[a-z0-9]+(?: [a-z0-9]+)*)?$/);
      expect(foldKey(key)).toBe(key);
    }),
  );
});
