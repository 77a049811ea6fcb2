import { UsageError } from './options.ts';

/** Words of an option that takes several, parted by commas. */
export function wordsIn(text: string): string[] {
  return text
    .split(',')
    .map((word) => word.trim())
    .filter((word) => word !== '');
}

/**
 * Seasons of an option, parted by commas.
 * @param otherwise what else the option takes, for the message
 * @throws UsageError for what is no year of four digits
 */
export function seasonsIn(text: string, otherwise = ''): number[] {
  return wordsIn(text).map((word) => {
    if (/^\d{4}$/.test(word)) return Number(word);
    throw new UsageError(
      `--season: "${word}" is no season; write four digits, the year in which it starts${otherwise}`,
    );
  });
}
