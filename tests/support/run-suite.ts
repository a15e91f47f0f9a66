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
  readonly testResults: readonly {
    readonly name: string;
    readonly message: string;
    readonly assertionResults: readonly {
      readonly fullName: string;
      readonly status: string;
      readonly failureMessages: readonly string[];
    }[];
  }[];
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
  process.stdout.write(failuresIn(report));
  const left = report.numTotalTests - report.numPassedTests - report.numFailedTests;
  if (result.status !== 0 && report.numFailedTests === 0)
    process.stdout.write(
      `failed: ${suite} no test failed, but the run ended with ${result.status}: see above\n`,
    );
  process.stdout.write(`${suite}: ${report.numPassedTests} passed, ${report.numFailedTests} failed\n`);
  if (left > 0) process.stdout.write(`${suite} left out ${left}: a test that does not run proves nothing\n`);
  return result.status === 0 && report.numPassedTests > 0 && left === 0 ? 0 : 1;
}

/** What failed once more at the end, a line each: of a long log often the end alone is kept. */
function failuresIn({ testResults }: Report): string {
  const lines = testResults.flatMap(({ name, message, assertionResults }) => {
    const failed = assertionResults.filter(({ status }) => status === 'failed');
    const told = failed.map(({ fullName, failureMessages }) => `${fullName}: ${failureMessages[0] ?? ''}`);
    if (failed.length === 0 && message !== '') told.push(message);
    return told.map((each) => `failed: ${name.replace(projectFolder, '')} ${each.slice(0, 600)}`);
  });
  return lines.map((line) => `${line.replaceAll('\n', ' ')}\n`).join('');
}

function readReport(file: string): Report | undefined {
  try {
    return JSON.parse(readFileSync(file, 'utf8')) as Report;
  } catch {
    return undefined;
  }
}
