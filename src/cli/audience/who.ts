/** Who reads the output, from the one who may see least. */
export const AUDIENCES = ['coach', 'strength', 'medical'] as const;
export type Audience = (typeof AUDIENCES)[number];

const WORDS: Readonly<Record<Audience, string>> = {
  coach: 'a coach',
  strength: 'strength staff',
  medical: 'medical staff',
};

/** That notes are not told, in a sentence for whoever runs the command. */
export function heldBackNote(audience: Audience): string {
  return `note: notes that are not for ${WORDS[audience]} are held back; without --audience ${audience} they are shown\n`;
}

/** That rows were taken out, in a sentence for whoever runs the command; '' if none were. */
export function hiddenNote(rows: number, audience: Audience): string {
  if (rows === 0) return '';
  return `note: ${rows} ${rows === 1 ? 'row is' : 'rows are'} not shown to ${WORDS[audience]}\n`;
}
