/** What createRangedHttp needs, from the platform; the only file here that reads its globals. */
import type { RangedHttpDeps } from './ranged-http.ts';

export function platformHttp(): RangedHttpDeps {
  return {
    fetch: (url, init) => fetch(url, init),
    nowMs: () => Date.now(),
    random: () => Math.random(),
    sleep: (durationMs, signal) =>
      new Promise((resolve) => {
        if (signal?.aborted === true) return resolve();
        const timer = setTimeout(resolve, durationMs);
        signal?.addEventListener('abort', () => {
          clearTimeout(timer);
          resolve();
        });
      }),
  };
}
