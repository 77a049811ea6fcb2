import type { Battery } from '../findings/batteries.ts';
import { BUILT_IN_STATUSES, type Check } from '../findings/check.ts';
import { checksByMeasureCode } from '../findings/checks.ts';
import { historyApplies } from '../findings/history_rules.ts';
import type { PastInjuries } from '../outcomes/past.ts';
import type { Protocol, Rule } from '../protocol/types.ts';
import { type Findings, MARK, type Results } from '../tables/schemas.ts';
import { brokenSides, findingReader } from './found.ts';
import { companionsOf, measuredFor } from './rule_needs.ts';

const PAIN = MARK.painLeft | MARK.painRight | MARK.painOther;
const UNABLE = MARK.unableLeft | MARK.unableRight | MARK.unableOther;

/**
 * What became of one athlete in one season. Each array is by rule: those of the protocol in its order, then the built-in
 * statuses.
 */
export interface Verdicts {
  /** 1: the rule applies */
  readonly eligible: Uint8Array;
  /** 1: on some occasion every side and part was there that the rule needs */
  readonly tested: Uint8Array;
  /** FOUND, on the occasion that counts; 0: within the limit, or not tested */
  readonly found: Uint8Array;
  /** 1: a finding, though the rule lacked something on every occasion */
  readonly partial: Uint8Array;
  /** 1: in pain at the measure or a part of it, on any occasion */
  readonly pain: Uint8Array;
  readonly unable: Uint8Array;
}

export interface Occasion {
  /** days since 1970-01-01 */
  readonly day: number;
  /** of the results */
  readonly rows: readonly number[];
}

export interface Person {
  readonly athleteId: string;
  readonly season: number;
  readonly battery: Battery;
}

/** Names of everything that is judged, in the order of the verdicts. */
export function ruleNames(protocol: Protocol): string[] {
  return [...protocol.rules.map(({ name }) => name), ...BUILT_IN_STATUSES];
}

/**
 * Tells what became of athletes by the results and findings of all.
 *
 * The occasion that counts is the first (or last) one of the season on which the rule had all it needs: every side and
 * part of its measure, and of the measures of the rules in its `also`. A limit is broken where there is a finding; a mark
 * (pain, unable, one_side) where it stands, also if its finding gave way to that of a stricter rule on the same mark.
 */
export class SeasonJudge {
  readonly #results: Results;
  readonly #rules: readonly Rule[];
  readonly #names: readonly string[];
  readonly #past: PastInjuries;
  readonly #counted: 'first' | 'last';
  readonly #checks: readonly (readonly Check[])[];
  /** index of the measure, by its code in the results */
  readonly #measures: readonly number[];
  readonly #companions: readonly (readonly number[])[];
  readonly #measuredFor: readonly (readonly number[])[];
  readonly #foundOn: ReturnType<typeof findingReader>;

  constructor(results: Results, findings: Findings, protocol: Protocol, past: PastInjuries, counted: 'first' | 'last') {
    const { rules, measures, byName } = protocol;
    this.#results = results;
    this.#rules = rules;
    this.#names = ruleNames(protocol);
    this.#past = past;
    this.#counted = counted;
    this.#checks = checksByMeasureCode(results, protocol);
    this.#measures = results.columns.measure.dictionary.texts.map((name) => byName.get(name)!.index);
    this.#companions = rules.map((rule) => companionsOf(rule, rules));
    const all = measures.map(({ index }) => index);
    this.#measuredFor = this.#names.map((_, order) => (order < rules.length ? measuredFor(rules[order].measure) : all));
    this.#foundOn = findingReader(findings, this.#names);
  }

  /**
   * @param occasions all of the season, in the order of their days
   * @param lastDay day from which somebody without any occasion is looked at, in days since 1970-01-01
   */
  judge(person: Person, occasions: readonly Occasion[], lastDay: number): Verdicts {
    const verdicts = {
      eligible: this.#blank(),
      tested: this.#blank(),
      found: this.#blank(),
      partial: this.#blank(),
      pain: this.#marked(occasions, PAIN),
      unable: this.#marked(occasions, UNABLE),
    };
    if (occasions.length === 0) this.#apply(person, lastDay, verdicts.eligible);
    for (const occasion of occasions) {
      this.#apply(person, occasion.day, verdicts.eligible);
      this.#take(person, occasion, verdicts);
    }
    for (const [order, tested] of verdicts.tested.entries()) if (tested === 1) verdicts.partial[order] = 0;
    return verdicts;
  }

  #blank(): Uint8Array {
    return new Uint8Array(this.#names.length);
  }

  #applies({ battery, athleteId }: Person, rule: Rule, day: number): boolean {
    return battery.applies[rule.index] && historyApplies(rule, this.#past, athleteId, day);
  }

  /** Built-in statuses are for everybody. */
  #apply(person: Person, day: number, eligible: Uint8Array): void {
    for (const rule of this.#rules) if (this.#applies(person, rule, day)) eligible[rule.index] = 1;
    eligible.fill(1, this.#rules.length);
  }

  #take(person: Person, occasion: Occasion, { tested, found, partial }: Verdicts): void {
    const { isThere, broken } = this.#lookAt(person, occasion);
    for (let order = 0; order < this.#names.length; order++) {
      const lacks = (other: number): boolean =>
        isThere[other] === 0 && this.#applies(person, this.#rules[other], occasion.day);
      if (isThere[order] === 0 || this.#companions[order]?.some(lacks)) {
        if (broken[order] !== 0) partial[order] = 1;
      } else if (tested[order] === 0 || this.#counted === 'last') {
        tested[order] = 1;
        found[order] = broken[order];
      }
    }
  }

  /** Which rules had all of their own measure, and which are broken, on one occasion. */
  #lookAt(person: Person, { day, rows }: Occasion): { isThere: Uint8Array; broken: Uint8Array } {
    const isThere = this.#blank();
    const broken = this.#foundOn(person.athleteId, person.season, day);
    for (const row of rows) {
      for (const check of this.#checks[this.#results.columns.measure.codes[row]]) {
        const { rule, order } = check;
        if (rule !== undefined && !this.#applies(person, rule, day)) continue;
        if (isPlainMark(check)) broken[order] |= brokenSides(check, row);
        if (!check.isTested(row)) continue;
        // Whoever came to one test could have shown any of the built-in marks.
        if (rule === undefined) isThere.fill(1, this.#rules.length);
        else isThere[order] = 1;
      }
    }
    return { isThere, broken };
  }

  /** By rule, whether one of some marks stands at its measure or a part of it; a built-in status looks at all measures. */
  #marked(occasions: readonly Occasion[], bits: number): Uint8Array {
    const { measure, marks } = this.#results.columns;
    const at = new Set<number>();
    for (const { rows } of occasions) {
      for (const row of rows) if ((marks.values[row] & bits) !== 0) at.add(this.#measures[measure.codes[row]]);
    }
    return Uint8Array.from(this.#measuredFor, (measures) => Number(measures.some((index) => at.has(index))));
  }
}

/** A mark that no other rule and no injury has to bear out: the results themselves tell it. */
function isPlainMark({ kind, rule }: Check): boolean {
  return kind === 'status' && (rule === undefined || (rule.also.length === 0 && rule.history === undefined));
}
