import { didYouMean } from '../protocol/nearest.ts';
import type { Path } from '../protocol/places.ts';
import type { YamlFile } from '../protocol/yaml.ts';
import { fold } from './config_fold.ts';
import type { ScreeningData } from './config_schema.ts';
import type { Screening, SideFile } from './types.ts';

/** Columns of the side files (design, section 3). The roster has the protocol's dominance columns as well. */
const SIDE_COLUMNS = {
  roster: [
    'athlete_id',
    'last_name',
    'first_name',
    'also_known_as',
    'team',
    'sex',
    'birth_date',
    'entry_year',
    'season',
    'left_on',
  ],
  injuries: ['athlete_id', 'date', 'region', 'side', 'days_lost', 'type', 'contact', 'setting', 'recurrent', 'team'],
  exposures: ['season', 'team', 'athlete_exposures', 'athlete_id', 'kind'],
  history: ['athlete_id', 'region', 'side', 'date', 'surgery', 'full_return'],
  clearance: ['athlete_id', 'date', 'status', 'region', 'side', 'until'],
  referrals: ['athlete_id', 'date', 'rule', 'seen_on', 'outcome', 'closed_on'],
  corrections: ['file', 'line', 'column', 'raw', 'action', 'value', 'by', 'date'],
  work: ['athlete_id', 'programme', 'started', 'planned', 'done', 'stopped', 'reason'],
} as const;

type SideFileName = keyof typeof SIDE_COLUMNS;
export const SIDE_FILES = Object.keys(SIDE_COLUMNS) as readonly SideFileName[];

/** Side files that are named, and those of the usual names that are there. */
export function sideFiles(
  file: YamlFile | undefined,
  data: Partial<ScreeningData>,
  present: ReadonlySet<string>,
): Pick<Screening, SideFileName> {
  const found: { [name in SideFileName]?: SideFile } = {};
  for (const name of SIDE_FILES) {
    const said = data[name];
    const usual = `${name}.csv`;
    if (typeof said === 'object') {
      found[name] = { key: name, file: said.file, columns: foldedColumns(file!, [name, 'columns'], said.columns) };
    } else if (said !== undefined || present.has(usual))
      found[name] = { key: name, file: said ?? usual, columns: new Map() };
  }
  return found;
}

function foldedColumns(
  { report }: YamlFile,
  path: Path,
  columns: { readonly [heading: string]: string },
): Map<string, string> {
  const folded = new Map<string, string>();
  for (const [heading, column] of Object.entries(columns)) {
    const key = fold(heading);
    if (folded.has(key)) {
      report.add([...path, heading], `heading "${heading}" is given twice`, 'Take one of them out.', 'key');
    }
    folded.set(key, column);
  }
  return folded;
}

/** Checks what headings of side files stand for, once the dominance columns are known. */
export function checkSideColumns(
  { report }: YamlFile,
  data: Partial<ScreeningData>,
  dominanceColumns: readonly string[],
): void {
  for (const name of SIDE_FILES) {
    const said = data[name];
    if (typeof said !== 'object') continue;
    const known = [...SIDE_COLUMNS[name], ...(name === 'roster' ? dominanceColumns : []), 'ignore'];
    for (const [heading, column] of Object.entries(said.columns)) {
      if (known.includes(column)) continue;
      const path = [name, 'columns', heading];
      report.add(path, `${name} has no column ${column} for heading "${heading}"`, didYouMean(column, known));
    }
  }
}
