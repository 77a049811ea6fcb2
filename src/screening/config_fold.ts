/** A heading or team as it is compared: trimmed, case folded. */
export function fold(text: string): string {
  return text.trim().toLowerCase();
}
