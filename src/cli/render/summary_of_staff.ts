import type { Summary } from '../../screening/summary.ts';
import type { Someone } from '../../screening/work_to_do.ts';
import type { Audience } from '../audience/who.ts';
import { CAUTIONS } from './cautions.ts';
import { missingForCoach, missingText } from './missing.ts';
import { printable } from './printable.ts';
import { byRule, toRetake } from './summary.ts';
import { heading, type Setting, wrapped } from './text.ts';
import { workForCoach, workToDoText } from './work_to_do.ts';

/** What strength staff or a coach are told of a run; its tables are cut to them already. */
export function summaryOfStaff(summary: Summary, audience: Exclude<Audience, 'medical'>, setting: Setting): string {
  const { season, on, work, toCall } = summary;
  let text = wrapped(season === null ? 'No season.' : `Season ${season}, looked at from ${on}.`, setting);
  if (audience === 'coach') {
    text += heading('Not available until medical staff say so', setting) + people(work.held, setting);
    text += workForCoach(work, setting) + missingForCoach(toCall, setting);
    return `${text}\n${wrapped(CAUTIONS[0], setting)}`;
  }
  text += heading('Medical staff see before training', setting) + people(work.referred, setting);
  text +=
    toRetake(summary, setting) + workToDoText(work, summary.knowsClearance, false, setting) + byRule(summary, setting);
  text += missingText(toCall, setting);
  return (
    text + heading('Cautions', setting) + CAUTIONS.map((caution) => wrapped(`- ${caution}`, setting, 0, 2)).join('')
  );
}

function people(athletes: readonly Someone[], setting: Setting): string {
  if (athletes.length === 0) return 'Nobody.\n';
  const words = athletes.map(({ athlete_id, name }) => printable([athlete_id, name ?? ''].join(' ').trim()));
  return wrapped(words.join(', '), setting);
}
