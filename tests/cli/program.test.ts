import { describe, expect, test, vi } from 'vitest';
import { failOn } from '../../src/cli/fail_on.ts';
import { main } from '../../src/cli/program.ts';
import { progressLine } from '../../src/cli/progress.ts';
import { Failure } from '../../src/problems/failure.ts';
import { FINDINGS } from '../../src/tables/schemas.ts';
import { Table } from '../../src/tables/table.ts';
import { ownIo } from './own_io.ts';

describe('main', () => {
  test('help is as wide as the terminal', async () => {
    for (const width of [80, 140]) {
      const said = ownIo({ width });
      expect(await main(['ingest', '--help'], said.io)).toBe(0);
      const usage = said.out.slice(0, said.out.indexOf('Examples:'));
      expect(Math.max(...usage.split('\n').map((line) => line.length))).toBeLessThanOrEqual(width);
    }
  });

  test('several things wrong are all said', async () => {
    const said = ownIo({
      out: () => {
        throw new Failure(3, [{ file: 'a', line: 2, message: 'first', hint: 'Do this.' }, { message: 'second' }]);
      },
    });
    expect(await main(['--version'], said.io)).toBe(3);
    expect(said.err).toBe('error: a:2: first\n  Do this.\nerror: second\n');
  });

  test('what nobody expected is one sentence, with its stack only if asked for', async () => {
    const out = () => {
      throw new RangeError('beyond the end');
    };
    const sentence = 'error: bilat met something it did not expect: beyond the end\n';
    const plain = ownIo({ out });
    expect(await main(['--version'], plain.io)).toBe(3);
    expect(plain.err).toBe(sentence);
    const debugged = ownIo({ out, env: { BILAT_DEBUG: '1' } });
    expect(await main(['--version'], debugged.io)).toBe(3);
    expect(debugged.err.startsWith(`${sentence}RangeError: beyond the end\n    at `)).toBe(true);
  });
});

describe('failOn', () => {
  const findings = new Table(FINDINGS);
  for (const grade of ['watch', 'watch', 'refer']) {
    for (const { name, kind } of FINDINGS) {
      if (name === 'grade') findings.columns.grade.push(grade);
      else findings.columns[name].push((kind === 'number' ? 1 : null) as never);
    }
  }

  test.each([
    [undefined, 5, 0, ''],
    [['act'], 5, 0, ''],
    [['rejects'], 0, 0, ''],
    [['rejects'], 1, 1, 'Exit code 1, because --fail-on found 1 reject.\n'],
    [
      ['act', 'refer', 'watch'],
      0,
      1,
      'Exit code 1, because --fail-on found 1 finding of grade refer and 2 findings of grade watch.\n',
    ],
  ] as const)('%j with %i rejects', (wanted, rejects, code, sentence) => {
    const said = ownIo();
    expect(failOn(wanted, rejects, findings, said.io)).toBe(code);
    expect(said.err).toBe(sentence);
  });
});

describe('progressLine', () => {
  const timed = (isErrorTerminal: boolean): string[] => {
    vi.useFakeTimers();
    try {
      const said = ownIo({ isErrorTerminal });
      const progress = progressLine(said.io);
      for (let step = 0; step < 20; step++) {
        progress.show(`step ${step}`);
        vi.advanceTimersByTime(100);
      }
      progress.clear();
      progress.clear();
      return said.progress;
    } finally {
      vi.useRealTimers();
    }
  };

  test('after a second, five times a second, and is taken away at the end', () => {
    expect(timed(true)).toEqual(['step 10', 'step 12', 'step 14', 'step 16', 'step 18', '']);
  });

  test('never where standard error is no terminal', () => expect(timed(false)).toEqual([]));
});
