import { IGNORED_REASONS, type IgnoredReason } from '../problems/ignored.ts';
import { LONGEST_KEY, type YamlItem, yamlList } from '../protocol/yaml_write.ts';
import type { SheetEntry } from '../sheets/entry.ts';
import type { BlockScan, ColumnScan, SheetScan, TableScan } from '../sheets/scan.ts';
import { columnLine, type SaidColumn, saidOf, TO_FILL_IN } from '../sheets/scan_lines.ts';
import { leavesFolder } from './config_checks.ts';

/** A sheet as it was scanned, and what the folder said of it. */
export interface ScannedSheet {
  readonly scan: SheetScan;
  readonly entry: SheetEntry;
}

type Said = SaidColumn | string;
type Facts = Pick<SheetEntry, 'team' | 'date' | 'season' | 'tester' | 'device' | 'station' | 'purpose'>;

const FACTS = ['team', 'date', 'season', 'tester', 'device', 'station'] as const;
/** Left aside for a reason that is worth more than `ignore`; what would be lost. */
const LEFT_ALONE: { readonly [reason in IgnoredReason]?: string } = {
  remark: 'set to ignore, nobody is told to read it',
  status_of_wide_sheet: 'status, if it is of all readings of its row',
  title_line: '',
  footnote: '',
};
const NUMBERED = /^column\s*\d{1,5}$/;
const BY_ITSELF = 'read by itself as above; columns: cannot say it';

/**
 * `sheets:` of screening.yaml as these sheets are read: under it they give the same observations. What is not understood
 * stands there as a comment, to be settled. Neighbours that are read alike share an entry.
 */
export function columnsYaml(sheets: readonly ScannedSheet[]): string {
  const entries: { files: string[]; before: YamlItem[]; rest: readonly YamlItem[] }[] = [];
  for (const { scan, entry } of sheets) {
    const { files, before } = filesOf(scan);
    const rest = [...factItems(entry), ...formItems(scan), ...unitItems(entry), ...columnItems(scan)];
    const last = entries.at(-1);
    const isAlike =
      last !== undefined &&
      before.length === 0 &&
      last.before.length === 0 &&
      last.files.at(-1)! < files &&
      JSON.stringify(last.rest) === JSON.stringify(rest);
    if (isAlike) last.files.push(files);
    else entries.push({ files: [files], before, rest });
  }
  return yamlList(
    'sheets',
    entries.map(({ files, before, rest }) => [
      ...before,
      { key: 'files', value: files.length === 1 ? files[0] : files },
      ...rest,
    ]),
  );
}

function filesOf({ file, problem }: SheetScan): { files: string; before: YamlItem[] } {
  const before: YamlItem[] = problem ? [{ comment: `not read: ${problem.message} ${problem.suggestion}` }] : [];
  if (file !== '-' && !leavesFolder(file) && !file.includes('\\')) return { files: literal(file), before };
  const name = file === '-' ? 'sheet.csv' : (file.split(/[\\/]/).at(-1) ?? file);
  const was = file === '-' ? 'the sheet from standard input' : file;
  const where = { comment: `put ${was} here: screening.yaml reads sheets inside its folder only` };
  return { files: literal(`sheets/${name}`), before: [where, ...before] };
}

/** A path in which nothing stands for any part of a name. */
function literal(file: string): string {
  return /[*?{}[\]()!]/.test(file) ? file.replace(/[*?{}[\]()]/g, '[$&]').replaceAll('!', '?') : file;
}

/** What the entry or the name of the file says of all rows. */
function factItems(entry: SheetEntry & Facts): YamlItem[] {
  const said: YamlItem[] = FACTS.flatMap((key) => {
    const value = entry[key];
    return value === undefined ? [] : [{ key, value }];
  });
  return entry.purpose === 'test' ? said : [...said, { key: 'purpose', value: entry.purpose }];
}

function formItems({ encoding, encodingCertain, delimiter, direction, decimal, dates }: SheetScan): YamlItem[] {
  const items: YamlItem[] = [];
  if (encoding) {
    const why = encodingCertain ? undefined : 'nothing says so: look at letters with accents';
    items.push({ key: 'encoding', value: encoding, why });
  }
  if (delimiter) items.push({ key: 'delimiter', value: delimiter });
  if (decimal) items.push({ key: 'decimal', value: decimal });
  if (dates) items.push({ key: 'dates', value: dates });
  if (direction) items.push({ key: 'layout', value: direction });
  return items;
}

function unitItems({ units }: SheetEntry): YamlItem[] {
  return units.size === 0 ? [] : [{ key: 'units', value: Object.fromEntries(units) }];
}

function columnItems(scan: SheetScan): YamlItem[] {
  const columns = scan.blocks.flatMap(({ tables }) =>
    tables.flatMap((table) => table.columns.map((column) => ({ column, table }))),
  );
  const keys = new Keys(scan.blocks);
  const written = new Set<string>();
  const block: YamlItem[] = [];
  for (const { column, table } of columns) {
    for (const item of itemsOf(column, table, keys)) {
      // The same column of a later block, or of the table beside, is said already.
      const id = 'key' in item ? `key ${item.key.toLowerCase()}` : JSON.stringify(item);
      if (written.has(id)) continue;
      written.add(id);
      block.push(item);
    }
  }
  if (block.length === 0) return [];
  // A block of comments alone would be no mapping.
  return block.some((item) => 'key' in item) ? [{ key: 'columns', block }] : [{ comment: 'columns:' }, ...block];
}

function itemsOf(column: ColumnScan, table: TableScan, keys: Keys): YamlItem[] {
  const { heading, kind, reason } = column;
  const shown = heading === '' ? `column ${column.number}` : heading;
  if (kind === 'rejected') return rejectedItems(column, shown);
  const loses = column.compared ? 'set to ignore, it is not compared with its trials' : LEFT_ALONE[reason!];
  if (kind === 'ignored' && loses !== undefined) {
    if (heading === '') return [];
    return [{ comment: `${columnLine(shown, 'ignore')} # left aside: ${IGNORED_REASONS[reason!]}; ${loses}` }];
  }
  const said = saidOfColumn(column, table);
  const key = said === undefined ? undefined : keys.of(column);
  if (said === undefined || key === undefined) {
    return [{ comment: `${columnLine(shown, shownRole(column))} # ${BY_ITSELF}` }];
  }
  return [{ key, quoted: true, value: said, why: commentOn(column) }];
}

/** What a column that `columns:` cannot name is read as. */
function shownRole({ role, measure, side, trial, unitText, unit }: ColumnScan): Said {
  if (role) return role;
  return measure === undefined && side === undefined && trial === undefined
    ? ['value', unitText ?? unit].filter((part) => part !== undefined).join(' in ')
    : { measure: measure ?? 'of the row', side, trial, unit: unitText ?? unit };
}

function rejectedItems(column: ColumnScan, shown: string): YamlItem[] {
  const { asked, measure, side, sides, trial, lines = [], message = '' } = column;
  if (asked === undefined) return [{ comment: message }, ...lines.slice(0, 1).map((comment) => ({ comment }))];
  // Pounds, kilograms and newtons look alike: the unit is left open.
  const said = { measure, side, sides, trial, unit: TO_FILL_IN };
  const units = asked.map((unit) => (/^[A-Za-z.]+$/.test(unit) ? unit : `"${unit}"`)).join(' or ');
  return [{ comment: message }, { comment: `${columnLine(shown, said)} # unit: ${units}` }];
}

function commentOn({ kind, reason, sidesByCells, unit, unitFrom, evidence }: ColumnScan): string | undefined {
  if (kind === 'ignored') return reason === 'declared' ? undefined : IGNORED_REASONS[reason!];
  if (sidesByCells) return 'left is taken to stand first: check it';
  if (evidence === 'only_worked_out') return 'a best or mean: the sheet holds no other readings of it';
  if (unit !== '1' && (unitFrom === 'protocol' || unitFrom === 'written_in'))
    return 'no unit is named: read in that of the protocol';
  return undefined;
}

/** A column as `columns:` says it; undefined where it would then be read otherwise. */
function saidOfColumn(column: ColumnScan, table: TableScan): Said | undefined {
  const { kind, role, evidence, measure, side, sides, trial, unit, unitFrom, unitText, reversed } = column;
  if (kind === 'ignored') return 'ignore';
  if (kind === 'role') return evidence === 'athletes_below' ? undefined : role;
  if (measure === undefined) {
    const isPlain = [side, sides, trial, unit, unitText].every((part) => part === undefined);
    return isPlain ? 'value' : undefined;
  }
  const isNamed = unitFrom === 'heading' || unitFrom === 'screening';
  // Said in screening.yaml, a unit gives way to the unit column without a word; in the heading it does not.
  if (unitFrom === 'heading' && table.columns.some((other) => other.role === 'unit')) return undefined;
  return saidOf({ measure, side, sides, trial, unit: isNamed ? unit : undefined, sign: reversed && 'reversed' });
}

interface Placed {
  readonly column: ColumnScan;
  readonly table: TableScan;
}

/** By which key `columns:` names a column and no other. */
class Keys {
  readonly #byHeading = new Map<string, Placed[]>();
  /** headings of columns that get no key of their own, where single lines of headings may be keys too */
  readonly #open: readonly string[];
  readonly #isSingle: boolean;
  readonly #hasTitles: boolean;

  constructor(blocks: readonly BlockScan[]) {
    for (const table of blocks.flatMap(({ tables }) => tables)) {
      for (const column of table.columns) {
        const key = column.heading.toLowerCase();
        const alike = this.#byHeading.get(key);
        if (alike) alike.push({ column, table });
        else this.#byHeading.set(key, [{ column, table }]);
      }
    }
    this.#isSingle = blocks.length === 1;
    this.#hasTitles = (blocks[0]?.headings[0] ?? 1) > 1;
    const isStacked = blocks.some(({ headings }) => headings.length > 1);
    this.#open = isStacked ? [...this.#byHeading.keys()].filter((key) => !this.#isClear(key)) : [];
  }

  /** @returns undefined if no key means the column and nothing else */
  of(column: ColumnScan): string | undefined {
    const key = column.heading.toLowerCase();
    const isPart = this.#open.some((heading) => heading !== key && ` ${heading} `.includes(` ${key} `));
    return this.#isClear(key) && !isPart ? column.heading : this.#numberKey(column);
  }

  /** Whether a heading stands over columns of one meaning only, so that it can be a key. */
  #isClear(key: string): boolean {
    if (key === '' || key.length > LONGEST_KEY || key === '__proto__' || NUMBERED.test(key)) return false;
    const alike = this.#byHeading.get(key)!;
    const [first] = alike;
    const meaning = JSON.stringify(saidOfColumn(first.column, first.table));
    // A second column for one thing is refused under any key.
    return alike.every(({ column, table }) =>
      column.code === 'heading_duplicate' ? column !== first.column : isSaid(column, table, meaning),
    );
  }

  /**
   * A number names the column in every line that might be the headings: only where these are the first line, or nothing
   * is said that makes one of it.
   */
  #numberKey({ number, kind, role }: ColumnScan): string | undefined {
    if (!this.#isSingle || role !== undefined || (this.#hasTitles && kind !== 'ignored')) return undefined;
    const key = `column ${number}`;
    const isTaken = [...this.#byHeading.keys()].some((heading) => heading.replace(/\s+/g, '') === `column${number}`);
    return isTaken ? undefined : key;
  }
}

function isSaid(column: ColumnScan, table: TableScan, meaning: string | undefined): boolean {
  return column.kind !== 'rejected' && meaning !== undefined && JSON.stringify(saidOfColumn(column, table)) === meaning;
}
