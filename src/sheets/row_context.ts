import type { AthleteGatherer } from '../athletes/book.ts';
import { type AthleteDirectory, looksLikeId } from '../athletes/directory.ts';
import { readSex } from '../athletes/roster.ts';
import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import { type DateOrder, readDate } from '../units/dates.ts';
import { parseIsoDay, seasonOf } from '../units/days.ts';
import { readSide, type WrittenSide } from '../units/sides.ts';
import { isMissingMark, OBSERVATION_STATUSES, readStatus } from '../units/statuses.ts';
import { trimmed } from './blank.ts';
import type { SheetEntry } from './entry.ts';
import type { ObservationDictionaries } from './sheet_tables.ts';

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
  readonly dictionaries: ObservationDictionaries;
  /** "MM-DD" */
  readonly seasonStarts: string;
  readonly teamAliases: ReadonlyMap<string, string>;
  /** roster columns that the protocol names as dominance */
  readonly dominanceColumns: readonly string[];
  readonly showNames: boolean;
  readonly hasRoster: boolean;
  /** something worth saying that is no reject; said once with a count */
  note(text: string): void;
}

const VISIT_ROLES = ['athlete_id', 'name', 'first_name', 'last_name', 'team', 'sex', 'date'] as const;

type Known = { readonly code: number } | RowProblem;

const cellOf = (cells: readonly string[], at: number): string => (at < 0 ? '' : trimmed(cells[at] ?? ''));

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
  /** position in OBSERVATION_STATUSES; -1: not said */
  status = -1;
  tester = -1;
  device = -1;

  readonly #world: IngestWorld;
  readonly #file: string;
  readonly #entry: SheetEntry;
  readonly #dates: DateOrder | undefined;
  readonly #at: { readonly [role: string]: number };
  readonly #athletes = new Map<string, Known>();
  readonly #days = new Map<string, { readonly code: number } | RowProblem>();
  readonly #seasons = new Map<number, number>();
  readonly #teams = new Map<string, number>();
  readonly #hasNames: boolean;
  readonly #entryDay: number | undefined;
  /** columns that say who, when and where */
  readonly #visitAt: readonly number[];
  /** their cells in the row before, if that could be taken */
  readonly #visitCells: (string | undefined)[] = [];
  #lastAthlete: string | undefined;
  #lastDate: string | undefined;
  #lastTeam: string | undefined;
  #lastId = '';
  #lastName = '';
  #lastSex = '';
  #lastAthleteCode = -1;
  #lastSeason = 0;

  constructor(
    world: IngestWorld,
    file: string,
    entry: SheetEntry,
    dates: DateOrder | undefined,
    /** role → column from 0; -1 if the sheet has none */
    at: { readonly [role: string]: number },
  ) {
    this.#world = world;
    this.#file = file;
    this.#entry = entry;
    this.#dates = dates;
    this.#at = at;
    this.#visitAt = VISIT_ROLES.map((role) => at[role]).filter((place) => place >= 0);
    this.#hasNames = at.name >= 0 || at.first_name >= 0 || at.last_name >= 0;
    this.#entryDay = entry.date === undefined ? undefined : parseIsoDay(entry.date);
    const { tester, device } = world.dictionaries;
    this.tester = entry.tester === undefined ? -1 : tester.code(entry.tester);
    this.device = entry.device === undefined ? -1 : device.code(entry.device);
  }

  /** Reads the context of one row into the fields; returns the first thing that forbids to take the row. */
  read(cells: readonly string[]): RowProblem | undefined {
    if (!this.#isSameVisit(cells)) {
      this.#visitCells.length = 0;
      // The season of a row is worth knowing although nobody knows the athlete: a rejected row may be urgent.
      const [athlete, day] = [this.#readAthlete(cells), this.#readDay(cells)];
      const problem = athlete ?? day ?? this.#readTeam(cells);
      if (problem) return problem;
      for (const at of this.#visitAt) this.#visitCells.push(cells[at]);
    }
    return this.#readRest(cells);
  }

  /** Most rows are of the visit that the row before belongs to, in the very same words: there is nothing to read anew. */
  #isSameVisit(cells: readonly string[]): boolean {
    const places = this.#visitAt;
    const before = this.#visitCells;
    if (before.length === 0) return false;
    for (let index = 0; index < places.length; index++) if (cells[places[index]] !== before[index]) return false;
    return true;
  }

  #readAthlete(cells: readonly string[]): RowProblem | undefined {
    const { athlete_id, name, first_name, last_name } = this.#at;
    let at = athlete_id;
    let text = cellOf(cells, at);
    if (text === '') {
      at = name;
      text = cellOf(cells, at);
    }
    if (text === '' && this.#hasNames) {
      at = last_name >= 0 ? last_name : first_name;
      text = this.#nameIn(cells);
    }
    if (this.#hasNames && athlete_id >= 0) this.#compareName(cells, cellOf(cells, athlete_id));
    if (text === this.#lastAthlete) return undefined;
    let known = this.#athletes.get(text);
    if (known === undefined) {
      known = this.#findAthlete(text, at);
      this.#athletes.set(text, known);
    }
    if ('args' in known) {
      this.#lastAthlete = undefined;
      this.athlete = -1;
      return known;
    }
    this.#lastAthlete = text;
    this.athlete = known.code;
    return undefined;
  }

  #nameIn(cells: readonly string[]): string {
    const { name, first_name, last_name } = this.#at;
    return cellOf(cells, name) || `${cellOf(cells, first_name)} ${cellOf(cells, last_name)}`.trim();
  }

  /** An id and the name of somebody else in one row: columns may have slipped by a line. The id holds, and it is said. */
  #compareName(cells: readonly string[], id: string): void {
    const name = this.#nameIn(cells);
    if (id === '' || name === '' || (id === this.#lastId && name === this.#lastName)) return;
    this.#lastId = id;
    this.#lastName = name;
    const [byId, byName] = [this.#world.directory.find(id), this.#world.directory.find(name)];
    if (byId.kind !== 'athlete' || byName.kind !== 'athlete' || byId.id === byName.id || byName.by !== 'name') return;
    this.#world.note(
      `${this.#file}: a row of athlete ${byId.id} holds the name of ${byName.id}; it is taken for ${byId.id}: check that no column has slipped`,
    );
  }

  #findAthlete(text: string, at: number): Known {
    if (text === '') return { code: 'athlete_missing', args: {}, at: this.#at.athlete_id, raw: '' };
    const match = this.#world.directory.find(text);
    if (match.kind === 'athlete') {
      if (match.by === 'case' || match.by === 'zeros') {
        const how = match.by === 'case' ? 'case or spaces differ' : 'leading zeros are missing or added';
        this.#world.note(`${this.#file}: athlete "${text}" is taken as ${match.id} of the roster (${how})`);
      }
      return { code: this.#world.dictionaries.athlete_id.code(match.id) };
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
    let known = this.#days.get(text);
    if (known === undefined) {
      known = this.#findDay(text, at);
      this.#days.set(text, known);
    }
    if ('args' in known) {
      this.#lastDate = undefined;
      this.season = 0;
      return known;
    }
    this.#lastDate = text;
    this.day = known.code;
    const season = this.#entry.season ?? this.#seasons.get(this.day);
    this.season = season ?? seasonOf(this.day, this.#world.seasonStarts);
    if (season === undefined) this.#seasons.set(this.day, this.season);
    return undefined;
  }

  #findDay(text: string, at: number): { code: number } | RowProblem {
    if (text === '') {
      return this.#entryDay === undefined ? { code: 'date_missing', args: {}, at, raw: '' } : { code: this.#entryDay };
    }
    const date = readDate(text, this.#dates);
    if (date.kind === 'day') return { code: date.day };
    const expected = this.#dates ? `read as ${this.#dates}` : undefined;
    // Where a row has slipped, a name may stand in the place of the date.
    const raw = /\d/.test(text) || this.#world.showNames || !this.#hasNames ? text : '';
    return { code: date.code, args: { raw: raw || undefined, choices: date.readings, expected }, at, raw };
  }

  #readTeam(cells: readonly string[]): undefined {
    const written = cellOf(cells, this.#at.team);
    const sex = cellOf(cells, this.#at.sex);
    const sameRow = written === this.#lastTeam && sex === this.#lastSex;
    if (sameRow && this.athlete === this.#lastAthleteCode && this.season === this.#lastSeason) return;
    this.#lastTeam = written;
    this.#lastSex = sex;
    this.#lastAthleteCode = this.athlete;
    this.#lastSeason = this.season;
    const { gatherer, dictionaries, teamAliases } = this.#world;
    const named = written === '' ? (this.#entry.team ?? '') : written;
    const key = `${this.athlete}\n${this.season}\n${named}\n${sex}`;
    let team = this.#teams.get(key);
    if (team === undefined) {
      const id = dictionaries.athlete_id.texts[this.athlete];
      const fromSheet = named === '' ? null : (teamAliases.get(named.toLowerCase()) ?? named);
      const row = gatherer.rosterRow(id, this.season);
      gatherer.seen(id, this.season, fromSheet, readSex(sex));
      const teams = row && row.teams.length > 0 ? row.teams : fromSheet === null ? [] : [fromSheet];
      this.#sayDisagreement(id, row?.teams ?? [], fromSheet, row?.sex ?? null, readSex(sex));
      team = teams.length === 0 ? -1 : dictionaries.team.code(teams.join(';'));
      this.#teams.set(key, team);
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
      );
    }
    if (sex !== null && rosterSex !== null && sex !== rosterSex) {
      this.#world.note(
        `${this.#file}: athlete ${id} stands under sex "${sex}", the roster says ${rosterSex}; the roster holds`,
      );
    }
  }

  #readRest(cells: readonly string[]): RowProblem | undefined {
    const { side, trial, status, tester, device } = this.#at;
    this.side = undefined;
    this.unreadSide = '';
    this.trial = 0;
    this.status = -1;
    if (side >= 0) {
      const text = cellOf(cells, side);
      if (text !== '') {
        this.side = sideOf(text);
        // Only a measure with sides asks for it: "sitting" beside a pressure does no harm.
        if (this.side === undefined) this.unreadSide = text;
      }
    }
    if (trial >= 0) {
      const text = cellOf(cells, trial);
      if (text !== '') {
        this.trial = trialOf(text);
        if (this.trial === 0) return { code: 'trial_invalid', args: { raw: text }, at: trial, raw: text };
      }
    }
    if (status >= 0) {
      const text = cellOf(cells, status);
      // A dash in a status column says that there is nothing to say, and takes no reading away.
      if (text !== '' && !isMissingMark(text)) {
        this.status = statusOf(text);
        if (this.status < 0) return { code: 'status_unknown', args: { raw: text }, at: status, raw: text };
      }
    }
    if (tester >= 0) this.tester = this.#named(cellOf(cells, tester), 'tester', this.#entry.tester);
    if (device >= 0) this.device = this.#named(cellOf(cells, device), 'device', this.#entry.device);
    return undefined;
  }

  #named(text: string, column: 'tester' | 'device', otherwise: string | undefined): number {
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

const sideOf = remembered((text) => readSide(text));
const trialOf = remembered((text) => {
  const digits = /^(?:t|trial|try|attempt|rep)?\s*\.?\s*(\d{1,2})(?:\.0)?$/i.exec(text)?.[1];
  return digits === undefined ? 0 : Number(digits);
});
const statusOf = remembered((text) => {
  const status = readStatus(text);
  return status === undefined ? -1 : OBSERVATION_STATUSES.indexOf(status);
});
