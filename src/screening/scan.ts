import type { SheetSource } from '../sheets/ingest.ts';
import { type SheetScan, SheetScanner } from '../sheets/scan.ts';
import type { Notes } from './notes.ts';
import type { Setup } from './setup.ts';
import { startIngest } from './stages.ts';

/**
 * How each sheet is read with all that the folder knows, in the order of the sheets. Nothing is written.
 * @param note told what was noticed of no sheet in particular
 */
export async function* scanSheets(
  setup: Setup,
  sheets: readonly SheetSource[],
  note: (text: string) => void = () => {},
): AsyncGenerator<SheetScan> {
  const scanner = new SheetScanner(setup.protocol, setup.showNames);
  const { batches, notes } = startIngest(setup, sheets, scanner.watch);
  for await (const scan of scanner.scans(sheets, batches)) yield { ...scan, notes: notesOn(scan.file, notes) };
  for (const text of notes) if (!sheets.some(({ file }) => text.startsWith(`${file}: `))) note(text);
}

/** The notes on one sheet, without its name in front. */
function notesOn(file: string, notes: Notes): string[] {
  const start = `${file}: `;
  return [...notes].filter((text) => text.startsWith(start)).map((text) => text.slice(start.length));
}
