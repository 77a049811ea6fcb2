import { foldKey } from './keys.ts';

export const SIDES = ['left', 'right', 'both', 'none'] as const;
/** both: the two limbs at once; none: the measure has no sides. */
export type Side = (typeof SIDES)[number];

/** other: the side opposite to the one that the sheet speaks of, mostly the dominant one. */
const BY_USE = ['dominant', 'nondominant', 'other'] as const;
const BY_INJURY = ['surgical', 'non_surgical', 'involved', 'uninvolved'] as const;
/**
 * Sides as sheets name them: by left and right, by what the limb does (settled through the roster), or by what it went
 * through (settled through the history).
 */
export const WRITTEN_SIDES = [...SIDES, ...BY_USE, ...BY_INJURY] as const;
export type WrittenSide = (typeof WRITTEN_SIDES)[number];
export type InvolvedSide = (typeof BY_INJURY)[number];

/** Which of the two sides stands first where one cell holds both. */
export type SideOrder = 'left_right' | 'right_left';

/** Words of each side, folded. */
const WORDS: Readonly<Record<WrittenSide, readonly string[]>> = {
  left: ['l', 'lt', 'lft', 'left', 'lle', 'lue'],
  right: ['r', 'rt', 'rgt', 'right', 'rle', 'rue'],
  both: ['b', 'bil', 'bilat', 'bilateral', 'both', '2 leg', '2 legs', 'two leg', 'two legs', '2 hands', 'two hands'],
  none: ['none'],
  dominant: ['d', 'dom', 'dominant', 'kick', 'kicking', 'throw', 'throwing', 'preferred', 'pref'],
  other: ['other'],
  nondominant: [
    ...['nd', 'n d', 'nondom', 'non dom', 'nondominant', 'non dominant', 'plant', 'stance'],
    ...['nonkicking', 'non kicking', 'nonthrowing', 'non throwing', 'nonpreferred', 'non preferred'],
  ],
  surgical: ['surgical', 'surg', 'operated', 'operative', 'op'],
  non_surgical: [
    ...['nonsurgical', 'non surgical', 'nonsurg', 'non surg', 'nonoperated', 'non operated', 'unoperated'],
    ...['nonoperative', 'non operative', 'nonop', 'non op'],
  ],
  involved: ['involved', 'inv', 'injured', 'affected'],
  uninvolved: [
    ...['uninvolved', 'un involved', 'uninv', 'noninvolved', 'non involved', 'noninv', 'non inv'],
    ...['uninjured', 'un injured', 'noninjured', 'non injured', 'unaffected', 'nonaffected', 'non affected'],
    ...['contralateral', 'contra lateral', 'sound'],
  ],
};

const SIDE_OF_WORD: ReadonlyMap<string, WrittenSide> = new Map(
  Object.entries(WORDS).flatMap(([side, words]) => words.map((word) => [word, side as WrittenSide])),
);

const LIMB = / (?:sides?|arms?|legs?|limbs?|hands?|foot|feet)$/;
/** Longer texts name no side, and need not be folded to find that out. */
const LONGEST = 40;
/** What says that the side is not sure. */
const DOUBT = /[?~]/;
/** Folding spells Δ as D, and a Cyrillic word letter by letter. */
const OTHER_SCRIPT = /(?!\p{Script=Latin})\p{L}/u;

/**
 * The side that a cell or a word of a heading names, or undefined. Case, punctuation and a limb's name after it
 * (`left leg`) do not matter. `LL` and `RL` are leg lengths, `U` and `I` stand for too many things, `post-op` says when
 * `L&R` says two things and `L?` is not sure: all undefined, and so is what is not in Latin letters.
 */
export function readSide(text: string): WrittenSide | undefined {
  const written = text.trim();
  if (written.length > LONGEST || DOUBT.test(written) || OTHER_SCRIPT.test(written)) return undefined;
  const key = foldKey(written);
  return SIDE_OF_WORD.get(key) ?? SIDE_OF_WORD.get(key.replace(LIMB, ''));
}

/** Whether a side is named by what the limb went through: it needs the athlete's history. */
export function isInvolvedSide(side: WrittenSide | undefined): side is InvolvedSide {
  return BY_INJURY.some((other) => other === side);
}
