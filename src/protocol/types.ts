import type { Grade } from '../tables/schemas.ts';
import type { Unit } from '../units/unit.ts';

export type Better = 'higher' | 'lower' | 'between';
export type Compare = 'percent' | 'gap' | 'none';
export type Keep = 'best' | 'mean' | 'median' | 'first' | 'last';

/** Fields of a result that a rule can judge. */
export const FIELDS = [
  'value',
  'worse',
  'deficit_pct',
  'gap',
  'difference',
  'direction_pct',
  'dominance_pct',
  'dominance_gap',
  'z',
  'change',
  'status',
] as const;
export type Field = (typeof FIELDS)[number];

/** Measurement error as declared; see statistics, section 1. Exactly one of the four numbers. */
export interface MeasurementError {
  readonly sem?: number;
  readonly sem_pct?: number;
  readonly mdc?: number;
  readonly mdc_pct?: number;
  readonly level?: 95 | 90;
  readonly basis: 'occasions' | 'testers' | 'trials';
  readonly n?: number;
  readonly source?: string;
}

/** Part of a derived measure; parts are measures or derived measures named earlier in the protocol. */
export type Derivation =
  | { readonly operator: 'ratio' | 'difference' | 'per' | 'percent_of'; readonly parts: readonly [Measure, Measure] }
  | { readonly operator: 'sum' | 'mean'; readonly parts: readonly Measure[]; readonly asPercentOf?: Measure }
  | {
      readonly operator: 'total';
      readonly parts: readonly Measure[];
      readonly side: 'worse' | 'better' | 'mean' | 'both';
      /** how many parts must be there */
      readonly needs: number;
    }
  | {
      readonly operator: 'z_mean';
      readonly parts: readonly Measure[];
      /** roster or context columns: sex, team or a dominance column */
      readonly within: readonly string[];
      readonly minGroup: number;
      readonly needs: number;
    };

/** A measure or derived measure, with every default filled in. */
export interface Measure {
  readonly name: string;
  /** position in protocol order: measures, then derived */
  readonly index: number;
  readonly label: string;
  /** UCUM unit in which results are kept */
  readonly unit: Unit;
  /** UCUM code of the unit that bare readings are in, only if the protocol states it */
  readonly writtenIn?: string;
  /** each: left and right; derived measures follow their parts */
  readonly sides: 'each' | 'none';
  /** roster column that says the dominant side */
  readonly dominance?: string;
  readonly better: Better;
  readonly compare: Compare;
  readonly trials: { readonly keep: Keep; readonly expect: number; readonly spreadPct?: number };
  /** in unit, inclusive */
  readonly plausible?: readonly [number, number];
  readonly plausibleBoth?: readonly [number, number];
  readonly error?: MeasurementError;
  readonly errors: { readonly [field: string]: MeasurementError };
  readonly levels?: readonly number[];
  readonly headings: readonly string[];
  readonly derivation?: Derivation;
}

export type Comparator = 'below' | 'at_most' | 'above' | 'at_least';

/** How soon medical staff see an athlete, the most urgent first. */
export const URGENCIES = ['now', 'before_training', 'routine'] as const;
export type Urgency = (typeof URGENCIES)[number];

export interface Rule {
  readonly name: string;
  readonly index: number;
  readonly measure: Measure;
  readonly field: Field;
  /** of a limit rule */
  readonly comparator?: Comparator;
  readonly limit?: number;
  /** of a status rule */
  readonly status?: 'pain' | 'unable';
  readonly of: 'kept' | 'any_trial';
  readonly grade: Grade;
  /** names of rules that must be broken too */
  readonly also: readonly string[];
  readonly sex?: string;
  readonly teams?: readonly string[];
  readonly sportGroups?: readonly string[];
  /** for athletes with an earlier injury only */
  readonly history?: { readonly region: string; readonly side: 'same' | 'any'; readonly withinDays?: number };
  readonly share: boolean;
  /** of a referral; undefined: what goes for its measure */
  readonly urgency?: Urgency;
  readonly region?: string;
  readonly programme?: string;
  readonly source?: string;
  readonly strength?: string;
}

export interface SportGroup {
  readonly name: string;
  readonly label: string;
  readonly teams: readonly string[];
  readonly measures: readonly string[];
}

export interface Programme {
  readonly name: string;
  readonly label: string;
  readonly owner: 'strength' | 'medical';
  readonly shared?: string;
  readonly individual?: string;
  readonly retestDays?: number;
  readonly source?: string;
}

export interface Compound {
  readonly name: string;
  readonly headings: readonly string[];
  readonly parts: readonly Measure[];
  readonly between: string;
}

/** A loaded and checked protocol. Maps keep the order of the file. */
export interface Protocol {
  readonly file: string;
  readonly name: string;
  /** protocol order: measures as listed, then derived as listed; index = position */
  readonly measures: readonly Measure[];
  readonly byName: ReadonlyMap<string, Measure>;
  readonly compounds: readonly Compound[];
  readonly rules: readonly Rule[];
  readonly sportGroups: readonly SportGroup[];
  /** names of measures that everybody is given */
  readonly everyone: readonly string[];
  readonly programmes: ReadonlyMap<string, Programme>;
  /** grades of the built-in status findings */
  readonly statuses: { readonly pain: Grade; readonly unable: Grade; readonly one_side: Grade };
  readonly sharing: { readonly fromShare: number; readonly minTested: number; readonly atMostProgrammes: number };
  /** roster columns named by a `dominance:`, in order of first use */
  readonly dominanceColumns: readonly string[];
}
