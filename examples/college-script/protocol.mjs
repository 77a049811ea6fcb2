// The protocol of the college: the starter protocol with this college's name and teams.
import { existsSync, readFileSync } from 'node:fs';
import { write } from './files.mjs';
import { SPORT_GROUPS } from './people.mjs';

const STARTER = new URL('../../src/protocol/starter/protocol.yaml', import.meta.url);
const HEAD = `# Preseason protocol of Thrumbleford College: an invented college, for trying bilat out.
# It is the starter protocol with the teams of this college in its sport groups.
#
`;

/** Replaces the one place that fits. */
function replaceOnce(text, place, replacement) {
  if (text.split(place).length !== 2) throw new Error(`The starter protocol has not exactly one ${place}.`);
  return text.replace(place, replacement);
}

/** Where the starter protocol is not at hand, as in an installed package, the protocol stays as it is. */
export function writeProtocol() {
  if (!existsSync(STARTER)) return;
  const starter = readFileSync(STARTER, 'utf8');
  let text = HEAD + starter.slice(starter.indexOf('# CONFIRM WITH'));
  text = replaceOnce(text, /^name: .*$/m, 'name: Thrumbleford preseason screening');
  for (const [group, teams] of Object.entries(SPORT_GROUPS)) {
    const place = new RegExp(`(?<=\\n  ${group}:\\n    label: [^\\n]*\\n    teams: )\\[[^\\]]*\\]`);
    text = replaceOnce(text, place, `[${teams.join(', ')}]`);
  }
  write('protocol.yaml', text);
}
