import { defineConfig } from 'vitest/config';

/**
 * Two suites share this file: the one that needs only the clone and the registries, and `RIMEWAY_SUITE=data`,
 * which reads a folder of real files named by RIMEWAY_DATA_DIR.
 */
const dataSuite = process.env.RIMEWAY_SUITE === 'data';

export default defineConfig({
  test: {
    root: new URL('..', import.meta.url).pathname,
    include: dataSuite ? ['tests/data/**/*.test.ts'] : ['tests/**/*.test.ts'],
    exclude: dataSuite ? [] : ['tests/data/**'],
    testTimeout: 60_000,
    hookTimeout: 120_000,
    setupFiles: ['./tests/support/property-seed.ts'],
    pool: 'forks',
    maxWorkers: 2,
    reporters: ['default', './tests/support/published-reporter.ts'],
  },
});
