/** Prints how many published values were compared; fails a run of all of tests/published/ that compared too few. */
import { readdirSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import type { Reporter, TestModule, Vitest } from 'vitest/node';
import { type ComparedFile, tallyFaults, tallyLines } from './published-tally.ts';

const FOLDER = join(import.meta.dirname, '..', 'published');

export default class PublishedReporter implements Reporter {
  #isFilteredByName = false;

  onInit(vitest: Vitest): void {
    this.#isFilteredByName = vitest.config.testNamePattern !== undefined;
  }

  onTestRunEnd(modules: readonly TestModule[]): void {
    const files = modules.filter((each) => dirname(each.moduleId) === FOLDER).map(comparedIn);
    if (files.length === 0) return;
    process.stdout.write(`\n${tallyLines(files).join('\n')}\n`);
    if (this.#isFilteredByName || !isWholeFolder(modules)) return;
    const faults = tallyFaults(files);
    for (const fault of faults) process.stderr.write(`published values: ${fault}\n`);
    if (faults.length > 0) process.exitCode = 1;
  }
}

function comparedIn(module: TestModule): ComparedFile {
  const passed = [...module.children.allTests('passed')];
  const tables = passed.map((each) => each.meta().published).filter((table) => table !== undefined);
  return { file: relative(dirname(FOLDER), module.moduleId), tables };
}

function isWholeFolder(modules: readonly TestModule[]): boolean {
  const run = new Set(modules.map((each) => each.moduleId));
  const names = readdirSync(FOLDER).filter((name) => name.endsWith('.test.ts'));
  return names.every((name) => run.has(join(FOLDER, name)));
}
