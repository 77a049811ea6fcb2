import { foldKey } from '../units/keys.ts';

/** Longer cells are no date, side, number or word of a list. */
const LONGEST_CELL = 200;
const SHORTEST_WORD = 3;
const LETTERS = /[a-z]+/g;
const ID_OF_ONE_WORD = /^[\p{L}\p{N}._/#:-]*\d[\p{L}\p{N}._/#:-]*$/u;

/** Columns whose cells are words of a list, which nobody can mend without seeing them. */
const WORD_COLUMNS: ReadonlySet<string> = new Set(['programme', 'status', 'action', 'rule', 'region', 'team', 'kind']);
/** What stands in dates, sides, counts and answers; any other word there may be the name of somebody. */
const PLAIN_WORDS: ReadonlySet<string> = new Set(
  [
    'left right both bilateral side neither none unknown other male female yes true false new first recurrent',
    'january february march april may june july august september october november december jan feb mar apr jun jul',
    'aug sep sept oct nov dec mon tue wed thu fri sat sun monday tuesday wednesday thursday friday saturday sunday',
    'day days week weeks month months year years season next last soon open ongoing until end start today all never',
    'perhaps maybe session sessions per about pending',
  ].flatMap((words) => words.split(' ')),
);
/** As stations write an athlete: two words with capitals, and a number. */
const NAME_AND_NUMBER = /^(?=.*\d).*\p{Lu}\p{Ll}+,? \p{Lu}\p{Ll}/su;

/** Whether a cell is too long to be anything but free text. */
export function isTooLong(cell: string): boolean {
  return cell.length > LONGEST_CELL;
}

/** Runs of letters, folded. */
function runsOf(text: string): string[] {
  return foldKey(text.slice(0, LONGEST_CELL)).match(LETTERS) ?? [];
}

/** Runs of letters, and all of them as one: those of O'Hara are o, hara, and ohara. */
function wordsOf(text: string): string[] {
  const runs = runsOf(text);
  return runs.length > 1 ? [...runs, runs.join('')] : runs;
}

/** Words of names, by which a message is kept from repeating one. Where a row has slipped, a name may stand anywhere. */
export class NameWords {
  readonly #words: Set<string>;

  /** @param names of people, each as written */
  constructor(names: Iterable<string>, more?: NameWords) {
    this.#words = new Set(more === undefined ? [] : more.#words);
    for (const name of names) for (const word of wordsOf(name)) this.#words.add(word);
  }

  /** Whether any name is known: where none is, a word of letters may be one. */
  get isEmpty(): boolean {
    return this.#words.size === 0;
  }

  /** Whether a text holds a word of a name; one of two letters counts where the text holds no longer word. */
  isIn(text: string): boolean {
    const words = wordsOf(text);
    const long = words.filter((word) => word.length >= SHORTEST_WORD);
    return (long.length > 0 ? long : words).some((word) => word.length > 1 && this.#words.has(word));
  }

  /**
   * Whether a message may repeat a cell. None of its words may be one of a name. Beyond that an athlete's id is a single
   * word with a digit; words of a list are shown where names are known, so that others are none; elsewhere a word has
   * to be one that dates, sides and numbers are written with.
   * @param column in which the cell stands
   */
  mayShow(cell: string, column: string): boolean {
    if (cell === '' || isTooLong(cell) || this.isIn(cell)) return false;
    const isOneWord = ID_OF_ONE_WORD.test(cell);
    if (column === 'athlete_id') return isOneWord;
    if (WORD_COLUMNS.has(column) && !this.isEmpty) return !NAME_AND_NUMBER.test(cell);
    return isOneWord || runsOf(cell).every((word) => word.length < SHORTEST_WORD || isPlainWord(word));
  }
}

/** Letters of a side may have changed places; a word that is merely near to one may be a name: Wright, Jane, Beth. */
function isPlainWord(word: string): boolean {
  const letters = (text: string): string => [...text].sort().join('');
  return PLAIN_WORDS.has(word) || ['left', 'right', 'both'].some((side) => letters(side) === letters(word));
}

/** A cell as a message repeats it, in quotes with a space in front; '' where it may not be repeated. */
export function shownCell(cell: string, column: string, names: NameWords): string {
  return names.mayShow(cell, column) ? ` "${cell}"` : '';
}
