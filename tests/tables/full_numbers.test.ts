import fc from 'fast-check';
import { expect, it } from 'vitest';
import { FullNumbers } from '../../src/tables/full_numbers.ts';

function written(values: readonly number[]): string {
  const numbers = new FullNumbers();
  for (const value of values) numbers.add(value);
  numbers.print();
  const bytes = Buffer.alloc(values.length * 32 + 4);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.length);
  const end = values.reduce((at) => numbers.writeNext(view, at), 0);
  return bytes.toString('latin1', 0, end);
}

it('long numbers are written as ECMAScript prints them, repeats and the longest of all included', () => {
  // Number.prototype.toString, ECMA-262: the shortest decimal that gives the double.
  const values = [0.1 + 0.2, 100 / 3, 100 / 3, 5e-324, 1.7976931348623157e308, 1e-7, 0.1 + 0.2];
  expect(written(values)).toBe(values.map((value) => `${value},`).join(''));
});

it('whatever they are (property)', () => {
  const value = fc.double({ min: 0, noNaN: true, noDefaultInfinity: true });
  fc.assert(
    fc.property(fc.array(value, { maxLength: 40 }), (values) => {
      expect(written(values)).toBe(values.map((one) => `${one},`).join(''));
    }),
  );
});
