import { ruleTopics } from '../../explain/rule_topics.ts';
import { CHECK_THE_TEST_FIRST } from '../../findings/wording.ts';
import { flagsMost } from '../../groups/decision.ts';
import type { Protocol } from '../../protocol/types.ts';
import { round9 } from '../../stats/round9.ts';
import type { Cohort } from '../../tables/schemas.ts';
import { CAUTIONS } from './cautions.ts';
import { CORRECTED, GroupLines, groupName, OTHERS_HEAD, RATIO_HEAD } from './cohort_lines.ts';
import { percentText } from './cohort_numbers.ts';
import { type CohortRow, isCorrected, type RuleRows, type SeasonRows, seasonRows } from './cohort_rows.ts';
import { counted } from './counted.ts';
import { printable } from './printable.ts';
import { heading, type Setting, textWidth, wrapped } from './text.ts';

const STATUS_TITLES: Readonly<Record<string, string>> = {
  pain: 'Pain during a test, of any measure',
  unable: 'A test that could not be done, of any measure',
  one_side: 'A number for one side and none for the other, of any measure',
};

/** What a text needs to know of the protocol. */
interface Words {
  readonly titles: ReadonlyMap<string, string>;
  readonly protocol: Protocol;
  readonly setting: Setting;
}

/** What each group shares, season by season, by what matters: the strictest grade first, then shared work, then share. */
export function cohortText(table: Cohort, protocol: Protocol, setting: Setting): string {
  const seasons = seasonRows(table, protocol);
  if (seasons.length === 0) return 'No rows.\n';
  const titles = new Map([
    ...Object.entries(STATUS_TITLES),
    ...ruleTopics(protocol).map(({ name, title }): [string, string] => [name, title]),
  ]);
  const words = { titles, protocol, setting };
  return (
    seasons.map((season) => seasonText(season, words)).join('\n') +
    heading('Cautions', setting) +
    CAUTIONS.map((caution) => wrapped(`- ${caution}`, setting, 0, 2)).join('')
  );
}

function seasonText(season: SeasonRows, words: Words): string {
  const { protocol, setting } = words;
  const when = season.season === null ? 'All seasons together' : `Season ${season.season}`;
  const rows = season.broken.flatMap(({ all, ranked }) => (all ? [all, ...ranked] : ranked));
  const lines = new GroupLines(rows, protocol.sharing.fromShare, textWidth(setting));
  return (
    wrapped(`${when}: ${counted(season.broken.length, 'rule')} that somebody breaks`, setting) +
    foremostText(season, words) +
    legend(season, lines, rows, words) +
    season.broken.map((rule) => ruleText(rule, lines, words)).join('') +
    restText(season, words)
  );
}

/** What is work for a whole team or sport group, and which tests are to be doubted first. */
function foremostText({ season, broken }: SeasonRows, { protocol, setting }: Words): string {
  const shared = broken.flatMap(({ rule, ranked }) =>
    ranked
      .filter(({ decision, group_kind }) => decision === 'shared' && group_kind !== 'sex')
      .map(
        (row) => `${groupName(row)}: ${programmeOf(rule, protocol) ?? printable(rule)}, ${countWords(row, protocol)}`,
      ),
  );
  let text = '';
  if (season !== null) text += shared.length > 0 ? 'Shared work:\n' : 'No group shares work.\n';
  for (const line of shared) text += wrapped(`${line}.`, setting, 2, 4);
  for (const { rule, all } of broken) {
    if (isDoubtful(all, protocol)) {
      text += wrapped(`${printable(rule)} flags more than half of everybody: ${CHECK_THE_TEST_FIRST}.`, setting);
    }
  }
  return text;
}

function programmeOf(rule: string, { rules, programmes }: Protocol): string | undefined {
  const programme = programmes.get(rules.find(({ name }) => name === rule)?.programme ?? '');
  return programme && `${printable(programme.label)} (${programme.owner} staff)`;
}

function countWords({ flagged, tested, share }: CohortRow, { sharing }: Protocol): string {
  return `${flagged} of ${tested} tested (${percentText(share!, sharing.fromShare)} %)`;
}

function isDoubtful(all: CohortRow | undefined, { sharing }: Protocol): boolean {
  if (all === undefined || all.tested! < sharing.minTested) return false;
  return flagsMost({ tested: all.tested!, flagged: all.flagged! });
}

function legend(
  { season, broken }: SeasonRows,
  { hidden }: GroupLines,
  rows: readonly CohortRow[],
  { protocol, setting }: Words,
): string {
  if (broken.length === 0) return '';
  const { minTested, fromShare } = protocol.sharing;
  const hasRatio = rows.some(({ ratio }) => ratio !== null);
  const sentences = [
    season === null
      ? 'An athlete counts in each season; the intervals allow for that. What is shared is decided season by season.'
      : `shared: ${minTested} or more tested, ${percentText(fromShare, 0)} % or more of them flagged, and the rule may be shared; individual: the rest.`,
    '█ is the share of those tested, ─ its 95 % interval.',
    ...(rows.some(({ group_kind }) => group_kind === 'sport_group') ? ['group: a sport group.'] : []),
    ...(hasRatio && !hidden.includes(OTHERS_HEAD) ? ['others: share of those outside the group.'] : []),
    ...(hasRatio && !hidden.includes(RATIO_HEAD) ? ['ratio: share of the group to that of the others.'] : []),
    ...(rows.some(isCorrected) && !hidden.includes(RATIO_HEAD)
      ? [`${CORRECTED}: one of four counts was 0, so 0.5 was added to all four cells.`]
      : []),
    ...(rows.some(({ ratio, ratio_low }) => ratio !== null && ratio_low === null)
      ? ['no interval: too few are flagged to tell how far the ratio can be trusted.']
      : []),
    ...(hidden.length > 0 ? [`Not shown for lack of width: ${hidden.join(', ')} (--format csv has them).`] : []),
  ];
  return `\n${wrapped(sentences.join(' '), setting)}`;
}

function ruleText(rule: RuleRows, lines: GroupLines, { titles, protocol, setting }: Words): string {
  const { all, ranked, clear, tooFew } = rule;
  const programme = programmeOf(rule.rule, protocol);
  let text = heading(`${printable(rule.rule)} (${rule.grade})`, setting);
  text += wrapped(`${printable(titles.get(rule.rule)!)}.${programme ? ` ${programme}.` : ''}`, setting);
  const shown = all ? [all, ...ranked] : ranked;
  if (shown.length > 0) text += lines.head() + shown.map((row) => lines.line(row)).join('');
  const note = (sentence: string): void => {
    text += wrapped(sentence, setting, 2, 4);
  };
  if (clear.length > 0) note(`Nobody flagged: ${clear.map(groupName).join(', ')}.`);
  if (tooFew.length > 0) note(`Too few: ${listed(tooFew, (row) => tooFewWords(row, protocol))}.`);
  const open = [...shown, ...clear].filter((row) => mayTurn(row, protocol));
  if (open.length > 0) note(`Not tested: ${listed(open, (row) => boundsWords(row, protocol))}.`);
  for (const sentence of allNotes(all, protocol)) note(sentence);
  return text;
}

const listed = (rows: readonly CohortRow[], words: (row: CohortRow) => string): string =>
  rows.map((row) => `${groupName(row)} (${words(row)})`).join(', ');

function tooFewWords({ tested, flagged, flagged_partial }: CohortRow, { sharing }: Protocol): string {
  const found = flagged! + flagged_partial!;
  return `${tested} tested, ${Math.max(1, sharing.minTested)} needed${found > 0 ? `; ${found} flagged` : ''}`;
}

/** Of everybody the untested are always told, of a group where they could turn what is decided. */
function mayTurn({ group_kind, decision, missing, eligible, flagged, rule }: CohortRow, protocol: Protocol): boolean {
  if (missing === 0) return false;
  if (group_kind === 'all') return true;
  const reaches = (count: number): boolean => round9(count / eligible!) >= round9(protocol.sharing.fromShare);
  if (decision === 'shared') return !reaches(flagged!);
  return reaches(flagged! + missing!) && protocol.rules.some(({ name, share }) => name === rule && share);
}

/** What the share would be if those who were not tested were all within the limit, or all beyond it. */
function boundsWords({ missing, eligible, flagged }: CohortRow, { sharing }: Protocol): string {
  const low = percentText(flagged! / eligible!, sharing.fromShare);
  const high = percentText((flagged! + missing!) / eligible!, sharing.fromShare);
  return `${missing} of ${eligible}; with them it is ${low} % at least and ${high} % at most`;
}

/** What is to be said of the row of everybody, and does not fit its line. */
function allNotes(all: CohortRow | undefined, protocol: Protocol): string[] {
  if (all === undefined) return [];
  const { flagged_partial, worse_left, worse_right, pain, unable } = all;
  const notes: string[] = [];
  if (isDoubtful(all, protocol)) notes.push(`Flags more than half of everybody: ${CHECK_THE_TEST_FIRST}.`);
  if (flagged_partial! > 0) {
    notes.push(`Measured in part, flagged all the same, and in no share: ${counted(flagged_partial!, 'athlete')}.`);
  }
  if (worse_left! + worse_right! > 0) notes.push(`On the left only ${worse_left}, on the right only ${worse_right}.`);
  const marks = [...(pain ? [`${pain} in pain`] : []), ...(unable ? [`${unable} unable`] : [])];
  if (marks.length > 0) notes.push(`At the test: ${marks.join(', ')}.`);
  return notes;
}

/** What is not in the lines, and how little they prove. */
function restText(season: SeasonRows, { setting }: Words): string {
  const { kept, untested, intervals, hasTeams, hasUntested } = season;
  const names = (rules: readonly string[]): string => rules.map(printable).join(', ');
  const sentences = [
    ...(kept.length > 0 ? [`Nobody tested breaks ${counted(kept.length, 'rule')}: ${names(kept)}.`] : []),
    ...(untested.length > 0 ? [`Nobody was tested for ${counted(untested.length, 'rule')}: ${names(untested)}.`] : []),
    ...(hasUntested ? ['Whoever was not tested for a rule is in none of its shares.'] : []),
    ...(hasTeams ? ['An athlete counts in each of their teams: rows do not add up to all.'] : []),
    ...(intervals.count > 0 ? [intervalWords(intervals)] : []),
  ];
  return sentences.length === 0 ? '' : `\n${sentences.map((sentence) => wrapped(sentence, setting)).join('')}`;
}

function intervalWords({ count, excluding }: SeasonRows['intervals']): string {
  const chance = Number((0.05 * count).toPrecision(2));
  return `${excluding} of ${counted(count, 'interval')} of ratios ${excluding === 1 ? 'excludes' : 'exclude'} 1; about ${chance} expected by chance. The rows are not independent of each other.`;
}
