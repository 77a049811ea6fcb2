import { type RejectArgs, type RejectCode, rejectMessage, rejectSuggestion } from '../problems/rejects.ts';
import type { Rejects } from '../tables/schemas.ts';

/** Where a reject happened. */
export interface Place {
  readonly file: string;
  readonly line?: number;
  /** from 1 */
  readonly column?: number;
  readonly heading?: string;
  readonly athleteId?: string | null;
  readonly measure?: string;
  readonly season?: number;
  readonly station?: string;
  /** readings that go unread with the row, in words */
  readonly holds?: string;
}

const LONGEST_RAW = 1000;

const cut = (text: string): string => (text.length > LONGEST_RAW ? `${text.slice(0, LONGEST_RAW)}…` : text);

/**
 * Appends one reject.
 * @param raw the cell as it may be shown: '' for the cell of a name
 * @param cells how many non-empty cells it stands for
 */
export function pushReject(
  rejects: Rejects,
  place: Place,
  raw: string,
  code: RejectCode,
  args: RejectArgs,
  cells: number,
): void {
  const { columns } = rejects;
  columns.file.push(place.file);
  columns.line.push(place.line ?? null);
  columns.column.push(place.column ?? null);
  columns.heading.push(place.heading === undefined ? null : cut(place.heading));
  columns.raw.push(cut(raw));
  columns.code.push(code);
  const message = rejectMessage(code, args);
  columns.message.push(place.holds ? `${message} The row holds ${place.holds}.` : message);
  columns.suggestion.push(rejectSuggestion(code, args));
  columns.cells.push(cells);
  columns.athlete_id.push(place.athleteId ?? null);
  columns.measure.push(place.measure ?? null);
  columns.season.push(place.season ?? null);
  columns.station.push(place.station ?? null);
  columns.value.push(args.value ?? null);
  columns.slips.push(args.choices?.length ?? 0);
}
