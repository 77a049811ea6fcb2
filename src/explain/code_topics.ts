import { IGNORED_REASONS } from '../problems/ignored.ts';
import { REJECTS, type RejectArgs, type RejectCode, rejectMessage, rejectSuggestion } from '../problems/rejects.ts';
import type { Topic } from './topic.ts';
import { capital } from './words.ts';

/** A cell, row or file of each kind, so that message and cure can be shown as a sheet would bring them. */
const EXAMPLES: Readonly<Record<RejectCode, RejectArgs>> = {
  file_unreadable: { found: 'permission denied' },
  file_empty: {},
  file_not_text: { found: 'a workbook or zip archive' },
  encoding_invalid: { expected: 'UTF-8', found: 'byte 0xe9 in line 12' },
  delimiter_unknown: { choices: ['comma', 'semicolon'] },
  quote_unclosed: { found: 'in line 14' },
  header_missing: { found: 'no line names an athlete and a measure', example: 'ID,Grip L (kg),Grip R (kg)' },
  heading_unknown: { heading: 'Gripp L', choices: ['grip'] },
  heading_ambiguous: { heading: 'Rotation L', choices: ['hip_internal_rotation', 'hip_external_rotation'] },
  heading_duplicate: { heading: 'Grip L', found: 'grip, left, trial 1' },
  row_too_long: { found: '2 cells' },
  athlete_missing: {},
  athlete_unknown: { raw: 'K041', choices: ['K014'] },
  athlete_ambiguous: { raw: 'Lund', choices: ['K014', 'K027'] },
  date_missing: {},
  date_invalid: { raw: '31.6.2026' },
  date_ambiguous: { raw: '3/4/2026', choices: ['2026-04-03', '2026-03-04'] },
  test_unknown: { raw: 'adductr', choices: ['hip_adduction'] },
  side_missing: { measure: 'grip' },
  side_unknown: { raw: 'X' },
  side_needs_roster: { raw: 'D', expected: 'kicking_foot' },
  trial_invalid: { raw: '0' },
  status_unknown: { raw: 'sore?' },
  unit_unknown: { heading: 'Hip Add L', measure: 'hip_adduction', example: '{hip_adduction: kgf}' },
  unit_mismatch: { raw: 'cm', measure: 'grip', expected: 'kgf' },
  number_unreadable: { raw: '4O' },
  number_ambiguous: { raw: '1,234', choices: ['1.234', '1234'] },
  number_censored: { raw: '>30' },
  number_approximate: { raw: '~35' },
  spreadsheet_error: { raw: '#DIV/0!' },
  pair_incomplete: { raw: '118/', expected: 'both systolic and diastolic' },
  height_ambiguous: { raw: '6.2', choices: ['6 ft 2 in', '6.2 ft'] },
  height_as_date: { raw: '11-May', choices: ['5 ft 11 in'] },
  implausible: { raw: '350', measure: 'grip', expected: '1 to 150 kgf', choices: ['35.0'] },
};

/** What else can be said of a code than that nothing of the cell is used. */
const CAUTIONS: Partial<Record<RejectCode, string>> = {
  unit_unknown:
    'A wrong unit makes every reading of a column wrong by the same factor, and no side-to-side deficit shows it.',
  number_ambiguous: 'Two hands could have meant two numbers; bilat takes neither.',
  number_censored: 'A vital sign beyond what the device shows is for medical staff at once.',
  implausible:
    'An implausible blood pressure or pulse is taken again while the athlete is still there: it can be true.',
  date_ambiguous: 'Day and month the wrong way round can put a reading into another season.',
  athlete_ambiguous: 'Nobody is merged on a guess: one athlete’s readings under the name of another hurt both.',
  side_unknown: 'A side that is guessed turns the weaker side into the stronger one.',
};
const ALWAYS =
  'Nothing of the cell is used, and nothing becomes 0: it stands in rejects.csv with file, line and column.';

function rejectTopic(code: RejectCode): Topic {
  const { title } = REJECTS[code];
  const args = EXAMPLES[code];
  return {
    name: code,
    kind: 'reject code',
    title: capital(title),
    definition: `The code of a cell, row or file that is not taken. For example: ${rejectMessage(code, args)} What to do: ${rejectSuggestion(code, args)}`,
    caution: CAUTIONS[code] ? `${CAUTIONS[code]} ${ALWAYS}` : ALWAYS,
    where: 'rejects in the column code; the summary of bilat run counts it, bilat scan shows it by sheet.',
    see: ['rejects', 'suggestion', 'cells'],
    also: [title],
  };
}

/** Topics of the codes of rejected cells. */
export function rejectTopics(): readonly Topic[] {
  return (Object.keys(REJECTS) as RejectCode[]).map(rejectTopic);
}

/** Topics of the reasons for which cells are left aside. */
export function ignoredTopics(): readonly Topic[] {
  return Object.entries(IGNORED_REASONS).map(([name, words]) => ({
    name,
    kind: 'ignored reason',
    title: capital(words.split(/[:;]/)[0]),
    definition: `Cells that were left aside: ${words}.`,
    caution:
      'Such cells are counted and never used. If readings stand there after all, say what they are under columns: in screening.yaml.',
    where: 'ignored in the column reason.',
    see: ['ignored', 'reason'],
    also: [words],
  }));
}
