const TRACK = '·';
const INTERVAL = '─';
const SHARE = '█';

export interface ShareInterval {
  readonly share: number;
  readonly low: number;
  readonly high: number;
}

/**
 * A share and its interval on a line from 0 to 100 %: `··──█──··`.
 * @param width signs of the line, at least 1
 */
export function shareBar({ share, low, high }: ShareInterval, width: number): string {
  const cell = (part: number): number => Math.min(width - 1, Math.floor(part * width));
  const [at, from, to] = [cell(share), cell(low), Math.max(cell(share), Math.ceil(high * width) - 1)];
  return Array.from({ length: width }, (_, place) => {
    if (place === at) return SHARE;
    return place >= from && place <= to ? INTERVAL : TRACK;
  }).join('');
}
