import { didYouMean } from '../protocol/nearest.ts';
import { isNotYet } from '../protocol/not_yet.ts';
import type { Path, Report } from '../protocol/places.ts';
import type { Protocol } from '../protocol/types.ts';
import { ucumCode, unitAt } from '../protocol/written_units.ts';
import type { ColumnEntry, SheetEntry } from '../sheets/entry.ts';
import type { Unit } from '../units/unit.ts';
import { fold } from './config_fold.ts';
import type { EntryData, ScreeningData } from './config_schema.ts';

/** How an entry's measures and units are read: with the protocol they are checked and settled, without it kept as written. */
interface Reading {
  readonly report: Report;
  readonly protocol?: Protocol;
}

/** The entries of `sheets:` with their defaults. */
export function sheetEntries(reading: Reading, sheets: ScreeningData['sheets']): SheetEntry[] {
  return sheets.map((said, at) => {
    if (typeof said === 'string') return plainEntry(said);
    refuseLater(reading.report, at, said);
    return sheetEntry(reading, ['sheets', at], said);
  });
}

/** An entry that says nothing but the files. */
export function plainEntry(files: string): SheetEntry {
  return { files: [files], purpose: 'test', units: new Map(), columns: new Map() };
}

function refuseLater(report: Report, at: number, entry: EntryData): void {
  const refuse = (key: 'from_name' | 'layout', what: string, hint: string): void =>
    report.add(['sheets', at, key], `${what}, which this version does not read yet`, hint, 'key');
  if (entry.from_name !== undefined && isNotYet('entryKeys', 'from_name')) {
    refuse('from_name', 'sheets have from_name', 'Say team, date or station on the entry itself.');
  }
  if (entry.layout !== undefined && isNotYet('layouts', entry.layout)) {
    refuse('layout', `sheets have layout: ${entry.layout}`, 'Turn the sheet so that each athlete has rows of its own.');
  }
}

function sheetEntry(reading: Reading, path: Path, said: EntryData): SheetEntry {
  const { files, from_name: _, units, columns, ...context } = said;
  return {
    ...context,
    files: typeof files === 'string' ? [files] : files,
    units: unitCodes(reading, [...path, 'units'], units),
    columns: columnEntries(reading, [...path, 'columns'], columns),
  };
}

function unitCodes(reading: Reading, path: Path, units: EntryData['units']): Map<string, string> {
  const codes = new Map<string, string>();
  for (const [name, written] of Object.entries(units)) {
    const wanted = measuredUnit(reading, [...path, name], name, 'key');
    codes.set(name, settledCode(reading, [...path, name], written, wanted));
  }
  return codes;
}

function columnEntries(reading: Reading, path: Path, columns: EntryData['columns']): Map<string, ColumnEntry> {
  const entries = new Map<string, ColumnEntry>();
  for (const [heading, said] of Object.entries(columns)) {
    const key = fold(heading);
    const at = [...path, heading];
    if (entries.has(key)) reading.report.add(at, `heading "${heading}" is given twice`, 'Take one of them out.', 'key');
    if (typeof said === 'string') entries.set(key, { role: said });
    else {
      const wanted = measuredUnit(reading, [...at, 'measure'], said.measure, 'value');
      const unit = said.unit && settledCode(reading, [...at, 'unit'], said.unit, wanted);
      entries.set(key, { ...said, unit });
    }
  }
  return entries;
}

/** Unit of the measure of that name, or of the first part of a compound. A derived measure is on no sheet. */
function measuredUnit(
  { report, protocol }: Reading,
  path: Path,
  name: string,
  what: 'key' | 'value',
): Unit | undefined {
  if (protocol === undefined) return undefined;
  const measured = protocol.measures.filter((measure) => !measure.derivation);
  const found =
    measured.find((measure) => measure.name === name) ??
    (what === 'value' ? protocol.compounds.find((compound) => compound.name === name)?.parts[0] : undefined);
  if (found) return found.unit;
  const isDerived = protocol.byName.has(name);
  report.add(
    path,
    isDerived ? `${name} is worked out, so no sheet holds it` : `the protocol has no measure ${name}`,
    isDerived
      ? 'Set the column to ignore.'
      : didYouMean(
          name,
          measured.map((measure) => measure.name),
        ),
    what,
  );
  return undefined;
}

function settledCode({ report, protocol }: Reading, path: Path, written: string, wanted: Unit | undefined): string {
  if (protocol !== undefined) unitAt(report, path, written, wanted);
  return ucumCode(written, wanted);
}
