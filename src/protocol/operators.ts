export const OPERATORS = ['ratio', 'difference', 'per', 'percent_of', 'sum', 'mean', 'total', 'z_mean'] as const;
/** How a derived measure is worked out of its parts. */
export type Operator = (typeof OPERATORS)[number];
