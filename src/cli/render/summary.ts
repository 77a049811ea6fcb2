import { CHECK_THE_TEST_FIRST } from '../../findings/wording.ts';
import { troubleText } from '../../problems/failure.ts';
import { REJECTS, type RejectCode } from '../../problems/rejects.ts';
import type { Urgency } from '../../protocol/types.ts';
import type { RuleTally, Summary, ToRetake, Unread } from '../../screening/summary.ts';
import type { SuspectReading } from '../../screening/suspect_readings.ts';
import type { ToSee } from '../../screening/to_see.ts';
import { GRADES } from '../../tables/schemas.ts';
import { withUnit } from '../../units/unit_text.ts';
import { CAUTIONS } from './cautions.ts';
import { counted } from './counted.ts';
import { missingText } from './missing.ts';
import { clearanceText } from './plan.ts';
import { printable } from './printable.ts';
import { plainTable } from './table.ts';
import { heading, type Setting, wrapped } from './text.ts';
import { workToDoText } from './work_to_do.ts';

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
/** Suspect readings that are told; all of them stand in recheck.csv. */
const MOST_SUSPECTS = 12;

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

const WHEN: Readonly<Record<Urgency, string>> = {
  now: 'Now',
  before_training: 'Before training',
  routine: 'Routinely',
};

function toSee(summary: Summary, setting: Setting): string {
  let text = heading(`To see medical staff: ${counted(summary.toSee.length, 'athlete')}`, setting);
  if (summary.toSee.length === 0) text += 'Nobody. No finding is not clearance.\n';
  for (const { season, athletes } of summary.earlierReferrals) {
    text += wrapped(`Season ${season} has ${counted(athletes, 'athlete')} to see: findings.csv, grade refer.`, setting);
  }
  let urgency: Urgency | undefined;
  for (const athlete of summary.toSee.slice(0, MOST_PEOPLE)) {
    if (athlete.urgency !== urgency) {
      urgency = athlete.urgency;
      const many = summary.toSee.filter((other) => other.urgency === urgency).length;
      text += `${WHEN[urgency]}: ${many}\n`;
    }
    text += wrapped(
      `${who(athlete.athlete_id, athlete.name)}, ${printable(athlete.team ?? 'no team')}, tested ${athlete.date}`,
      setting,
    );
    for (const finding of athlete.findings) text += findingToSee(finding, athlete.date, setting);
  }
  text += more(summary.toSee.length - MOST_PEOPLE, 'more athlete', 'findings.csv, grade refer');
  if (summary.settled > 0) {
    text += wrapped(`${counted(summary.settled, 'more athlete')} of this season: referred, seen and closed.`, setting);
  }
  return text + notJudged(summary, setting);
}

function findingToSee(finding: ToSee['findings'][number], date: string | null, setting: Setting): string {
  const isLater = finding.last_day !== null && finding.last_day !== finding.date;
  const days = isLater ? `${finding.date} to ${finding.last_day}` : finding.date;
  const when = days === date ? '' : ` (${days})`;
  const newer = finding.has_newer_reading ? ' Read again since: see results.csv.' : '';
  const programme = finding.programme === null ? '' : ` Programme: ${printable(finding.programme)}.`;
  const tester = finding.testers.length === 0 ? '' : ` Tester: ${finding.testers.map(printable).join(', ')}.`;
  return wrapped(
    `- ${printable(finding.message)}${when}${newer}${referralWords(finding.referral)}${programme}${tester} [${printable(finding.rule)}]`,
    setting,
    2,
    4,
  );
}

function referralWords(referral: ToSee['findings'][number]['referral']): string {
  if (referral === null) return '';
  const since = referral.since === null ? 'on a day that cannot be read' : referral.since;
  if (referral.closed_before) {
    return ` Referred ${since} and closed, which does not answer this one: write a line for each test, and for what was read since.`;
  }
  const seen = referral.seen_on === null ? 'not seen yet' : `seen ${referral.seen_on}, not closed`;
  return ` Referred ${since}, ${seen}.`;
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
  const held = new Set(
    summary.unread.filter(({ code }) => code === 'unit_unknown').map(({ file, column }) => `${file}\n${column}`),
  );
  const undated = summary.unread.filter(({ code, column }) => column === null && /^date_/.test(code)).length;
  if (held.size > 0) text += `Not judged: ${counted(held.size, 'column')} held back for want of a unit; see below.\n`;
  if (undated > 0) text += `Not judged: ${counted(undated, 'row')} without a day that can be read; see below.\n`;
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

export function toRetake({ toRetake: readings, suspects }: Summary, setting: Setting): string {
  const vital = [readings.filter((reading) => reading.vital), suspects.filter((reading) => reading.vital)] as const;
  const others = [readings.filter((reading) => !reading.vital), suspects.filter((reading) => !reading.vital)] as const;
  const looked = suspects.length === 0 ? '' : `, and ${suspects.length} to look at`;
  const title = `To take again while the athlete is in the building: ${counted(readings.length, 'reading')}${looked}`;
  let text = heading(title, setting);
  if (readings.length + suspects.length === 0) return `${text}None.\n`;
  const isVital = vital[0].length + vital[1].length > 0;
  if (isVital) text += `Vital signs first:\n${retakeLines(vital[0], setting)}${suspectLines(vital[1], setting)}`;
  if (isVital && others[0].length + others[1].length > 0) text += 'Then:\n';
  return text + retakeLines(others[0], setting) + suspectLines(others[1], setting);
}

/** The first of each list; all of them stand in recheck.csv. */
function suspectLines(readings: readonly SuspectReading[], setting: Setting): string {
  const lines = readings.slice(0, MOST_SUSPECTS).map((reading) => {
    const side = reading.side === null ? '' : ` ${reading.side}`;
    const value = reading.value === null ? '' : ` ${withUnit(forEye(reading), reading.unit ?? '')}`;
    const whose = reading.athlete_id === null ? '' : `${who(reading.athlete_id, reading.name)}, `;
    const where = reading.file === null ? '' : ` (${place({ ...reading, file: reading.file })})`;
    const what = `${whose}${printable(reading.measure)}${side}${value}: `;
    return wrapped(`${what}${printable(reading.suggestion)}${where}`, setting, 0, 2);
  });
  const left = readings.length - lines.length;
  return lines.join('') + (left > 0 ? `and ${left} more to look at: bilat outliers\n` : '');
}

/** Five digits at most, of percents three; the table has them all. */
function forEye({ value, unit }: SuspectReading): string {
  return String(Number(value!.toPrecision(unit === '%' ? 3 : 5)));
}

const share = ({ tested, flagged }: RuleTally): string => `${Math.round((100 * flagged) / tested)} %`;

const strictness = (entry: RuleTally): number => -GRADES.indexOf(entry.grade);

/** One line a rule, the strictest grade first. */
export function byRule(summary: Summary, setting: Setting): string {
  let text = heading('Findings by rule (athletes beyond the limit, of those tested)', setting);
  const rules = summary.tallies.filter(({ flagged }) => flagged > 0).sort((a, b) => strictness(a) - strictness(b));
  if (rules.length === 0) return `${text}None.\n`;
  text += plainTable(
    ['rule', 'grade', 'beyond', 'tested', 'share'],
    rules.map((entry) => [
      printable(entry.rule),
      entry.grade,
      String(entry.flagged),
      String(entry.tested),
      share(entry),
    ]),
    [false, false, true, true, true],
  );
  text += wrapped('By team, with intervals: bilat cohort. Reading by reading: findings.csv.', setting);
  for (const entry of rules.filter(({ questioned }) => questioned)) {
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

function thinText(thin: NonNullable<Summary['thin']>, season: number | null, setting: Setting): string {
  return wrapped(
    `Only ${counted(thin.athletes, 'athlete')} of season ${season}, and ${thin.before} of season ${thin.season}: is a year mistyped? Then all that follows is of the wrong season.`,
    setting,
  );
}

/** The text of a run, what must be seen first on top. */
export function summaryText(summary: Summary, out: string, setting: Setting): string {
  const season = summary.season === null ? 'No season' : `Season ${summary.season}`;
  const earlier =
    summary.earlierSeasons.length > 0
      ? ` Earlier seasons (${summary.earlierSeasons.join(', ')}) are in the tables.`
      : '';
  const on = summary.on === null ? '' : ` Looked at from ${summary.on}.`;
  let text = wrapped(
    `${season}: ${counted(summary.athletes, 'athlete')} tested; ${counted(summary.sheets, 'sheet')} and ${counted(summary.observations, 'observation')} in all.${earlier}${on}`,
    setting,
  );
  if (summary.thin !== null) text += thinText(summary.thin, summary.season, setting);
  text += toSee(summary, setting) + toRetake(summary, setting);
  text += workToDoText(summary.work, summary.knowsClearance, true, setting);
  if (summary.knowsClearance) text += clearanceText(summary, setting);
  text += byRule(summary, setting);
  text += missingText(summary.toCall, setting) + unread(summary, setting);
  text += said(summary, setting);
  text += heading('Cautions', setting) + CAUTIONS.map((caution) => wrapped(`- ${caution}`, setting, 0, 2)).join('');
  return `${text}\n${wrapped(`Tables are in ${printable(out)}.`, setting)}`;
}
