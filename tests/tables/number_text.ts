/** A number as ECMAScript prints it, -0 as 0, unknown as nothing: what the encoder is checked against. */
export function numberText(value: number): string {
  if (Number.isNaN(value)) return '';
  return value === 0 ? '0' : String(value);
}
