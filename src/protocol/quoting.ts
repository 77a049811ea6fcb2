/** A text as YAML takes it literally: in single quotes where it holds an inch mark. */
export function quotedYaml(text: string): string {
  return /["\\]/.test(text) ? `'${text.replaceAll("'", "''")}'` : `"${text}"`;
}

/** The first line of a text, short enough for a message. */
export function shortened(text: string, longest = 60): string {
  const line = text.split('\n', 1)[0].trimEnd();
  return line.length > longest ? `${line.slice(0, longest - 1)}…` : line;
}
