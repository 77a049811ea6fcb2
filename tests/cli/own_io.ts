import type { Io } from '../../src/cli/io.ts';

export interface Said {
  readonly io: Io;
  out: string;
  err: string;
  /** lines of progress, '' where one was taken away */
  readonly progress: string[];
}

/** Both ends of a command in memory. */
export function ownIo(setting: Partial<Io> = {}): Said {
  const said: Said = {
    out: '',
    err: '',
    progress: [],
    io: {
      cwd: '/nowhere',
      env: {},
      isTerminal: false,
      isErrorTerminal: false,
      width: 80,
      color: false,
      out: (text) => {
        said.out += text;
      },
      err: (text) => {
        said.err += text;
      },
      progress: (text) => void said.progress.push(text),
      stdin: async function* () {},
      ...setting,
    },
  };
  return said;
}
