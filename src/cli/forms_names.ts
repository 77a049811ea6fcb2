import { Failure } from '../problems/failure.ts';
import { foldKey } from '../units/keys.ts';
import { isPlainlyFit } from './audience/private_words.ts';
import type { Audience } from './audience/who.ts';

/** A blank sheet, ready to be written. */
export interface BlankForm {
  /** `hip-water-polo.csv` */
  readonly fileName: string;
  readonly station: string | undefined;
  /** null: athletes without a team */
  readonly team: string | null;
  readonly text: string;
}

const LONGEST_WORD = 60;

/** Letters, digits and hyphens: whatever station and team are called, the file lies in the folder. */
export function fileNameOf(station: string | undefined, team: string | null, audience: Audience): string {
  const isTold = audience !== 'coach' || isPlainlyFit(station ?? '');
  const words = [isTold ? (station ?? 'form') : 'station', team ?? 'no team'].map((name) =>
    foldKey(name)
      .replace(/[^\p{L}\p{N}]+/gu, '-')
      .slice(0, LONGEST_WORD)
      .replace(/^-|-$/g, ''),
  );
  return `${words.map((word) => word || 'x').join('-')}.csv`;
}

const shown = ({ station, team }: BlankForm): string => `${station ?? 'all tests'}, ${team ?? 'no team'}`;

/** @throws Failure 2 if two sheets would lie in one file */
export function distinctNames(forms: readonly BlankForm[]): readonly BlankForm[] {
  const taken = new Map<string, BlankForm>();
  for (const form of forms) {
    const other = taken.get(form.fileName);
    if (other !== undefined) {
      throw new Failure(2, {
        file: form.fileName,
        message: `would hold two sheets, ${shown(other)} and ${shown(form)}, whose names differ in signs only`,
        hint: 'Make them one by one, with --station and --team.',
      });
    }
    taken.set(form.fileName, form);
  }
  return forms;
}
