/** The real built service with the demo loaded, on a free port, in memory. Expects `npm run build` to have run. */
import { loadDemo } from '../../worker/cli/demo.ts';
import { type LocalOptions, newKey, startInstance } from '../../worker/cli/local-instance.ts';
import type { SkillAnswer } from '../../worker/schema/skill.ts';

export interface TestInstance {
  readonly baseUrl: string;
  /** Key of operator `local`. */
  readonly operatorKey: string;
  /** Key of operator `demo`. */
  readonly demoKey: string;
  readonly schedule: () => Promise<void>;
  /** Puts messages into the supply's queue. */
  readonly send: (bodies: readonly unknown[]) => Promise<void>;
  readonly stop: () => Promise<void>;
}

export async function startLocalInstance(
  options: { demo?: boolean } & Pick<
    LocalOptions,
    'supply' | 'operatingArea' | 'terrain' | 'alarmUrl' | 'onLog'
  > = {},
): Promise<TestInstance> {
  const operatorKey = newKey();
  const demoKey = newKey();
  const instance = await startInstance({
    port: 0,
    stateFolder: undefined,
    keys: { local: operatorKey, demo: demoKey },
    ...(options.supply === undefined ? {} : { supply: options.supply }),
    ...(options.terrain === undefined ? {} : { terrain: options.terrain }),
    ...(options.alarmUrl === undefined ? {} : { alarmUrl: options.alarmUrl }),
    ...(options.onLog === undefined ? {} : { onLog: options.onLog }),
    ...(options.operatingArea === undefined ? {} : { operatingArea: options.operatingArea }),
  });
  if (options.demo !== false) {
    await loadDemo(instance.baseUrl, demoKey);
    await allScored(instance.baseUrl, '2026-01-15T00:00:00Z');
  }
  const { baseUrl, schedule, send, stop } = instance;
  return { baseUrl, operatorKey, demoKey, schedule, send, stop };
}

/** Uploads are answered before their pilots' reports are compared with forecasts: waits until `waiting` of the last are left. */
export async function allScored(baseUrl: string, beforeUtc: string, waiting = 0): Promise<void> {
  const signal = AbortSignal.timeout(30_000);
  for (let left = -1; left !== waiting; ) {
    const response = await fetch(`${baseUrl}/api/skill?parts=skill&beforeUtc=${beforeUtc}`, { signal });
    left = ((await response.json()) as SkillAnswer).reports.waiting;
  }
}
