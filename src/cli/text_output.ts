import path from 'node:path';
import type { Provenance } from '../files/metadata.ts';
import { openOutput } from '../files/output.ts';
import type { Io } from './io.ts';
import type { OutputOptions } from './options.ts';
import type { Setting } from './render/text.ts';

/** Text of a command on its way to a file or to standard output. */
export interface TextOutput {
  /** how text is set there */
  readonly setting: Setting;
  write(text: string): Promise<void>;
  /** Ends it; a file is there only now. */
  end(provenance: Provenance): Promise<void>;
  /** Leaves nothing behind unless ended. */
  abort(): void;
}

/** Lines of a file are as long as those of a terminal of old. */
const FILE_WIDTH = 80;

/** Opens the output that -o asks for. */
export async function openText(
  io: Io,
  { output: name, force }: Omit<OutputOptions, 'format'>,
  inputs: readonly string[],
): Promise<TextOutput> {
  if (name === undefined || name === '-') {
    return {
      setting: io,
      write: async (text) => io.out(text),
      end: async () => {},
      abort() {},
    };
  }
  const output = await openOutput(path.resolve(io.cwd, name), { force, inputs });
  return {
    setting: { width: FILE_WIDTH, color: false },
    write: (text) => output.write(text),
    end: (provenance) => output.commit(provenance),
    abort: () => output.abort(),
  };
}
