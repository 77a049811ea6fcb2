import { CHECK_THE_TEST_FIRST } from '../../findings/wording.ts';
import { troubleText } from '../../problems/failure.ts';
import { REJECTS, type RejectCode } from '../../problems/rejects.ts';
import type { RuleTally, Summary, ToRetake, Unread } from '../../screening/summary.ts';
import { GRADES } from '../../tables/schemas.ts';
import { CAUTIONS } from './cautions.ts';
import { counted } from './counted.ts';
import { printable } from './printable.ts';
import { plainTable } from './table.ts';
import { heading, type Setting, wrapped } from './text.ts';

const MOST_PLACES_A_FILE = 8;
/** A season of one college fits; an archive of a hundred is read from the tables. */
const MOST_PEOPLE = 100;

/** What costs a whole column of a sheet. */
const WHOLE_COLUMN: ReadonlySet<string> = new Set<RejectCode>([
  'header_missing',
  'heading_unknown',
  'heading_ambiguous',
  'heading_duplicate',
]);
/** So many athletes without a vital sign are named; who lacks what stands in the tables. */
const FEW_UNJUDGED = 12;
/** Athletes of one rule who are named. */
const MOST_OF_A_RULE = 24;

/** From so many rows with one cure on, one stands for all. */
const MANY_ROWS = 5;

/** What a sheet says in every row or in none: one line of screening.yaml settles all of them. */
const ONE_CURE: ReadonlySet<string> = new Set<RejectCode>([
  'date_missing',
  'date_ambiguous',
  'side_missing',
  'side_needs_roster',
  'unit_unknown',
]);

/** What a list leaves out, and where it stands. */
const more = (count: number, what: string, where: string): string =>
  count > 0 ? `and ${counted(count, what)}: see ${where}\n` : '';
const place = ({ file, line, column }: { file: string; line: number | null; column: number | null }): string =>
  printable([file, line, column].filter((part) => part !== null).join(':'));
const who = (id: string | null, name: string | undefined): string =>
  printable(name ? `${id} ${name}` : (id ?? 'unknown athlete'));

function toSee(summary: Summary, setting: Setting): string {
  let text = heading(`To see medical staff before training: ${counted(summary.toSee.length, 'athlete')}`, setting);
  if (summary.toSee.length === 0) text += 'Nobody. No finding is not clearance.\n';
  for (const { season, athletes } of summary.earlierReferrals) {
    text += wrapped(`Season ${season} has ${counted(athletes, 'athlete')} to see: findings.csv, grade refer.`, setting);
  }
  for (const { athlete_id, name, team, date, findings } of summary.toSee.slice(0, MOST_PEOPLE)) {
    text += wrapped(`${who(athlete_id, name)}, ${printable(team ?? 'no team')}, tested ${date}`, setting);
    for (const finding of findings) {
      const when = finding.date === date ? '' : ` (${finding.date})`;
      const newer = finding.has_newer_reading ? ' Read again since: see results.csv.' : '';
      const programme = finding.programme === null ? '' : ` Programme: ${printable(finding.programme)}.`;
      text += wrapped(`- ${printable(finding.message)}${when}${newer}${programme}`, setting, 2, 4);
    }
  }
  text += more(summary.toSee.length - MOST_PEOPLE, 'more athlete', 'findings.csv, grade refer');
  return text + notJudged(summary, setting);
}

/** What nobody could be sent to medical staff by: a short list must not be taken for good news. */
function notJudged(summary: Summary, setting: Setting): string {
  let text = '';
  for (const { label, athletes } of summary.unjudged) {
    const all = athletes.length === summary.athletes;
    const few = athletes.length <= FEW_UNJUDGED ? `: ${athletes.map(printable).join(', ')}` : '';
    const whose = all ? 'anybody' : `${athletes.length} of ${counted(summary.athletes, 'athlete')}${few}`;
    text += wrapped(`Not judged: ${printable(label)} of ${whose}. There is no reading.`, setting);
  }
  const sheets = summary.unread.filter((entry) => entry.line === null).length;
  const columns = summary.unread.filter((entry) => WHOLE_COLUMN.has(entry.code)).length;
  if (sheets > 0) text += `Not judged: ${counted(sheets, 'sheet')}, not read at all; see below.\n`;
  if (columns > 0) text += `Not judged: ${counted(columns, 'column')} of sheets, not understood; see below.\n`;
  return text;
}

function retakeLines(readings: readonly ToRetake[], setting: Setting): string {
  let text = '';
  const groups = together(readings);
  for (const [reading, ...others] of groups.slice(0, MOST_PEOPLE)) {
    const isMany = others.length >= MANY_ROWS;
    for (const one of isMany ? [reading] : [reading, ...others]) text += retakeLine(one, setting);
    if (isMany) {
      text += wrapped(
        `So in ${counted(others.length, 'more row')} of this sheet, of which nothing is judged until that is settled.`,
        setting,
        2,
        2,
      );
    }
  }
  return text + more(groups.length - MOST_PEOPLE, 'more reading', 'rejects.csv, code implausible');
}

function retakeLine(reading: ToRetake, setting: Setting): string {
  const station = reading.station === null ? '' : `, station ${printable(reading.station)}`;
  return wrapped(
    `${who(reading.athlete_id, reading.name)}${station}: ${printable(reading.message)} ${printable(reading.suggestion)} (${place(reading)})`,
    setting,
    0,
    2,
  );
}

function toRetake({ toRetake: readings }: Summary, setting: Setting): string {
  let text = heading(
    `To take again while the athlete is in the building: ${counted(readings.length, 'reading')}`,
    setting,
  );
  if (readings.length === 0) return `${text}None.\n`;
  const vital = readings.filter((reading) => reading.vital);
  if (vital.length > 0) text += `Vital signs first:\n${retakeLines(vital, setting)}`;
  const others = readings.filter((reading) => !reading.vital);
  if (vital.length > 0 && others.length > 0) text += 'Then:\n';
  return text + retakeLines(others, setting);
}

const share = ({ tested, flagged }: RuleTally): string => `${Math.round((100 * flagged) / tested)} %`;

const strictness = (entry: RuleTally): number => -GRADES.indexOf(entry.grade);

/** One line a rule, the strictest grade first; below it the teams to which it is common. */
function byRule(summary: Summary, setting: Setting): string {
  let text = heading('Findings by rule (athletes beyond the limit, of those tested)', setting);
  const flagged = summary.tallies.filter((entry) => entry.flagged > 0);
  const rules = flagged.filter((entry) => entry.team === null).sort((a, b) => strictness(a) - strictness(b));
  if (rules.length === 0) return `${text}None.\n`;
  const rows = rules.map((entry) => [
    printable(entry.rule),
    entry.grade,
    String(entry.flagged),
    String(entry.tested),
    share(entry),
  ]);
  const lines = plainTable(['rule', 'grade', 'beyond', 'tested', 'share'], rows, [false, false, true, true, true])
    .trimEnd()
    .split('\n');
  const head = lines.length - rows.length;
  text += lines
    .slice(0, head)
    .map((line) => `${line}\n`)
    .join('');
  for (const [at, rule] of rules.entries()) {
    text += `${lines[head + at]}\n`;
    const common = flagged.filter((entry) => entry.common && entry.rule === rule.rule);
    const words = common.map(
      (entry) => `${printable(entry.team!)} ${entry.flagged} of ${entry.tested} (${share(entry)})`,
    );
    if (words.length > 0) text += wrapped(`teams: ${words.join('; ')}`, setting, 4, 6);
    if (rule.who.length > 0) {
      const left = rule.who.length - MOST_OF_A_RULE;
      const rest = left > 0 ? ` and ${left} more` : '';
      text += wrapped(`${rule.who.slice(0, MOST_OF_A_RULE).map(printable).join(', ')}${rest}`, setting, 4, 6);
    }
  }
  text += wrapped('Who they are, reading by reading: findings.csv (bilat flag --format csv).', setting);
  if (flagged.some((entry) => entry.common)) {
    const from = Math.round(100 * summary.commonFrom);
    text += wrapped(`teams: those of which ${from} % or more are beyond the limit.`, setting);
    if (summary.inSeveralTeams) text += 'An athlete of two teams counts in each.\n';
  }
  for (const entry of flagged.filter((one) => one.questioned)) {
    text += wrapped(`${printable(entry.rule)} flags more than half of everybody: ${CHECK_THE_TEST_FIRST}.`, setting);
  }
  return text;
}

function unreadOfFile(file: string, entries: readonly Unread[], setting: Setting): string {
  const [whole] = entries;
  if (whole.line === null) {
    const why = `${printable(whole.message)} ${printable(whole.suggestion)}`;
    return wrapped(`${printable(file)}, the whole sheet: ${why}`, setting, 0, 2);
  }
  const cells = entries.reduce((total, entry) => total + entry.cells, 0);
  let text = wrapped(`${printable(file)}: ${counted(cells, 'cell')} in ${counted(entries.length, 'place')}`, setting);
  const alike = together(entries);
  for (const [entry, ...others] of alike.slice(0, MOST_PLACES_A_FILE)) {
    const count = entry.cells > 1 ? ` (${entry.cells} cells)` : '';
    const further = others.reduce((total, other) => total + other.cells, 0);
    const rows =
      others.length > 0 ? `, and so in ${counted(others.length, 'more row')} (${counted(further, 'cell')})` : '';
    text += wrapped(
      `${place(entry)} ${REJECTS[entry.code as RejectCode].title}${count}${rows}: ${printable(entry.message)} ${printable(entry.suggestion)}`,
      setting,
      2,
      4,
    );
  }
  const left = alike.slice(MOST_PLACES_A_FILE).reduce((total, { length }) => total + length, 0);
  return `${text}${more(left, 'more place', 'rejects.csv')}`;
}

/** Entries, those of one sheet with one cure together; others stand alone. Where it hurt, an entry stands alone. */
function together<E extends { file: string; code: string; column: number | null; message: string; suggestion: string }>(
  entries: readonly E[],
): [E, ...E[]][] {
  const groups: [E, ...E[]][] = [];
  const known = new Map<string, E[]>();
  for (const entry of entries) {
    const key = [entry.file, entry.code, entry.column, entry.suggestion].join('\n');
    const isAlone = !ONE_CURE.has(entry.code) || /\bpain/i.test(entry.message);
    const group = isAlone ? undefined : known.get(key);
    if (group !== undefined) group.push(entry);
    else {
      const next: [E, ...E[]] = [entry];
      groups.push(next);
      if (!isAlone) known.set(key, next);
    }
  }
  return groups;
}

/** Columns that are held back for want of a unit stand before everything else that could not be read. */
function unread(summary: Summary, setting: Setting): string {
  const whole = summary.unread.filter((entry) => entry.line === null).length;
  const sheets = whole > 0 ? `, and ${counted(whole, 'sheet')} as a whole` : '';
  let text = heading(`Not read: ${counted(summary.rejectedCells, 'cell')} of ${summary.cells}${sheets}`, setting);
  if (summary.remarks > 0) {
    text += wrapped(
      `${counted(summary.remarks, 'remark')} not read by bilat either: read them (ignored.csv says where).`,
      setting,
    );
  }
  if (summary.unread.length === 0) return `${text}Nothing else: every cell is accounted for.\n`;
  const held = summary.unread.filter((entry) => entry.code === 'unit_unknown');
  const files = new Map<string, Unread[]>();
  for (const entry of summary.unread) {
    if (entry.code === 'implausible' || entry.code === 'unit_unknown') continue;
    const entries = files.get(entry.file);
    if (entries) entries.push(entry);
    else files.set(entry.file, [entry]);
  }
  for (const [entry, ...others] of together(held)) {
    const cells = [entry, ...others].reduce((total, { cells: count }) => total + count, 0);
    const rows = others.length > 0 ? ` in ${counted(others.length + 1, 'place')}` : '';
    text += wrapped(
      `${place(entry)} held back (${counted(cells, 'cell')}${rows}): ${printable(entry.message)} ${printable(entry.suggestion)}`,
      setting,
      0,
      2,
    );
  }
  for (const [file, entries] of files) text += unreadOfFile(file, entries, setting);
  const again = summary.unread.filter((entry) => entry.code === 'implausible').length;
  if (again > 0) {
    text += wrapped(`${counted(again, 'implausible reading')} of all seasons: see above and rejects.csv.`, setting);
  }
  return text;
}

function said({ warnings, notes }: Summary, setting: Setting): string {
  if (warnings.length + notes.length === 0) return '';
  const item = (text: string): string => wrapped(`- ${printable(text.replace(/\.?\n\s*/g, '. '))}`, setting, 0, 2);
  const warned = warnings.map(({ paste = [], ...trouble }) => {
    // Lines to be copied stay as they are.
    const lines = paste.map((line) => `    ${printable(line)}\n`);
    return item(troubleText(trouble)) + lines.join('');
  });
  return heading('Also noticed', setting) + [...warned, ...notes.map(item)].join('');
}

/** The text of a run, what must be seen first on top. */
export function summaryText(summary: Summary, out: string, setting: Setting): string {
  const season = summary.season === null ? 'No season' : `Season ${summary.season}`;
  const earlier =
    summary.earlierSeasons.length > 0
      ? ` Earlier seasons (${summary.earlierSeasons.join(', ')}) are in the tables.`
      : '';
  let text = wrapped(
    `${season}: ${counted(summary.athletes, 'athlete')} tested; ${counted(summary.sheets, 'sheet')} and ${counted(summary.observations, 'observation')} in all.${earlier}`,
    setting,
  );
  text += toSee(summary, setting) + toRetake(summary, setting) + byRule(summary, setting) + unread(summary, setting);
  text += said(summary, setting);
  text += heading('Cautions', setting) + CAUTIONS.map((caution) => wrapped(`- ${caution}`, setting, 0, 2)).join('');
  return `${text}\n${wrapped(`Tables are in ${printable(out)}.`, setting)}`;
}
