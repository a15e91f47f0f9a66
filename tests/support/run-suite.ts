/** Runs one of the two test suites and prints its totals on one line of their own. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { projectFolder } from '../../worker/cli/build.ts';

export interface SuiteRun {
  readonly suite: 'clone' | 'data';
  /** Handed to the runner: file names, -t and so on. */
  readonly args: readonly string[];
  readonly dataFolder?: string;
}

interface Report {
  readonly numPassedTests: number;
  readonly numFailedTests: number;
  readonly numPendingTests: number;
  readonly numTotalTests: number;
}

/** @returns the exit status: 0 only when tests ran, none failed and none was left out. */
export function runSuite({ suite, args, dataFolder }: SuiteRun): number {
  const folder = mkdtempSync(join(tmpdir(), 'rimeway-tests-'));
  const reportFile = join(folder, 'report.json');
  const result = spawnSync(
    process.execPath,
    [
      `${projectFolder}node_modules/.bin/vitest`,
      'run',
      '--config',
      'tests/vitest.config.ts',
      '--reporter=default',
      '--reporter=json',
      '--reporter=./tests/support/published-reporter.ts',
      `--outputFile.json=${reportFile}`,
      ...args,
    ],
    {
      cwd: projectFolder,
      stdio: ['ignore', 'inherit', 'inherit'],
      env: { ...process.env, RIMEWAY_SUITE: suite, RIMEWAY_DATA_DIR: dataFolder ?? '' },
    },
  );
  const report = readReport(reportFile);
  rmSync(folder, { recursive: true });
  if (report === undefined) {
    process.stdout.write(`${suite}: no report\n`);
    return 1;
  }
  const left = report.numTotalTests - report.numPassedTests - report.numFailedTests;
  process.stdout.write(`${suite}: ${report.numPassedTests} passed, ${report.numFailedTests} failed\n`);
  if (left > 0) process.stdout.write(`${suite} left out ${left}: a test that does not run proves nothing\n`);
  return result.status === 0 && report.numPassedTests > 0 && left === 0 ? 0 : 1;
}

function readReport(file: string): Report | undefined {
  try {
    return JSON.parse(readFileSync(file, 'utf8')) as Report;
  } catch {
    return undefined;
  }
}
