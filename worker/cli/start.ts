/** `npm start`: builds, starts everything on this machine, loads the demo, and says where it is. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { build, projectFolder } from './build.ts';
import { loadDemo } from './demo.ts';
import { loadDemoBoard } from './demo-board.ts';
import { newKey, startInstance } from './local-instance.ts';

const DEFAULT_PORT = 8787;
/** As the cron trigger of wrangler.toml. */
const SCHEDULE_MS = 5 * 60_000;
const privateFolder = `${projectFolder}.rimeway/`;
export const keyFile = `${privateFolder}operator-key`;

/** The local operator's key, made at the first start and readable by its owner alone. */
function localKey(): string {
  mkdirSync(privateFolder, { recursive: true, mode: 0o700 });
  if (!existsSync(keyFile)) writeFileSync(keyFile, `${newKey()}\n`, { mode: 0o600 });
  return readFileSync(keyFile, 'utf8').trim();
}

process.stdout.write('building ...\n');
build();
const demoKey = newKey();
const instance = await startInstance({
  port: Number(process.env.PORT ?? DEFAULT_PORT),
  stateFolder: `${privateFolder}state`,
  keys: { local: localKey(), demo: demoKey },
  operatingArea: process.env.OPERATING_AREA ?? '',
  supply: {
    SUPPLY_MODELS: process.env.SUPPLY_MODELS ?? '',
    SUPPLY_BASE_URL: process.env.SUPPLY_BASE_URL ?? '',
    SUPPLY_HORIZON_HOURS: process.env.SUPPLY_HORIZON_HOURS ?? '18',
    BULLETIN_URLS: process.env.BULLETIN_URLS ?? '',
  },
  terrain: {
    TERRAIN_TILES_URL: process.env.TERRAIN_TILES_URL ?? '',
    TERRAIN_ATTRIBUTION: process.env.TERRAIN_ATTRIBUTION ?? '',
  },
});
const files = await loadDemo(instance.baseUrl, demoKey);
process.stdout.write(`demo loaded: ${files} files of an invented morning\n`);
process.stdout.write(`demo board: ${await loadDemoBoard(instance.baseUrl, demoKey)}\n`);
process.stdout.write(`ready on ${instance.baseUrl} (stop with Ctrl-C)\n`);
const supplied = [process.env.SUPPLY_MODELS, process.env.BULLETIN_URLS && 'bulletins'].filter(Boolean);
if (supplied.length > 0) process.stdout.write(`keeping ${supplied.join()} in store\n`);
const run = () => instance.schedule().catch((error: unknown) => process.stderr.write(`schedule: ${error}\n`));
await run();
setInterval(run, SCHEDULE_MS);
for (const signal of ['SIGINT', 'SIGTERM'] as const) {
  process.on(signal, () => {
    instance.stop().finally(() => process.exit(0));
  });
}
