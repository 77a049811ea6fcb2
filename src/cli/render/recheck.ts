import { formatBeside } from '../../findings/format_beside.ts';
import type { RecheckTally } from '../../findings/recheck.ts';
import type { Protocol } from '../../protocol/types.ts';
import { isVitalSign } from '../../sheets/row_cells.ts';
import type { RECHECK, Recheck } from '../../tables/schemas.ts';
import type { RowOf } from '../../tables/table.ts';
import { withUnit } from '../../units/unit_text.ts';
import { CAUTIONS } from './cautions.ts';
import { counted } from './counted.ts';
import { printable } from './printable.ts';
import { heading, type Setting, wrapped } from './text.ts';

type Row = RowOf<typeof RECHECK>;

/** What is shown of a recheck list. */
export interface RecheckView {
  /** of the seasons shown */
  readonly table: Recheck;
  readonly tallies: readonly RecheckTally[];
  /** seasons shown; the first also has what belongs to none */
  readonly seasons: readonly number[];
  /** lines of each season that is not shown */
  readonly others: ReadonlyMap<number, number>;
  /** whether what could not be read is known: tables of observations do not hold it */
  readonly hasRejects: boolean;
  readonly protocol: Protocol;
  /** by id; none unless asked for */
  readonly names: ReadonlyMap<string, string>;
}

/** Lines of one part; an archive is read from the table. */
const MOST_LINES = 100;
/** Share of comparisons that look apart by chance. */
const BY_CHANCE = 0.05;
const SETTLE =
  'Nothing is changed. Settle a reading in corrections.csv, one line each: file,line,column,raw,action,value,by,date. raw is the cell as the sheet has it; action is value, void or confirmed.';

/** The readings to look at again, season by season: likely entry errors, real outliers, then testers and devices. */
export function recheckText(view: RecheckView, setting: Setting): string {
  // What could not be read is internal, and shown all the same.
  const { raw } = view.table.columns;
  const rows = [...view.table.rows()].map((row, at): Row => ({ ...row, raw: raw.get(at) }));
  const [newest] = view.seasons;
  const blocks = view.seasons.map((season) =>
    seasonText(
      season,
      rows.filter((row) => (row.season ?? newest) === season),
      view,
      setting,
    ),
  );
  const others = [...view.others].filter(([, lines]) => lines > 0).sort(([a], [b]) => b - a);
  const earlier = others.map(([season, lines]) => `${season} (${lines})`).join(', ');
  return [
    blocks.length === 0 ? 'No readings.\n' : blocks.join('\n'),
    heading('To settle them', setting),
    wrapped(SETTLE, setting),
    view.hasRejects
      ? ''
      : wrapped('Only tables were read: cells that the sheets hold and that could not be read are not here.', setting),
    others.length === 0 ? '' : wrapped(`Lines of other seasons: ${earlier}; --season shows them.`, setting),
    heading('Cautions', setting),
    ...CAUTIONS.map((caution) => wrapped(`- ${caution}`, setting, 0, 2)),
  ].join('');
}

function seasonText(season: number, rows: readonly Row[], view: RecheckView, setting: Setting): string {
  const isOutlier = ({ kind }: Row): boolean => kind === 'outlier';
  const errors = rows.filter((row) => !isOutlier(row));
  const apart = rows.filter((row) => isOutlier(row) && row.athlete_id === null);
  const outliers = rows.filter((row) => isOutlier(row) && row.athlete_id !== null);
  const tallies = view.tallies.filter((tally) => tally.season === season);
  return [
    `Season ${season}: ${counted(rows.length, 'line')} to look at again\n`,
    heading(`Likely entry errors: ${errors.length}`, setting),
    linesText(errors, view, setting),
    heading(`Real outliers: ${outliers.length}`, setting),
    wrapped(outlierChance(tallies), setting),
    linesText(outliers, view, setting),
    heading(`Testers and devices that read apart: ${apart.length}`, setting),
    wrapped(comparisonChance(tallies), setting),
    linesText(apart, view, setting),
  ].join('');
}

const roughly = (count: number): string =>
  count >= 10 ? String(Math.round(count)) : String(Number(count.toPrecision(2)));

function outlierChance(tallies: readonly RecheckTally[]): string {
  const scores = tallies.reduce((sum, tally) => sum + tally.scores, 0);
  const expected = tallies.reduce((sum, tally) => sum + tally.expected, 0);
  if (scores === 0) return 'Not looked for: no 20 athletes of one sex and sport group have a score of one measure.';
  return `About ${roughly(expected)} of ${counted(scores, 'score')} would stand out by chance alone, were all in order.`;
}

function comparisonChance(tallies: readonly RecheckTally[]): string {
  const count = tallies.reduce((sum, { comparisons }) => sum + comparisons, 0);
  if (count === 0) return 'Not compared: no two testers or devices have 10 athletes each at one measure.';
  const chance = roughly(BY_CHANCE * count);
  return `${counted(count, 'comparison')}: by chance alone about ${chance} would lie outside the 95 % interval; small differences are not listed.`;
}

function linesText(rows: readonly Row[], view: RecheckView, setting: Setting): string {
  if (rows.length === 0) return 'None.\n';
  const isVital = ({ measure }: Row): boolean => {
    const known = view.protocol.byName.get(measure ?? '');
    return known !== undefined && isVitalSign(known);
  };
  const vital = rows.filter(isVital);
  const ordered = [...vital, ...rows.filter((row) => !isVital(row))];
  const left = ordered.length - MOST_LINES;
  const lines = ordered.slice(0, MOST_LINES).map((row, at) => {
    const before = vital.length === 0 || vital.length === rows.length ? '' : at === 0 ? 'Vital signs first:\n' : '';
    const then = vital.length > 0 && at === vital.length ? 'Then:\n' : '';
    return before + then + rowText(row, view, setting);
  });
  return lines.join('') + (left > 0 ? `and ${counted(left, 'more line')}: --format csv or -o FILE has them\n` : '');
}

function rowText(row: Row, view: RecheckView, setting: Setting): string {
  const { file, line, column, kind, suggestion } = row;
  const place = [file, line, column].filter((part) => part !== null).join(':');
  const head = [subjectText(row, view), valueText(row)].filter((text) => text !== '').join(': ');
  const where = [place, kind === 'outlier' ? '' : kind].filter((text) => text !== '' && text !== null).join(', ');
  return (
    wrapped(head, setting, 0, 2) +
    (where === '' ? '' : wrapped(printable(where), setting, 2, 4)) +
    (suggestion === null ? '' : wrapped(printable(suggestion), setting, 2, 2))
  );
}

/** Who or what a line is about. */
function subjectText({ athlete_id, measure, side, trial, column, line }: Row, view: RecheckView): string {
  const name = view.names.get(athlete_id ?? '');
  const who = athlete_id === null ? wholeText(line, column) : [athlete_id, name].filter(Boolean).join(' ');
  const known = view.protocol.byName.get(measure ?? '');
  const label = known?.label ?? measure;
  const isOnlyTrial = trial === 1 && known?.trials.expect === 1;
  const sideWord = side === null || side === 'none' ? '' : side === 'both' ? 'both limbs at once' : side;
  const parts = [who, label, sideWord, trial === null || isOnlyTrial ? '' : `trial ${trial}`];
  return printable(parts.filter((part) => part !== '' && part !== null).join(', '));
}

const wholeText = (line: number | null, column: number | null): string =>
  line !== null ? 'athlete not known' : column !== null ? 'the whole column' : '';

/** The reading with what was expected, each with so many digits that neither lies on the other's side. */
function valueText({ value, low, high, unit, raw }: Row): string {
  const inUnit = (text: string): string => withUnit(text, unit ?? '1');
  const limits = [low, high].filter((limit) => limit !== null);
  const beside = (limit: number): string => formatBeside(limit, value ?? limit);
  const expected = limits.length === 2 ? `expected ${beside(low!)} to ${inUnit(beside(high!))}` : '';
  if (value === null)
    return [raw === null ? '' : printable(`"${raw}"`), expected].filter((text) => text !== '').join('; ');
  const nearest = limits.toSorted((a, b) => Math.abs(a - value) - Math.abs(b - value))[0] ?? value;
  return [inUnit(formatBeside(value, nearest)), expected].filter((text) => text !== '').join('; ');
}
