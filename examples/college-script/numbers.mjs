// Seeded draws, and numbers as hands write them. No clock and no locale, and only sums, products and square roots, which
// are the same to the last digit everywhere; powers and logarithms are not.
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

const SEED = 20260817;
const DAY = 86_400_000;

export const NEWTONS_A_KILOGRAM = 9.80665;
export const NEWTONS_A_POUND = 4.4482216152605;
export const KILOGRAMS_A_POUND = 0.45359237;

const generator = xoroshiro128plus(SEED);

/** From 0 up to 1. */
export const uniform = () => uniformFloat64(generator);
export const chance = (share) => uniform() < share;
export const oneOf = (list) => list[Math.floor(uniform() * list.length)];

/** Nearly normal: twelve uniform draws have a variance of exactly 1. */
export function normal(mean, sd) {
  let sum = -6;
  for (let draw = 0; draw < 12; draw++) sum += uniform();
  return mean + sd * sum;
}

/** The order in which people happen to queue. */
export function shuffled(list) {
  const queue = [...list];
  for (let last = queue.length - 1; last > 0; last--) {
    const other = Math.floor(uniform() * (last + 1));
    [queue[last], queue[other]] = [queue[other], queue[last]];
  }
  return queue;
}

export const SIDES = ['L', 'R'];
export const bySide = (make) => ({ L: make('L'), R: make('R') });
export const times = (count, make) => Array.from({ length: count }, (_, at) => make(at));
export const between = (low, high, value) => Math.min(high, Math.max(low, value));

export const whole = (value) => String(Math.round(value));
export const tenths = (value) => (Math.round(value * 10) / 10).toFixed(1);
export const halves = (value) => (Math.round(value * 2) / 2).toFixed(1);
export const even = (value) => 2 * Math.round(value / 2);
export const pad = (number, digits) => String(number).padStart(digits, '0');
export const comma = (text) => text.replace('.', ',');
export const kilograms = (newtons) => tenths(newtons / NEWTONS_A_KILOGRAM);
export const pounds = (newtons) => tenths(newtons / NEWTONS_A_POUND);

export function feetAndInches(centimetres) {
  const inches = Math.round(centimetres / 2.54);
  return `${Math.floor(inches / 12)}'${inches % 12}"`;
}

/** ISO date some days after another. */
export const daysAfter = (date, days) =>
  new Date(Date.parse(`${date}T00:00:00Z`) + days * DAY).toISOString().slice(0, 10);
export const daysBetween = (from, to) => (Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / DAY;
