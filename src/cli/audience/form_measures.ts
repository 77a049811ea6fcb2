import type { Measure, Protocol } from '../../protocol/types.ts';
import { isHiddenFromCoach } from './private_measures.ts';
import { coachGuard } from './private_words.ts';
import type { Audience } from './who.ts';

/** Says which measures may head the columns of a blank sheet: a coach's sheet names neither vital signs nor body mass. */
export function formMeasureTest(audience: Audience, protocol: Protocol): (measure: Measure) => boolean {
  if (audience !== 'coach') return () => true;
  const isFit = coachGuard(protocol);
  return (measure) =>
    !isHiddenFromCoach(measure) && [measure.name, measure.label, ...measure.headings].every((text) => isFit(text));
}
