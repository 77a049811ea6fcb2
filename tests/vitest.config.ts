import { readFileSync } from 'node:fs';
import type { Plugin } from 'vitest/config';
import { defineConfig } from 'vitest/config';

const root = new URL('..', import.meta.url);
const { version } = JSON.parse(readFileSync(new URL('package.json', root), 'utf8'));

/** Files of the starter are text, as the build has them. */
const starterTexts: Plugin = {
  name: 'starter-texts',
  enforce: 'pre',
  load(id) {
    if (!/\/src\/protocol\/starter\/.+\.(yaml|csv|md)$/.test(id)) return undefined;
    return `export default ${JSON.stringify(readFileSync(id, 'utf8'))};`;
  },
};

export default defineConfig({
  root: root.pathname,
  plugins: [starterTexts],
  define: { BILAT_VERSION: JSON.stringify(version) },
  test: { include: ['tests/**/*.test.ts'], testTimeout: 60_000, hookTimeout: 60_000 },
});
