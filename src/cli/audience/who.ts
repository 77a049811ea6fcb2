/** Who reads the output, from the one who may see least. */
export const AUDIENCES = ['coach', 'strength', 'medical'] as const;
export type Audience = (typeof AUDIENCES)[number];

const WORDS: Readonly<Record<Audience, string>> = {
  coach: 'a coach',
  strength: 'strength staff',
  medical: 'medical staff',
};

/** That rows were taken out, in a sentence for whoever runs the command; '' if none were. */
export function hiddenNote(rows: number, audience: Audience): string {
  if (rows === 0) return '';
  return `note: ${rows} ${rows === 1 ? 'row is' : 'rows are'} not shown to ${WORDS[audience]}\n`;
}
