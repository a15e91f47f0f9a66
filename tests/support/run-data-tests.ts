/** `npm run test:data -- DIR`: the further suite over a folder of real files. */
import { existsSync } from 'node:fs';
import { resolve } from 'node:path';
import { build } from '../../worker/cli/build.ts';
import { runSuite } from './run-suite.ts';

const [folder, ...args] = process.argv.slice(2);
if (folder === undefined || !existsSync(folder)) {
  process.stderr.write(`folder of real files: found ${folder ?? 'none'}, expected one that exists\n`);
  process.exit(2);
}
build();
process.exit(runSuite({ suite: 'data', args, dataFolder: resolve(folder) }));
