/**
 * What a word that `bilat` prints can be: a measure or a rule of the protocol, a column of a table, a word of a closed
 * list, a code of a refused row or of a problem. The order is the order of the list that `bilat explain` prints.
 */
export const TOPIC_KINDS = [
  'measure',
  'rule',
  'programme',
  'sport group',
  'table',
  'column',
  'status',
  'certainty',
  'grade',
  'decision',
  'plan scope',
  'verdict',
  'coverage state',
  'recheck kind',
  'clearance status',
  'availability',
  'urgency',
  'referral state',
  'previous injury',
  'audience',
  'statistic',
  'method',
  'reject code',
  'problem code',
  'ignored reason',
  'field',
  'word',
  'command',
] as const;

/** One word of `TOPIC_KINDS`. */
export type TopicKind = (typeof TOPIC_KINDS)[number];

/** What `bilat explain` says of one name. Texts are plain sentences, without line breaks; the printer wraps them. */
export interface Topic {
  readonly name: string;
  readonly kind: TopicKind;
  readonly title: string;
  readonly definition: string;
  readonly formula?: string;
  readonly unit?: string;
  readonly source?: string;
  readonly caution?: string;
  /** Tables or files it stands in. */
  readonly where?: string;
  /** Names of topics that help to understand this one. */
  readonly see?: readonly string[];
  /** Other spellings that find it. */
  readonly also?: readonly string[];
  /** Whether this version does not compute or write it yet. */
  readonly later?: boolean;
}
