/** A database as the service has it, in memory, for tests that look at repositories alone. */
import type { D1Database } from '@cloudflare/workers-types';
import { Miniflare } from 'miniflare';
import { migrate } from '../../worker/cli/local-instance.ts';

export interface LocalD1 {
  readonly db: D1Database;
  readonly stop: () => Promise<void>;
}

export async function startLocalD1(): Promise<LocalD1> {
  const miniflare = new Miniflare({
    modules: true,
    script: 'export default { fetch: () => new Response() };',
    d1Databases: { DB: 'test' },
    host: '127.0.0.1',
    port: 0,
  });
  const db = (await miniflare.getD1Database('DB')) as unknown as D1Database;
  await migrate(db);
  return { db, stop: () => miniflare.dispose() };
}
