#!/usr/bin/env node
import { existsSync } from 'node:fs';
import module from 'node:module';

const built = new URL('../dist/cli.js', import.meta.url);
if (existsSync(built)) {
  module.enableCompileCache?.();
  const { start } = await import(built.href);
  await start();
} else {
  process.stderr.write('bilat is not built yet. In its folder, run: npm ci && npm run build\n');
  process.exitCode = 3;
}
