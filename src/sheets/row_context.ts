import type { AthleteGatherer } from '../athletes/book.ts';
import { type AthleteDirectory, looksLikeId } from '../athletes/directory.ts';
import { type RosterRow, readSex } from '../athletes/roster.ts';
import type { InvolvedSides } from '../outcomes/history.ts';
import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import { unguarded } from '../tables/csv_text.ts';
import { type DateOrder, readDate } from '../units/dates.ts';
import { isoDay, parseIsoDay, seasonOf } from '../units/days.ts';
import { readSide, type WrittenSide } from '../units/sides.ts';
import { isMissingMark, OBSERVATION_STATUSES, readStatus } from '../units/statuses.ts';
import { trimmed } from './blank.ts';
import type { SheetEntry } from './entry.ts';
import { readQualifier } from './headings.ts';
import type { SheetPlan, TablePlan } from './plan.ts';
import { isDitto, rowLabel } from './row_words.ts';
import type { ObservationDictionaries } from './sheet_tables.ts';
import { settleOther } from './table_plans.ts';
import type { TitleFacts } from './title_lines.ts';

/** Why a row cannot be taken, and the cell that says so. */
export interface RowProblem {
  readonly code: RejectCode;
  readonly args: RejectArgs;
  /** column from 0, or -1 for the row */
  readonly at: number;
  /** the cell as it may be shown */
  readonly raw: string;
}

/** What ingest needs to know beside the sheets; the same for all of them. */
export interface IngestWorld {
  readonly directory: AthleteDirectory;
  readonly gatherer: AthleteGatherer;
  /** sides on which athletes were hurt or operated */
  readonly history: InvolvedSides;
  readonly dictionaries: ObservationDictionaries;
  /** "MM-DD" */
  readonly seasonStarts: string;
  readonly teamAliases: ReadonlyMap<string, string>;
  /** roster columns that the protocol names as dominance */
  readonly dominanceColumns: readonly string[];
  readonly showNames: boolean;
  readonly hasRoster: boolean;
  /**
   * Something worth saying that is no reject; said once with a count.
   * @param kind where it is said athlete by athlete of one sheet: many of a kind need not be told one by one
   */
  note(text: string, kind?: string): void;
}

const VISIT_ROLES = ['athlete_id', 'name', 'first_name', 'last_name', 'team', 'sex', 'date'] as const;

/** mayBeLabel: the name reads like the label of a row that a spreadsheet worked out, such as Max */
type Known = { readonly code: number; readonly mayBeLabel?: boolean } | RowProblem;

/** An archive grows by some years beyond what its head shows; a mistyped year is farther off. */
const MOST_YEARS_OFF = 15;
/** Two words with capitals. */
const MAY_BE_NAME = /^\p{Lu}[\p{L}'’.-]*,? \p{Lu}[\p{L}'’. -]*$/u;
/** K014, 1024: no label of any row. */
const PLAIN_ID = /^\p{L}?\d+$/u;
/** 1024;54;51 and the like: a whole row in one cell. */
const PARTED = /\t|[;,][^;,]{0,60}[;,]/;
const DAY = /^\d{1,4}[-/.]\d{1,2}[-/.]\d{1,4}$/;

const cellOf = (cells: readonly string[], at: number): string => (at < 0 ? '' : trimmed(cells[at] ?? ''));
/** A cell that says who: a blank sheet of ours makes ids, names and teams harmless to spreadsheets. */
const whoOf = (cells: readonly string[], at: number): string => unguarded(cellOf(cells, at));

/** Works out who, when, where of each row; remembers what it has met, since neighbouring rows share it. */
export class RowContext {
  athlete = -1;
  day = 0;
  /** 0: not known */
  season = 0;
  team = -1;
  side: WrittenSide | undefined;
  /** what stands in the side column and names no side */
  unreadSide = '';
  /** 0: not said */
  trial = 0;
  /** the athlete's name may as well be the label of a worked-out row */
  mayBeLabel = false;
  /** the trial column says best or mean: the row was worked out from others */
  isWorkedOut = false;
  /** position in OBSERVATION_STATUSES; -1: not said */
  status = -1;
  tester = -1;
  device = -1;

  readonly #world: IngestWorld;
  readonly #file: string;
  readonly #entry: SheetEntry;
  readonly #dates: DateOrder | undefined;
  readonly #table: TablePlan;
  readonly #at: { readonly [role: string]: number };
  readonly #athletes = new Map<string, Known>();
  readonly #days = new Map<string, { readonly code: number } | RowProblem>();
  readonly #seasons = new Map<number, number>();
  readonly #teams = new Map<string, number>();
  readonly #hasNames: boolean;
  /** what screening.yaml or a line above the table says of all its rows */
  #sheetDay: number | undefined;
  #sheetTester: string | undefined;
  #sheetDevice: string | undefined;
  #sheetTeam: string;
  /** columns that tell the rows of one athlete apart */
  readonly #rowKeys: readonly number[];
  /** who the last row that named its athlete was of; undefined: nothing carries on from there */
  #above: Known | undefined;
  /** rows since then that named nobody */
  #carriedRows = 0;
  /** trial, side and test of the athlete's rows so far */
  readonly #keysAbove = new Set<string>();
  #isCarried = false;
  #lastMayBeLabel = false;
  #dayAbove: Known | undefined;
  /** columns that say who, when and where */
  readonly #visitAt: readonly number[];
  /** their cells in the row before, if that could be taken */
  readonly #visitCells: (string | undefined)[] = [];
  /** what the row at hand says of athlete, team and sex, to be counted when it is taken */
  #unsaid:
    | {
        readonly key: string;
        readonly id: string;
        readonly season: number;
        readonly team: string | null;
        readonly sex: string | null;
        readonly row: RosterRow | undefined;
      }
    | undefined;
  #lastAthlete: string | undefined;
  #lastDate: string | undefined;
  #lastTeam: string | undefined;
  #lastId = '';
  #lastName = '';
  #lastTwo: RowProblem | undefined;
  #lastSex = '';
  #lastAthleteCode = -1;
  #lastSeason = 0;

  constructor(
    world: IngestWorld,
    file: string,
    entry: SheetEntry,
    { dates, facts }: Pick<SheetPlan, 'dates' | 'facts'>,
    table: TablePlan,
    /** role → column from 0; -1 if the table has none */
    at: { readonly [role: string]: number },
  ) {
    this.#world = world;
    this.#file = file;
    this.#entry = entry;
    this.#dates = dates;
    this.#table = table;
    this.#at = at;
    this.#visitAt = VISIT_ROLES.map((role) => at[role]).filter((place) => place >= 0);
    this.#hasNames = at.name >= 0 || at.first_name >= 0 || at.last_name >= 0;
    this.#rowKeys = [at.trial, at.side, at.test].filter((place) => place >= 0);
    this.#sheetTeam = entry.team ?? '';
    this.setFacts(facts);
  }

  /** Whether the row at hand names no athlete and goes with the row above it. */
  get isCarried(): boolean {
    return this.#isCarried;
  }

  /** What the lines above a table say of its rows; what screening.yaml says goes before it. */
  setFacts({ date, team, tester, device, problems }: TitleFacts): void {
    const { entry, dictionaries } = { entry: this.#entry, dictionaries: this.#world.dictionaries };
    // Where the lines contradict each other the day above them holds no longer.
    const before = problems.length > 0 ? undefined : this.#sheetDay;
    this.#sheetDay = entry.date === undefined ? (date?.day ?? before) : parseIsoDay(entry.date);
    this.#sheetTester = entry.tester ?? tester?.text ?? this.#sheetTester;
    this.#sheetDevice = entry.device ?? device?.text ?? this.#sheetDevice;
    if (team !== undefined && entry.team === undefined) this.#sheetTeam = team.text;
    this.tester = this.#sheetTester === undefined ? -1 : dictionaries.tester.code(this.#sheetTester);
    this.device = this.#sheetDevice === undefined ? -1 : dictionaries.device.code(this.#sheetDevice);
    this.breakOff();
  }

  /** A blank row, a heading line or the like: what stands below it carries nothing on from above. */
  breakOff(): void {
    this.#above = undefined;
    this.#dayAbove = undefined;
    this.#lastDate = undefined;
    this.#lastTeam = undefined;
    this.#visitCells.length = 0;
  }

  /** Reads the context of one row into the fields; returns the first thing that forbids to take the row. */
  read(cells: readonly string[]): RowProblem | undefined {
    this.#forgetUnsaid();
    if (!this.#isSameVisit(cells)) {
      this.#visitCells.length = 0;
      // The season of a row is worth knowing although nobody knows the athlete: a rejected row may be urgent.
      const [athlete, day] = [this.#readAthlete(cells), this.#readDay(cells)];
      const problem = athlete ?? day ?? this.#readTeam(cells);
      if (problem) return problem;
      // Where rows may go on without a name, each is looked at.
      const isPlain = this.#table.rowsPerAthlete === undefined && !this.mayBeLabel;
      if (isPlain) for (const at of this.#visitAt) this.#visitCells.push(cells[at]);
    }
    return this.#readRest(cells);
  }

  /** The row is taken: what it says of athlete, team and sex counts. */
  commit(): void {
    if (this.#unsaid === undefined) return;
    const { id, season, team, sex, row } = this.#unsaid;
    this.#unsaid = undefined;
    this.#world.gatherer.seen(id, season, team, sex);
    this.#sayDisagreement(id, row?.teams ?? [], team, row?.sex ?? null, sex);
  }

  /** The row before was opened and not taken: what it said of its athlete is looked at anew. */
  #forgetUnsaid(): void {
    if (this.#unsaid === undefined) return;
    this.#teams.delete(this.#unsaid.key);
    this.#unsaid = undefined;
    this.#lastTeam = undefined;
    this.#visitCells.length = 0;
  }

  /**
   * Whether a row that names no athlete goes with the one above it. Where trial, side or test tell an athlete's rows apart,
   * one of them that comes again is somebody else's whose name was forgotten.
   */
  #mayCarry(cells: readonly string[]): boolean {
    const { rowsPerAthlete = 1, keysRepeat } = this.#table;
    this.#carriedRows++;
    if (this.#carriedRows >= rowsPerAthlete) return false;
    if (this.#rowKeys.length === 0) return true;
    const key = this.#keyOf(cells);
    if (key === '' || (!keysRepeat && this.#keysAbove.has(key))) return false;
    this.#keysAbove.add(key);
    return true;
  }

  #keyOf(cells: readonly string[]): string {
    return this.#rowKeys
      .map((at) => cellOf(cells, at))
      .join('\n')
      .trim();
  }

  #named(cells: readonly string[]): void {
    this.#carriedRows = 0;
    if (this.#table.rowsPerAthlete === undefined) return;
    this.#keysAbove.clear();
    this.#keysAbove.add(this.#keyOf(cells));
  }

  /** Most rows are of the visit that the row before belongs to, in the very same words: there is nothing to read anew. */
  #isSameVisit(cells: readonly string[]): boolean {
    const places = this.#visitAt;
    const before = this.#visitCells;
    if (before.length === 0) return false;
    for (let index = 0; index < places.length; index++) if (cells[places[index]] !== before[index]) return false;
    return true;
  }

  /** What a row says where the athlete should stand. */
  athleteTextOf(cells: readonly string[]): string {
    return this.#whoIn(cells).text;
  }

  /** Column of the sides, -1: none. */
  get sideAt(): number {
    return this.#at.side;
  }

  /** Whether a row says which trial, side or test it is about. */
  hasKey(cells: readonly string[]): boolean {
    return this.#keyOf(cells) !== '';
  }

  /** Column, from 0, in which a row names its athlete. */
  athleteAt(cells: readonly string[]): number {
    return this.#whoIn(cells).at;
  }

  /** The text that says who the athlete is, and the column it is in. */
  #whoIn(cells: readonly string[]): { text: string; at: number } {
    const { athlete_id, name, first_name, last_name } = this.#at;
    for (const at of [athlete_id, name]) {
      const text = whoOf(cells, at);
      if (text !== '') return { text, at };
    }
    const place = [last_name, first_name, name].find((at) => at >= 0) ?? athlete_id;
    const text = this.#hasNames ? this.#nameIn(cells) : '';
    return { text, at: text === '' && athlete_id >= 0 ? athlete_id : place };
  }

  #readAthlete(cells: readonly string[]): RowProblem | undefined {
    const { text, at } = this.#whoIn(cells);
    const { athlete_id } = this.#at;
    const two = this.#hasNames && athlete_id >= 0 && this.#twoAthletes(cells, whoOf(cells, athlete_id), athlete_id);
    if (two) {
      this.#above = two;
      this.#isCarried = false;
      this.#lastAthlete = undefined;
      this.athlete = -1;
      return two;
    }
    this.#isCarried = text === '' && this.#above !== undefined && this.#mayCarry(cells);
    if (text !== '') this.#named(cells);
    this.mayBeLabel = false;
    if (text === this.#lastAthlete) {
      this.mayBeLabel = this.#lastMayBeLabel;
      this.#above = { code: this.athlete };
      return undefined;
    }
    let known = this.#isCarried ? this.#above : this.#athletes.get(text);
    if (known === undefined) {
      known = this.#findAthlete(text, at);
      this.#athletes.set(text, known);
    }
    // A row that names nobody and may not be carried ends the athlete above it.
    this.#above = text === '' && !this.#isCarried ? undefined : known;
    if ('args' in known) {
      this.#lastAthlete = undefined;
      this.athlete = -1;
      // The same name may have stood in another column the first time.
      return known.at === at || text === '' ? known : { ...known, at };
    }
    this.#lastAthlete = this.#isCarried ? undefined : text;
    this.#lastMayBeLabel = known.mayBeLabel ?? false;
    this.mayBeLabel = this.#lastMayBeLabel && !this.#isCarried;
    this.athlete = known.code;
    return undefined;
  }

  #nameIn(cells: readonly string[]): string {
    const { name, first_name, last_name } = this.#at;
    return whoOf(cells, name) || `${whoOf(cells, first_name)} ${whoOf(cells, last_name)}`.trim();
  }

  /** An id and the name of somebody else in one row: columns may have slipped by a line, and nobody knows whose it is. */
  #twoAthletes(cells: readonly string[], id: string, at: number): RowProblem | undefined {
    const name = this.#nameIn(cells);
    if (id === '' || name === '') return undefined;
    if (id === this.#lastId && name === this.#lastName) return this.#lastTwo;
    this.#lastId = id;
    this.#lastName = name;
    const byId = this.#world.directory.find(id);
    const other = byId.kind === 'athlete' ? this.#world.directory.speaksOfOther(byId.id, name) : undefined;
    this.#lastTwo =
      byId.kind === 'athlete' && other !== undefined
        ? { code: 'athlete_ambiguous', args: { found: 'two', choices: [byId.id, other] }, at, raw: id }
        : undefined;
    return this.#lastTwo;
  }

  #findAthlete(text: string, at: number): Known {
    if (text === '') return { code: 'athlete_missing', args: {}, at, raw: '' };
    // The row above names nobody, or it would stand here in place of the mark.
    if (isDitto(text)) return { code: 'athlete_missing', args: {}, at, raw: text };
    const match = this.#world.directory.find(text);
    // Blanks in an id are nothing, and tabs part cells: "12 345" may be an id, 12, tab and 345 are two cells.
    if (match.kind === 'athlete' && match.by !== 'name' && text.includes('\t')) {
      return { code: 'athlete_unknown', args: {}, at, raw: '' };
    }
    // Without a roster "TEST01" and a line with a day would be athletes like any other.
    const label = PLAIN_ID.test(text) ? undefined : rowLabel(text);
    if (match.kind === 'athlete' && match.unlisted && (label?.sure || DAY.test(text) || PARTED.test(text))) {
      return { code: 'athlete_unknown', args: { raw: text }, at, raw: text };
    }
    if (match.kind === 'athlete') {
      if (match.by === 'case' || match.by === 'zeros') {
        const how = match.by === 'case' ? 'case or spaces differ' : 'leading zeros are missing or added';
        this.#world.note(`${this.#file}: athlete "${text}" is taken as ${match.id} of the roster (${how})`, match.by);
      }
      return { code: this.#world.dictionaries.athlete_id.code(match.id), mayBeLabel: label !== undefined };
    }
    const raw = looksLikeId(text) || this.#world.showNames ? text : '';
    const shown = raw === '' ? undefined : raw;
    return match.kind === 'ambiguous'
      ? { code: 'athlete_ambiguous', args: { raw: shown, choices: match.ids }, at, raw }
      : {
          code: 'athlete_unknown',
          args: { raw: shown, choices: match.nearest, expected: this.#world.hasRoster ? undefined : 'no roster' },
          at,
          raw,
        };
  }

  #readDay(cells: readonly string[]): RowProblem | undefined {
    const at = this.#at.date;
    const text = cellOf(cells, at);
    if (text === this.#lastDate) return undefined;
    let known = this.#isCarried && text === '' ? this.#dayAbove : this.#days.get(text);
    if (known === undefined) {
      known = this.#findDay(text, at);
      // Without a date of its own a row depends on what stands above the table.
      if (text !== '') this.#days.set(text, known);
    }
    this.#dayAbove = known;
    if ('args' in known) {
      this.#lastDate = undefined;
      this.season = 0;
      return known;
    }
    this.#lastDate = this.#isCarried ? undefined : text;
    this.day = known.code;
    this.season = this.seasonOfDay(this.day);
    return undefined;
  }

  seasonOfDay(day: number): number {
    const known = this.#entry.season ?? this.#seasons.get(day);
    const season = known ?? seasonOf(day, this.#world.seasonStarts);
    if (known === undefined) this.#seasons.set(day, season);
    return season;
  }

  #findDay(text: string, at: number): { code: number } | RowProblem {
    if (text === '') {
      if (this.#sheetDay !== undefined) return { code: this.#sheetDay };
      return { code: 'date_missing', args: { found: this.#entry.nameProblem }, at, raw: '' };
    }
    const date = readDate(text, this.#dates);
    const far = date.kind === 'day' ? this.#farFromOthers(date.day) : undefined;
    if (date.kind === 'day' && far === undefined) return { code: date.day };
    if (date.kind === 'day') return { code: 'date_invalid', args: { raw: text, found: far }, at, raw: text };
    const expected = this.#dates ? `read as ${this.#dates}` : undefined;
    // Where a row has slipped, a name may stand in the place of the date.
    const raw = /\d/.test(text) || this.#world.showNames || !this.#hasNames ? text : '';
    return { code: date.code, args: { raw: raw || undefined, choices: date.readings, expected }, at, raw };
  }

  /** A day so far from the other dates of the sheet that its year must be mistyped: what it is, in words. */
  #farFromOthers(day: number): string | undefined {
    const { years } = this.#table;
    if (years === undefined) return undefined;
    const year = Number(isoDay(day).slice(0, 4));
    const [first, last] = years;
    if (year >= first - MOST_YEARS_OFF && year <= last + MOST_YEARS_OFF) return undefined;
    return `${isoDay(day)}, and the other dates of the sheet are of ${first === last ? first : `${first} to ${last}`}`;
  }

  #readTeam(cells: readonly string[]): undefined {
    const own = whoOf(cells, this.#at.team);
    const written = own === '' && this.#isCarried ? (this.#lastTeam ?? '') : own;
    const sex = cellOf(cells, this.#at.sex);
    const sameRow = written === this.#lastTeam && sex === this.#lastSex;
    if (sameRow && this.athlete === this.#lastAthleteCode && this.season === this.#lastSeason) return;
    this.#lastTeam = written;
    this.#lastSex = sex;
    this.#lastAthleteCode = this.athlete;
    this.#lastSeason = this.season;
    const { gatherer, dictionaries, teamAliases } = this.#world;
    const named = written === '' ? this.#sheetTeam : written;
    const key = `${this.athlete}\n${this.season}\n${named}\n${sex}`;
    let team = this.#teams.get(key);
    if (team === undefined) {
      const id = dictionaries.athlete_id.texts[this.athlete];
      const fromSheet = named === '' ? null : (teamAliases.get(named.toLowerCase()) ?? named);
      const row = gatherer.rosterRow(id, this.season);
      const teams = row && row.teams.length > 0 ? row.teams : fromSheet === null ? [] : [fromSheet];
      team = teams.length === 0 ? -1 : dictionaries.team.code(teams.join(';'));
      this.#teams.set(key, team);
      this.#unsaid = { key, id, season: this.season, team: fromSheet, sex: readSex(sex), row };
    }
    this.team = team;
  }

  #sayDisagreement(
    id: string,
    teams: readonly string[],
    team: string | null,
    rosterSex: string | null,
    sex: string | null,
  ): void {
    if (team !== null && teams.length > 0 && !teams.some((other) => other.toLowerCase() === team.toLowerCase())) {
      this.#world.note(
        `${this.#file}: athlete ${id} stands under team "${team}", the roster says ${teams.join(' and ')}; the roster holds`,
        'team',
      );
    }
    if (sex !== null && rosterSex !== null && sex !== rosterSex) {
      this.#world.note(
        `${this.#file}: athlete ${id} stands under sex "${sex}", the roster says ${rosterSex}; the roster holds`,
        'sex',
      );
    }
  }

  #readRest(cells: readonly string[]): RowProblem | undefined {
    const { side, trial, status, tester, device } = this.#at;
    this.side = undefined;
    this.unreadSide = '';
    this.trial = 0;
    this.status = -1;
    this.isWorkedOut = false;
    if (side >= 0) {
      const text = cellOf(cells, side);
      if (text !== '') {
        this.side = settleOther(sideOf(text), this.#table);
        // Only a measure with sides asks for it: "sitting" beside a pressure does no harm.
        if (this.side === undefined) this.unreadSide = this.#shown(text);
      }
    }
    if (trial >= 0) {
      const text = cellOf(cells, trial);
      if (text !== '') {
        this.trial = trialOf(text);
        if (this.trial < 0) {
          this.trial = 0;
          this.isWorkedOut = !this.#table.onlyWorkedOutTrials;
        } else if (this.trial === 0)
          return { code: 'trial_invalid', args: { raw: this.#shown(text) }, at: trial, raw: this.#shown(text) };
      }
    }
    if (status >= 0) {
      const text = cellOf(cells, status);
      // A dash in a status column says that there is nothing to say, and takes no reading away.
      if (text !== '' && !isMissingMark(text)) {
        this.status = statusOf(text);
        if (this.status < 0) {
          return { code: 'status_unknown', args: { raw: this.#shown(text) }, at: status, raw: this.#shown(text) };
        }
      }
    }
    if (tester >= 0) this.tester = this.#text(cellOf(cells, tester), 'tester', this.#sheetTester);
    if (device >= 0) this.device = this.#text(cellOf(cells, device), 'device', this.#sheetDevice);
    return undefined;
  }

  /** Where a row has slipped a name may stand in any column: one that may be a name is not repeated. */
  #shown(text: string): string {
    return this.#world.showNames || !MAY_BE_NAME.test(text) ? text : '…';
  }

  #text(text: string, column: 'tester' | 'device', otherwise: string | undefined): number {
    const said = text === '' ? (otherwise ?? '') : text;
    return said === '' ? -1 : this.#world.dictionaries[column].code(said);
  }
}

const MOST_REMEMBERED = 1000;

/**
 * A reader of words with a memory, bounded so that a column of novels costs no more than its reading. L, R, 1 and 2 are
 * looked up by their one character, which needs no hash.
 */
function remembered<T>(read: (text: string) => T): (text: string) => T {
  const memory = new Map<string, T>();
  const single = Array.from({ length: 128 }, (_, code) => read(String.fromCharCode(code)));
  return (text) => {
    if (text.length === 1) {
      const code = text.charCodeAt(0);
      if (code < 128) return single[code];
    }
    let value = memory.get(text);
    if (value === undefined && !memory.has(text)) {
      value = read(text);
      if (memory.size < MOST_REMEMBERED) memory.set(text, value);
    }
    return value as T;
  };
}

/** What the trial column of a worked-out row reads as. */
const WORKED_OUT = -1;

const sideOf = remembered((text) => readSide(text));
const trialOf = remembered((text) => {
  const digits = /^(?:t|trial|try|attempt|rep)?\s*\.?\s*(\d{1,2})(?:\.0)?$/i.exec(text)?.[1];
  if (digits !== undefined) return Number(digits);
  return readQualifier(text)?.workedOut ? WORKED_OUT : 0;
});
const statusOf = remembered((text) => {
  const status = readStatus(text);
  return status === undefined ? -1 : OBSERVATION_STATUSES.indexOf(status);
});
