import path from 'node:path';
import { Failure } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
import { folderUpward, holdsFile, namedFolder, SETTINGS_FILE, USUAL_PROTOCOL } from './folder_place.ts';
import { shownPath } from './sources.ts';
import { readTextFile } from './text_file.ts';

/** The protocol that a place goes by. */
export interface ProtocolInUse {
  /** undefined where it cannot be read */
  readonly protocol: Protocol | undefined;
  /** its file as it is shown; undefined: the starter that comes with bilat */
  readonly file: string | undefined;
  /** what is wrong with it, if it cannot be read */
  readonly failure?: Failure;
  /** absolute path that the input is shown relative to */
  readonly base: string;
}

/** The folder that is named, else the nearest one upward, else this one if it holds a protocol. */
function folderOf(cwd: string, named: string | undefined): string | undefined {
  if (named !== undefined) return namedFolder(cwd, named);
  return folderUpward(cwd) ?? (holdsFile(cwd, USUAL_PROTOCOL) ? cwd : undefined);
}

/** What `protocol:` in screening.yaml says, whatever else is wrong there. */
async function declaredFile(folder: string): Promise<string> {
  if (!holdsFile(folder, SETTINGS_FILE)) return USUAL_PROTOCOL;
  const { readYaml } = await import('../protocol/yaml.ts');
  const text = await readTextFile(folder, SETTINGS_FILE, 'settings of the folder');
  const { value } = readYaml(text, SETTINGS_FILE, (_, key) => key);
  const declared = (value as { protocol?: unknown } | null)?.protocol;
  return typeof declared === 'string' && declared !== '' ? declared : USUAL_PROTOCOL;
}

/**
 * The protocol of the folder, the one that is named, or the starter where there is neither. One that is there and cannot
 * be read is told in `failure`, so that whatever needs no protocol can be told all the same.
 * @throws Failure 2 where a folder or protocol is named and not there
 */
export async function protocolInUse(cwd: string, folder?: string, named?: string): Promise<ProtocolInUse> {
  const found = folderOf(cwd, folder);
  const base = found ?? cwd;
  const isNamed = named !== undefined;
  // A named file that is not there is wrong use; one of the folder that is broken is told beside what can be said.
  const ofName = isNamed ? await readTextFile(cwd, named, 'protocol') : undefined;
  const { loadProtocol } = await import('../protocol/load.ts');
  if (!isNamed && found === undefined) {
    const { STARTER_PROTOCOL } = await import('../protocol/starter.ts');
    return { protocol: loadProtocol(STARTER_PROTOCOL, 'protocol.yaml'), file: undefined, base };
  }
  let file = isNamed ? named : SETTINGS_FILE;
  try {
    const full = isNamed ? path.resolve(cwd, named) : path.resolve(base, await declaredFile(base));
    file = shownPath(base, full);
    const text = ofName ?? (await readTextFile(base, full, 'protocol'));
    return { protocol: loadProtocol(text, file), file, base };
  } catch (error) {
    if (!(error instanceof Failure)) throw error;
    return { protocol: undefined, file, base, failure: error };
  }
}
