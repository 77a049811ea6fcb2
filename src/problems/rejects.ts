/** What a reject tells about its cell; each code uses what it needs. */
export interface RejectArgs {
  /** the cell as written; '' where a whole row or file is meant */
  readonly raw?: string;
  readonly heading?: string;
  readonly measure?: string;
  /** what the cell or file was found to be */
  readonly found?: string;
  /** the rule, range or list it broke */
  readonly expected?: string;
  /** nearest known names, or the readings between which nobody can choose */
  readonly choices?: readonly string[];
  /** how the user's own entry would look */
  readonly example?: string;
  /** the reading itself, in the measure's unit */
  readonly value?: number;
}

interface RejectKind {
  /** a few words for lists */
  readonly title: string;
  /** one sentence: the value and the rule it broke */
  readonly message: (args: RejectArgs) => string;
  /** what to do */
  readonly suggestion: (args: RejectArgs) => string;
}

const shown = (text: string | undefined): string =>
  `"${(text ?? '').length > 60 ? `${text!.slice(0, 57)}…` : (text ?? '')}"`;
const or = (choices: readonly string[] | undefined): string => (choices ?? []).join(' or ');
const near = (choices: readonly string[] | undefined): string =>
  choices && choices.length > 0 ? ` Nearest: ${choices.join(', ')}.` : '';

/** Every reason for which a cell, row or file is not taken. The list is closed: a new code needs its words here. */
/** 5'9" as 5 ft 9 in, which no spreadsheet program takes for a date. */
const inWords = (height: string): string => height.replace(/^(\d+)'(\d+)"$/, '$1 ft $2 in');

export const REJECTS = {
  file_unreadable: {
    title: 'file cannot be read',
    message: ({ found }) => `The file cannot be read: ${found}.`,
    suggestion: () => 'Check the path and the permissions, then run again.',
  },
  file_empty: {
    title: 'file is empty',
    message: () => 'The file holds nothing.',
    suggestion: () => 'Ask the station for the sheet, or take the file out.',
  },
  file_not_text: {
    title: 'file is not text',
    message: ({ found }) => `The file is not a text file: it holds ${found}.`,
    suggestion: () => 'Open it in the spreadsheet program and save it as CSV (UTF-8).',
  },
  encoding_invalid: {
    title: 'text encoding is wrong',
    message: ({ found, expected }) => `The file is not ${expected ?? 'UTF-8'}: ${found}.`,
    suggestion: () => 'Save it as CSV (UTF-8), or name its encoding in screening.yaml with encoding:.',
  },
  delimiter_unknown: {
    title: 'delimiter unclear',
    message: ({ found, expected, choices }) =>
      expected
        ? `The row is parted by ${found}, and the sheet by ${expected}.`
        : `The columns could be parted by ${or(choices)}${found ? `: ${found}` : ''}.`,
    suggestion: ({ found, expected }) => {
      if (expected) {
        return 'Part its cells as in the other rows; where several lines are so (a second laptop), save them as a sheet of their own, under their headings.';
      }
      return found
        ? 'Two sheets stand in one file: save each part as a sheet of its own, under its headings.'
        : 'Name the mark in screening.yaml with delimiter:.';
    },
  },
  quote_unclosed: {
    title: 'quote is never closed',
    message: ({ found }) =>
      `A quote opens ${found ?? 'here'} and is never closed, so the rest of the file is one cell.`,
    suggestion: () => 'Close the quote, or take it out (an inch mark at the start of a cell counts as a quote).',
  },
  header_missing: {
    title: 'no heading line',
    message: ({ found }) => `No line with headings was found${found ? `: ${found}` : ''}.`,
    suggestion: ({ example }) =>
      `The sheet needs a line that names an athlete column and at least one measure${example ? `, for example: ${example}` : ''}. Headings of your own are settled in screening.yaml with columns:.`,
  },
  heading_unknown: {
    title: 'heading not understood',
    message: ({ heading }) =>
      heading === ''
        ? 'The column holds cells and has no heading.'
        : `Heading ${shown(heading)} names no measure and no role that is known.`,
    suggestion: ({ heading, choices, example }) =>
      example
        ? `Say in screening.yaml what it holds: columns: {"${example}": {measure: …}}; only if nobody needs it: ignore.`
        : `Add the heading to a measure in protocol.yaml, or say in screening.yaml what it holds: columns: {"${heading ?? ''}": {measure: …}}; only if nobody needs it: ignore.${near(choices)}`,
  },
  heading_ambiguous: {
    title: 'heading can be read two ways',
    message: ({ heading, choices }) => `Heading ${shown(heading)} can mean ${or(choices)}.`,
    suggestion: ({ heading }) => `Settle it in screening.yaml: columns: {"${heading ?? ''}": {measure: …, side: …}}.`,
  },
  heading_duplicate: {
    title: 'two columns for one thing',
    message: ({ heading, found }) => `Heading ${shown(heading)} stands for ${found}, as an earlier column does.`,
    suggestion: () => 'Number the trials in the headings, or set one of the columns to ignore under columns:.',
  },
  row_too_long: {
    title: 'cells beyond the last heading',
    message: ({ found }) => `The row holds ${found} beyond the last heading.`,
    suggestion: () => 'Look for a delimiter inside a cell (a decimal comma?), or give the column a heading.',
  },
  athlete_missing: {
    title: 'no athlete in the row',
    message: ({ found }) => `The row holds ${found ?? 'readings and names no athlete'}.`,
    suggestion: ({ found }) =>
      found
        ? 'Read it: bilat takes nothing from it. What belongs to an athlete stands in a column of the row of that athlete.'
        : 'Fill in the athlete, or take the row out.',
  },
  athlete_unknown: {
    title: 'athlete not on the roster',
    message: ({ raw, expected }) =>
      `${raw === undefined ? 'The athlete named in this cell (names are shown with --names only)' : `Athlete ${shown(raw)}`} is ${expected === 'no roster' ? 'known by name only' : 'not on the roster'}.`,
    suggestion: ({ choices, expected }) =>
      expected === 'no roster'
        ? 'There is no roster: write ids into the sheet, add a roster.csv with athlete_id, last_name and first_name, or let names stand with --names.'
        : `Add the athlete to the roster, settle the spelling under people: in screening.yaml, or say unlisted: keep.${near(choices)}`,
  },
  athlete_ambiguous: {
    title: 'several athletes fit',
    message: ({ raw, choices, found }) => {
      if (found) return `The row names two athletes: the id is that of ${(choices ?? []).join(', the name that of ')}.`;
      return `${raw === undefined ? 'The athlete named in this cell' : `Athlete ${shown(raw)}`} can be ${or(choices)}.`;
    },
    suggestion: ({ found }) =>
      found
        ? 'Look whether a column has slipped by a line, or whether two tables stand beside each other; write the right one.'
        : 'Write the id, or settle the name under people: in screening.yaml.',
  },
  date_missing: {
    title: 'no date',
    message: ({ found }) => `The row has no date${found ? `: ${found}` : ''}.`,
    suggestion: () =>
      'Add a date column, or name the day in screening.yaml with date: on the entry of this sheet, or with from_name: where the file name holds it.',
  },
  date_invalid: {
    title: 'not a date',
    message: ({ raw, expected, found }) =>
      found
        ? `Date ${shown(raw)} is ${found}.`
        : `${raw === undefined ? 'The cell of the date' : `Date ${shown(raw)}`} is no day of the calendar${expected ? ` (${expected})` : ''}.`,
    suggestion: ({ found }) =>
      found ? 'Look whether the year is mistyped, and write the day as YYYY-MM-DD.' : 'Write it as YYYY-MM-DD.',
  },
  date_ambiguous: {
    title: 'date can be read two ways',
    message: ({ raw, choices }) => `Date ${shown(raw)} can be ${or(choices)}.`,
    suggestion: () => 'Say dates: dmy or dates: mdy in screening.yaml on the entry of this sheet.',
  },
  test_unknown: {
    title: 'test not understood',
    message: ({ raw }) => `Test ${shown(raw)} names no measure of the protocol.`,
    suggestion: ({ choices }) => `Add it to the headings of a measure in protocol.yaml.${near(choices)}`,
  },
  side_missing: {
    title: 'no side',
    message: ({ measure }) => `${measure} is measured on each side, and neither heading nor row says which.`,
    suggestion: () => 'Write L or R into the heading or into a side column.',
  },
  side_unknown: {
    title: 'side not understood',
    message: ({ raw, found }) => (found ? `Two sides are named: ${found}.` : `Side ${shown(raw)} is not understood.`),
    suggestion: ({ found }) => (found ? 'Ask the station, and write one of them.' : 'Write L, R, left, right or both.'),
  },
  side_needs_roster: {
    title: 'side needs the roster',
    message: ({ raw, expected, found }) =>
      `Side ${shown(raw)} needs to know the athlete's ${expected}, and ${found ?? 'the roster does not say it'}.`,
    suggestion: ({ expected, found, example }) =>
      example ??
      (found
        ? 'Write left or right, or settle the side in history.csv (athlete_id, side, date, surgery).'
        : `Fill in ${expected} on the roster, or write left or right.`),
  },
  trial_invalid: {
    title: 'trial number not understood',
    message: ({ raw }) => `Trial ${shown(raw)} is not a whole number from 1 to 99.`,
    suggestion: () => 'Write 1, 2, 3.',
  },
  status_unknown: {
    title: 'status not understood',
    message: ({ raw }) => `Status ${shown(raw)} is not understood.`,
    suggestion: () => 'Write ok, pain, unable, refused, not tested, held, not applicable or void.',
  },
  unit_unknown: {
    title: 'unit not known',
    message: ({ heading, raw, measure, found }) =>
      found
        ? `${shown(raw)} says no unit, and ${found}: a unit is never guessed.`
        : raw
          ? `Unit ${shown(raw)} is not understood.`
          : `Heading ${shown(heading)} says no unit, and a unit for ${measure} is never guessed: its readings are held back.`,
    suggestion: ({ example, found }) =>
      found
        ? `Ask the station. Where the numbers without a unit are all in one, write it into the heading${example ? `, or name it in screening.yaml on the entry of this sheet (units: ${example})` : ''}; else write the unit behind each number.`
        : `Write the unit into the heading, name it in screening.yaml (units: ${example ?? '{measure: unit}'}), or state written_in: in protocol.yaml.`,
  },
  unit_mismatch: {
    title: 'unit does not fit the measure',
    message: ({ raw, measure, expected, found }) =>
      found
        ? `${measure} has two units: ${found}.`
        : `Unit ${shown(raw)} cannot be one of ${measure}, which is kept in ${expected}.`,
    suggestion: ({ found }) =>
      found ? 'Ask the station, and write one of them.' : 'Check the heading and the measure it names.',
  },
  number_unreadable: {
    title: 'not a number',
    message: ({ raw }) => `${shown(raw)} is not a number and not a word that says why there is none.`,
    suggestion: () => 'Look at the paper and write the number, or NT, unable, pain, refused.',
  },
  number_ambiguous: {
    title: 'number can be read two ways',
    message: ({ raw, choices, found }) =>
      found && (choices ?? []).length < 2
        ? `${shown(raw)} is not written with ${found}, the decimal mark of the sheet.`
        : `${shown(raw)} can be ${or(choices)}.`,
    suggestion: ({ raw, expected, choices, found, example }) => {
      if (expected) return `Ask the station which it is, and write ${expected}.`;
      const isTrials = choices?.some((choice) => choice.includes(' and ')) ?? false;
      if (!/[.,]/.test(raw ?? '')) return 'Write the number without the space, or part trials by semicolons.';
      if (found) {
        const trials = isTrials ? ' (part trials by semicolons)' : '';
        return example
          ? `screening.yaml says ${example} of this sheet: mend the cell${trials}, or the entry if it is wrong.`
          : `The other cells have ${found}: mend this one cell${trials}.`;
      }
      const mark = 'Say decimal: "," or decimal: "." in screening.yaml on the entry of this sheet';
      return isTrials ? `${mark}, or part trials by semicolons.` : `${mark}.`;
    },
  },
  number_censored: {
    title: 'more than or less than',
    message: ({ raw }) => `${shown(raw)} says where the reading lies, not what it is.`,
    suggestion: () =>
      'Take it again and write the reading itself. Beyond what the device can show is for medical staff, not for a blank.',
  },
  number_approximate: {
    title: 'approximate number',
    message: ({ raw }) => `${shown(raw)} is an estimate, not a reading.`,
    suggestion: () => 'Measure again, or write the number without the mark if it was measured.',
  },
  spreadsheet_error: {
    title: 'error of the spreadsheet',
    message: ({ raw }) => `${shown(raw)} is an error of the spreadsheet program, not a reading.`,
    suggestion: () => 'Mend the formula or widen the column, and save the sheet again.',
  },
  pair_incomplete: {
    title: 'half of a pair is missing',
    message: ({ raw, expected }) => `${shown(raw)} does not hold ${expected}.`,
    suggestion: () => 'Write both numbers.',
  },
  height_ambiguous: {
    title: 'height can be read two ways',
    message: ({ raw, choices }) => `Height ${shown(raw)} can be ${or(choices)}.`,
    suggestion: () => 'Write it as 5\'11" or in centimetres.',
  },
  height_as_date: {
    title: 'height turned into a date',
    message: ({ raw }) => `Height ${shown(raw)} is a date: the spreadsheet program has changed what was typed.`,
    suggestion: ({ choices = [] }) =>
      `It was probably ${or(choices)}. Ask the station, and write it with words: ${choices.map(inWords).join(' or ')}.`,
  },
  implausible: {
    title: 'outside what is possible',
    message: ({ raw, measure, found, expected }) =>
      `${measure} ${shown(raw)}${found ? `, which is ${found},` : ''} lies outside ${expected}.`,
    suggestion: ({ choices, example }) =>
      `${choices && choices.length > 0 ? `Looks like ${or(choices)}. ` : ''}Take it again if the athlete is still there; else mend the sheet, or settle it in corrections.csv${example ? ` (${example} …)` : ''} with the action value, void or confirmed.`,
  },
} satisfies Record<string, RejectKind>;

export type RejectCode = keyof typeof REJECTS;

export function rejectMessage(code: RejectCode, args: RejectArgs): string {
  return (REJECTS[code] as RejectKind).message(args);
}

export function rejectSuggestion(code: RejectCode, args: RejectArgs): string {
  return (REJECTS[code] as RejectKind).suggestion(args);
}
