/**
 * UCUM code of one unit per another, without parentheses: N per kg/m2 is N/kg.m2, since UCUM reads products and
 * quotients from left to right.
 */
export function perCode(unit: string, per: string): string {
  let turned = '';
  let depth = 0;
  for (const mark of /^[./]/.test(per) ? per : `.${per}`) {
    if (mark === '[' || mark === '{') depth++;
    if (mark === ']' || mark === '}') depth--;
    turned += depth > 0 ? mark : mark === '.' ? '/' : mark === '/' ? '.' : mark;
  }
  return unit + turned;
}
