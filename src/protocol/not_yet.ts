/** What files may say already and this version does not do yet. Nothing of it is ignored: each is refused. */
export const NOT_YET = {
  ruleKeys: ['history'],
  fields: ['z', 'change'],
} as const;

export function isNotYet(kind: keyof typeof NOT_YET, word: string): boolean {
  return (NOT_YET[kind] as readonly string[]).includes(word);
}
