import { didYouMean } from '../protocol/nearest.ts';
import type { Path, Report } from '../protocol/places.ts';
import type { Protocol } from '../protocol/types.ts';
import { ucumCode, unitAt } from '../protocol/written_units.ts';
import type { ColumnEntry, SheetEntry } from '../sheets/entry.ts';
import { readNamePattern } from '../sheets/name_pattern.ts';
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
    return sheetEntry(reading, ['sheets', at], said);
  });
}

/** An entry that says nothing but the files. */
export function plainEntry(files: string): SheetEntry {
  return { files: [files], purpose: 'test', units: new Map(), columns: new Map() };
}

function sheetEntry(reading: Reading, path: Path, said: EntryData): SheetEntry {
  const { files, from_name: fromName, units, columns, ...context } = said;
  if (fromName !== undefined) checkNamePattern(reading.report, path, fromName, said);
  return {
    ...context,
    ...(fromName !== undefined && { fromName }),
    files: typeof files === 'string' ? [files] : files,
    units: unitCodes(reading, [...path, 'units'], units),
    columns: columnEntries(reading, [...path, 'columns'], columns),
  };
}

/** A fact that both the entry and the name of the file say could be two different ones. */
function checkNamePattern(report: Report, path: Path, fromName: string, said: EntryData): void {
  const { parts, problems } = readNamePattern(fromName);
  for (const { message, hint } of problems) report.add([...path, 'from_name'], `from_name ${message}`, hint);
  for (const part of parts) {
    if (part.kind !== 'fact' || said[part.fact] === undefined) continue;
    report.add(
      [...path, part.fact],
      `${part.fact} is said twice, here and as {${part.fact}} in from_name`,
      `Take one of them out: {} in from_name stands for a part that says nothing.`,
      'key',
    );
  }
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
      checkSides(reading, at, said);
      entries.set(key, { ...said, unit });
    }
  }
  return entries;
}

type MeasureColumn = Exclude<EntryData['columns'][string], string>;

function checkSides({ report, protocol }: Reading, path: Path, { measure, side, sides }: MeasureColumn): void {
  if (sides === undefined) return;
  const at = [...path, 'sides'];
  if (side !== undefined) {
    report.add(
      at,
      'a column has side or sides, not both',
      'Take one of them out: sides is for cells like 35/40.',
      'key',
    );
  }
  if (protocol?.byName.get(measure)?.sides === 'none') {
    report.add(at, `${measure} has no sides`, 'Take sides out.', 'key');
  }
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
