import type { RejectArgs, RejectCode } from '../problems/rejects.ts';
import type { Measure } from '../protocol/types.ts';
import { SIDES, type WrittenSide } from '../units/sides.ts';
import type { IngestWorld, RowContext } from './row_context.ts';

/** Position in SIDES. */
export type SideCode = number;

export interface SideProblem {
  readonly code: RejectCode;
  readonly args: RejectArgs;
  /** the side column of the row is at fault, and this is what stands in it */
  readonly cell?: string;
}

const NONE = SIDES.indexOf('none');

/** Whether neither column nor row says on which side a reading of a measure with sides was taken. */
export function isSideOpen(measure: Measure, named: WrittenSide | undefined, context: RowContext): boolean {
  return measure.sides === 'each' && named === undefined && context.side === undefined && context.unreadSide === '';
}

/** Settles sides: as written, or through roster and history where they are named by what the limb does or went through. */
export class RowSides {
  readonly #world: IngestWorld;
  readonly #context: RowContext;

  constructor(world: IngestWorld, context: RowContext) {
    this.#world = world;
    this.#context = context;
  }

  /** @param named the side that the column or the test names */
  of(measure: Measure, named: WrittenSide | undefined): SideCode | SideProblem {
    if (measure.sides === 'none') return NONE;
    const { side: ofRow, unreadSide } = this.#context;
    if (unreadSide !== '') return { code: 'side_unknown', args: { raw: unreadSide }, cell: unreadSide };
    if (named !== undefined && ofRow !== undefined && named !== ofRow) {
      const found = `the heading or test says ${spoken(named)}, the row ${spoken(ofRow)}`;
      return { code: 'side_unknown', args: { found } };
    }
    const written = named ?? ofRow;
    if (written === undefined || written === 'none') return { code: 'side_missing', args: { measure: measure.label } };
    switch (written) {
      case 'left':
      case 'right':
      case 'both':
        return SIDES.indexOf(written);
      case 'dominant':
      case 'nondominant':
      case 'other':
        return this.#through(this.#dominant(measure), written === 'dominant', {
          raw: written,
          expected: measure.dominance ?? 'dominant side',
          found:
            measure.dominance === undefined ? 'the protocol names no dominance column for this measure' : undefined,
          example:
            measure.dominance === undefined
              ? 'Write left or right, or say dominance: in protocol.yaml, with the roster column that holds it.'
              : undefined,
        });
      default:
        return this.#involved(written);
    }
  }

  #involved(written: 'surgical' | 'non_surgical' | 'involved' | 'uninvolved'): SideCode | SideProblem {
    const { athlete, day } = this.#context;
    const surgicalOnly = written === 'surgical' || written === 'non_surgical';
    const id = this.#world.dictionaries.athlete_id.texts[athlete];
    const side = this.#world.history.of(id, day, surgicalOnly);
    const expected = surgicalOnly ? 'operated side' : 'injured or operated side';
    const found =
      side === 'both' ? 'history.csv does not settle on one side' : 'history.csv names no such side up to that day';
    const known = side === 'both' ? undefined : side;
    return this.#through(known, written === 'surgical' || written === 'involved', {
      raw: spoken(written),
      expected,
      found,
    });
  }

  #through(known: 'left' | 'right' | undefined, isThatSide: boolean, args: RejectArgs): SideCode | SideProblem {
    if (known === undefined) return { code: 'side_needs_roster', args };
    return SIDES.indexOf((known === 'left') === isThatSide ? 'left' : 'right');
  }

  #dominant(measure: Measure): 'left' | 'right' | undefined {
    if (measure.dominance === undefined) return undefined;
    const { athlete, season } = this.#context;
    const row = this.#world.gatherer.rosterRow(this.#world.dictionaries.athlete_id.texts[athlete], season);
    const side = row?.dominance[this.#world.dominanceColumns.indexOf(measure.dominance)];
    return side === 'left' || side === 'right' ? side : undefined;
  }
}

const spoken = (side: WrittenSide): string => side.replaceAll('_', ' ');
