// Bundles src into dist: one file would load everything at start; splitting keeps each command's imports its own.
import { readdir, rm } from 'node:fs/promises';
import path from 'node:path';
import { build } from 'esbuild';
import manifest from './package.json' with { type: 'json' };

const OUT = 'dist';

const { metafile } = await build({
  entryPoints: { cli: 'src/cli/main.ts', index: 'src/index.ts' },
  outdir: OUT,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20.19',
  minifySyntax: true,
  legalComments: 'eof',
  metafile: true,
  // Files of the starter are part of the program.
  loader: { '.yaml': 'text', '.csv': 'text', '.md': 'text' },
  define: { BILAT_VERSION: JSON.stringify(manifest.version) },
  banner: {
    js: "import { createRequire as __bilatRequire } from 'node:module'; const require = __bilatRequire(import.meta.url);",
  },
});

// Chunks of earlier builds go last, so that dist is whole at every moment.
const fresh = new Set(Object.keys(metafile.outputs).map((file) => path.basename(file)));
for (const entry of await readdir(OUT, { withFileTypes: true })) {
  if (entry.isFile() && !fresh.has(entry.name)) await rm(path.join(OUT, entry.name));
}
