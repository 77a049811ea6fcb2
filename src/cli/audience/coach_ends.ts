import type { Provenance } from '../../files/metadata.ts';
import type { Io } from '../io.ts';
import { isPlainlyFit } from './private_words.ts';
import type { Audience } from './who.ts';

const HELD_BACK = 'note: notes that are not for a coach are held back; without --audience coach they are shown\n';

/** The ends of a command for an audience: from a coach, notes that speak of pain and the like are held back, and that is said. */
export function ioFor(io: Io, audience: Audience): Io {
  if (audience !== 'coach') return io;
  let isSaid = false;
  return {
    ...io,
    err: (text) => {
      if (isPlainlyFit(text)) return io.err(text);
      if (!isSaid) io.err(HELD_BACK);
      isSaid = true;
    },
  };
}

/** Where a file for an audience comes from: for a coach without inputs whose very name speaks of pain and the like. */
export function provenanceFor(provenance: Provenance, audience: Audience): Provenance {
  if (audience !== 'coach') return provenance;
  return { ...provenance, inputs: provenance.inputs.filter(({ path }) => isPlainlyFit(path)) };
}
