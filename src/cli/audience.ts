import { Option } from 'commander';
import { AUDIENCES, type Audience } from './audience/who.ts';
import { UsageError } from './options.ts';

export { AUDIENCES, type Audience };

export interface AudienceOptions {
  readonly audience: Audience;
}

/** `--audience`: what is shown of people. */
export function audienceOption(): Option {
  return new Option('--audience <who>', 'who reads it; a coach sees availability, programmes and dates only')
    .choices(AUDIENCES)
    .default('medical');
}

/** Refuses a table that holds nothing that a coach may see. */
export function refuseCoach(audience: Audience, command: string): void {
  if (audience !== 'coach') return;
  throw new UsageError(
    `bilat ${command} shows readings and deficits, and a coach sees neither: bilat plan --audience coach or bilat coverage --audience coach`,
  );
}
