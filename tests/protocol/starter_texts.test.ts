import { readdirSync } from 'node:fs';
import path from 'node:path';
import { describe, expect, test } from 'vitest';
import { loadScreening } from '../../src/screening/config.ts';
import { ROOT, read, tempFolder } from '../cases/bilat.ts';

const STARTER = path.join(ROOT, 'src/protocol/starter');
const README = read(STARTER, 'README.md');
const SETTINGS = read(STARTER, 'screening.yaml');

describe('screening.yaml of the starter', () => {
  const remarks = SETTINGS.split('\n');
  const sample = remarks.filter((line) => /^# {3}(?: {2})?(?:- )?[a-z]+: /.test(line)).map((line) => line.slice(2));
  const settings = remarks.filter((line) => /^# (?:teams|people): /.test(line)).map((line) => line.slice(2));

  test('its samples are settings once their # and one space are taken away', () => {
    expect([sample.length, settings.length]).toEqual([8, 2]);
    const text = SETTINGS.replace('sheets:\n', `${settings.join('\n')}\nsheets:\n${sample.join('\n')}\n`);
    const folder = tempFolder({});
    const { sheets, people, teamAliases } = loadScreening(text, 'screening.yaml', folder, new Set());
    expect(sheets).toHaveLength(2);
    expect(sheets[0]).toMatchObject({ team: 'Rowing', decimal: ',' });
    expect([...people.values()]).toEqual(['K014']);
    expect(teamAliases.size).toBeGreaterThan(1);
  });
});

describe('README of the starter', () => {
  test('names what lies in the folder', () => {
    for (const name of readdirSync(STARTER)) if (name !== 'README.md') expect(README).toContain(`\`${name}`);
  });

  test('says how a workbook becomes a sheet, and what a spreadsheet program changes', () => {
    expect(README).toMatch(/\.xlsx\) is not read\. .*Save As.*"CSV UTF-8/);
    expect(README).toMatch(/leading zeros .* and heights such as 5-11/);
    expect(README).toContain('indented by\nspaces, never by tabs');
  });

  test('names commands that there are', () => {
    const commands = [...README.matchAll(/bilat ([a-z]+)/g)].map(([, name]) => name);
    expect([...new Set(commands)].sort()).toEqual(['check', 'explain', 'run', 'scan']);
  });
});
