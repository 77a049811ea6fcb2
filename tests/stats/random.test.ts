import { expect, test } from 'vitest';
import { seededDraw } from '../../src/stats/random.ts';

test('draws are whole numbers below the bound, each about as often, and the same for the same seed', () => {
  const draw = seededDraw(7);
  const drawn = Array.from({ length: 60_000 }, () => draw(6));
  const counts = [0, 1, 2, 3, 4, 5].map((number) => drawn.filter((one) => one === number).length);
  expect(counts.reduce((a, b) => a + b)).toBe(60_000);
  // Six standard deviations of a binomial count: 6 √(60000 · 5/36).
  for (const count of counts) expect(Math.abs(count - 10_000)).toBeLessThan(548);
  const again = seededDraw(7);
  expect(Array.from({ length: 100 }, () => again(6))).toEqual(drawn.slice(0, 100));
  const other = seededDraw(8);
  expect(Array.from({ length: 100 }, () => other(6))).not.toEqual(drawn.slice(0, 100));
});
