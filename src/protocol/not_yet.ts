/** Fields of a result that rules may name already and this version cannot judge yet. None is ignored: each is refused. */
const FIELDS_TO_COME: readonly string[] = ['z', 'change'];

export function isNotYet(field: string): boolean {
  return FIELDS_TO_COME.includes(field);
}
