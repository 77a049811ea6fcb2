import { existsSync, statSync } from 'node:fs';
import path from 'node:path';
import { Failure } from '../problems/failure.ts';
import type { Protocol } from '../protocol/types.ts';
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

const hasFile = (folder: string, file: string): boolean => existsSync(path.join(folder, file));

/** The folder that is named, else the nearest one upward, else this one if it holds a protocol. */
function folderOf(cwd: string, named: string | undefined): string | undefined {
  if (named !== undefined) {
    const full = path.resolve(cwd, named);
    if (!statSync(full, { throwIfNoEntry: false })?.isDirectory()) {
      throw new Failure(2, {
        file: named,
        message: 'there is no such folder',
        hint: 'Name the folder that holds screening.yaml.',
      });
    }
    return full;
  }
  for (let at = cwd; ; at = path.dirname(at)) {
    if (hasFile(at, 'screening.yaml')) return at;
    if (at === path.dirname(at)) break;
  }
  return hasFile(cwd, 'protocol.yaml') ? cwd : undefined;
}

/** What `protocol:` in screening.yaml says, whatever else is wrong there. */
async function declaredFile(folder: string): Promise<string> {
  const usual = 'protocol.yaml';
  if (!hasFile(folder, 'screening.yaml')) return usual;
  const { readYaml } = await import('../protocol/yaml.ts');
  const text = await readTextFile(folder, 'screening.yaml', 'settings of the folder');
  const { value } = readYaml(text, 'screening.yaml', (_, key) => key);
  const declared = (value as { protocol?: unknown } | null)?.protocol;
  return typeof declared === 'string' && declared !== '' ? declared : usual;
}

/**
 * The protocol of the folder, the one that is named, or the starter where there is neither. One that is there and cannot
 * be read is told in `failure`, so that whatever needs no protocol can be told all the same.
 * @throws Failure 2 where a folder or protocol is named and not there
 */
export async function protocolInUse(cwd: string, folder?: string, named?: string): Promise<ProtocolInUse> {
  const base = folderOf(cwd, folder) ?? cwd;
  const isNamed = named !== undefined;
  // A named file that is not there is wrong use; one of the folder that is broken is told beside what can be said.
  const ofName = isNamed ? await readTextFile(cwd, named, 'protocol') : undefined;
  const { loadProtocol } = await import('../protocol/load.ts');
  if (!isNamed && folderOf(cwd, folder) === undefined) {
    const { STARTER_PROTOCOL } = await import('../protocol/starter.ts');
    return { protocol: loadProtocol(STARTER_PROTOCOL, 'protocol.yaml'), file: undefined, base };
  }
  let file = isNamed ? named : 'screening.yaml';
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
