import { readFileSync } from 'node:fs';
import { defineConfig } from 'vitest/config';

const root = new URL('..', import.meta.url);
const { version } = JSON.parse(readFileSync(new URL('package.json', root), 'utf8'));

export default defineConfig({
  root: root.pathname,
  define: { BILAT_VERSION: JSON.stringify(version) },
  test: { include: ['tests/**/*.test.ts'], testTimeout: 60_000, hookTimeout: 60_000 },
});
