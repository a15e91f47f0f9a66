/** The real built service with the demo loaded, on a free port, in memory. Expects `npm run build` to have run. */
import { loadDemo } from '../../worker/cli/demo.ts';
import { newKey, startInstance } from '../../worker/cli/local-instance.ts';

export interface TestInstance {
  readonly baseUrl: string;
  /** Key of operator `local`. */
  readonly operatorKey: string;
  readonly stop: () => Promise<void>;
}

export async function startLocalInstance(options: { demo?: boolean } = {}): Promise<TestInstance> {
  const operatorKey = newKey();
  const demoKey = newKey();
  const instance = await startInstance({
    port: 0,
    stateFolder: undefined,
    keys: { local: operatorKey, demo: demoKey },
  });
  if (options.demo !== false) await loadDemo(instance.baseUrl, demoKey);
  return { baseUrl: instance.baseUrl, operatorKey, stop: instance.stop };
}
