import type { Provenance } from '../../files/metadata.ts';
import { type Trouble, troubleText } from '../../problems/failure.ts';
import type { Screening } from '../../screening/types.ts';
import type { Io } from '../io.ts';
import { isPlainlyFit } from './private_words.ts';
import { type Audience, heldBackNote } from './who.ts';

/** The ends of a command for an audience: from a coach, notes that speak of pain and the like are held back, and that is said. */
export function ioFor(io: Io, audience: Audience): Io {
  if (audience !== 'coach') return io;
  const heldBack = heldBackNote(audience);
  let isSaid = false;
  return {
    ...io,
    err: (text) => {
      if (text !== heldBack && isPlainlyFit(text)) return io.err(text);
      if (!isSaid) io.err(heldBack);
      isSaid = true;
    },
  };
}

/** Says what was found wrong in the files of a folder; what stands in the files of medical staff is held back, and that is said. */
export function tellWarnings(
  io: Io,
  { warnings, screening }: { readonly warnings: readonly Trouble[]; readonly screening: Screening },
  audience: Audience = 'medical',
): void {
  const { injuries, history, referrals, clearance } = screening;
  const medical = new Set([injuries, history, referrals, clearance].flatMap((spec) => spec?.file ?? []));
  const isTold = ({ file }: Trouble): boolean => audience === 'medical' || !medical.has(file ?? '');
  for (const warning of warnings) if (isTold(warning)) io.err(`note: ${troubleText(warning)}\n`);
  if (!warnings.every(isTold)) io.err(heldBackNote(audience));
}

/** Where a file for an audience comes from: for a coach without inputs whose very name speaks of pain and the like. */
export function provenanceFor(provenance: Provenance, audience: Audience): Provenance {
  if (audience !== 'coach') return provenance;
  return { ...provenance, inputs: provenance.inputs.filter(({ path }) => isPlainlyFit(path)) };
}
