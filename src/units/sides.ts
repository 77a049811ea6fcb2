import { foldKey } from './keys.ts';

export const SIDES = ['left', 'right', 'both', 'none'] as const;
/** both: the two limbs at once; none: the measure has no sides. */
export type Side = (typeof SIDES)[number];
/** Sides as sheets name them; dominant and other are settled through the roster. */
export type WrittenSide = Side | 'dominant' | 'other';

const WORDS: Readonly<Record<WrittenSide, readonly string[]>> = {
  left: ['l', 'lt', 'lft', 'left', 'lle', 'lue'],
  right: ['r', 'rt', 'rgt', 'right', 'rle', 'rue'],
  both: ['b', 'bil', 'bilat', 'bilateral', 'both'],
  none: ['none'],
  dominant: ['d', 'dom', 'dominant', 'throwing', 'kicking'],
  other: ['nd', 'n d', 'nondom', 'non dom', 'nondominant', 'non dominant', 'other', 'plant', 'stance'],
};

const SIDE_OF_WORD: ReadonlyMap<string, WrittenSide> = new Map(
  Object.entries(WORDS).flatMap(([side, words]) => words.map((word) => [word, side as WrittenSide])),
);

const LIMB = / (?:side|arm|leg|limb|hand|foot)$/;

/**
 * The side that a cell or a word of a heading names, or undefined. Case, punctuation and a limb's name after it
 * (`left leg`) do not matter. `LL` and `RL` are leg lengths, `U` and `I` stand for too many things: all undefined.
 */
export function readSide(text: string): WrittenSide | undefined {
  const key = foldKey(text);
  return SIDE_OF_WORD.get(key) ?? SIDE_OF_WORD.get(key.replace(LIMB, ''));
}
