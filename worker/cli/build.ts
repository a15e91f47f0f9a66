/** Builds all that is served: the aerodrome list, the page, and the Worker's one script. */
import { spawnSync } from 'node:child_process';
import { fileURLToPath } from 'node:url';

export const projectFolder = fileURLToPath(new URL('../../', import.meta.url));
const bin = (name: string) => `${projectFolder}node_modules/.bin/${name}`;

/** Runs one tool with this same Node; its output is shown only when it fails. */
export function runTool(
  name: string,
  args: readonly string[],
  environment: Record<string, string> = {},
): void {
  const result = spawnSync(process.execPath, [...(name === '' ? [] : [bin(name)]), ...args], {
    cwd: projectFolder,
    env: { ...process.env, ...environment },
    encoding: 'utf8',
  });
  if (result.status === 0) return;
  process.stderr.write(`${result.stdout}${result.stderr}\n`);
  throw new Error(`${name || args[0]} ended with status ${result.status}`, { cause: result.error });
}

/** The Worker is bundled by the same tool that deploys it, so what runs locally is what would be deployed. */
export function build(): void {
  runTool('', ['worker/cli/build-places.ts']);
  runTool('vite', ['build', '--config', 'web/vite.config.ts', '--logLevel', 'warn']);
  runTool('wrangler', ['deploy', '--dry-run', '--outdir', 'worker/dist'], { WRANGLER_SEND_METRICS: 'false' });
}

if (import.meta.filename === process.argv[1]) build();
