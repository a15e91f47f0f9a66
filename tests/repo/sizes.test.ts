import { expect, it } from 'vitest';
import { measureSizes } from '../bench/sizes.ts';

/** Design targets, bytes. */
const WORKER_LIMIT = 1024 * 1024;
const FIRST_LOAD_LIMIT = 100_000;

it('the Worker script stays under 1 MiB and the first load without the map under 100 kB, gzipped', () => {
  const sizes = measureSizes();
  expect(sizes.workerGzipBytes).toBeGreaterThan(10_000);
  expect(sizes.workerGzipBytes).toBeLessThan(WORKER_LIMIT);
  expect(sizes.firstLoadGzipBytes).toBeGreaterThan(5_000);
  expect(sizes.firstLoadGzipBytes).toBeLessThan(FIRST_LOAD_LIMIT);
});
