/** `npm test`: brings what the tests need, checks style and types, builds, and runs every test of the clone. */

import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { build, projectFolder } from '../../worker/cli/build.ts';
import { runSuite } from './run-suite.ts';

/** Debian packages by what shows that they are there. */
const NEEDED = [
  { packages: ['chromium'], isThere: () => existsSync(process.env.CHROMIUM_PATH ?? '/usr/bin/chromium') },
  {
    packages: ['python3-eccodes', 'libeccodes-tools'],
    isThere: () => run('/usr/bin/python3', ['-c', 'import eccodes']) && run('grib_ls', ['-V']),
  },
];

function run(command: string, args: readonly string[], show = false): boolean {
  return spawnSync(command, args, { stdio: show ? ['ignore', 'inherit', 'inherit'] : 'ignore' }).status === 0;
}

/** Only root on a machine with apt may install; anybody else is told how in one line. */
function bringPackages(): void {
  const missing = NEEDED.filter((each) => !each.isThere()).flatMap((each) => each.packages);
  if (missing.length === 0) return;
  const howTo = `apt-get install --no-install-recommends ${missing.join(' ')}`;
  const mayInstall = process.getuid?.() === 0 && run('apt-get', ['--version']);
  if (!mayInstall) stop(`missing for the tests: ${missing.join(', ')}; install them with: sudo ${howTo}`);
  process.stdout.write(`installing for the tests: ${missing.join(', ')}\n`);
  run('apt-get', ['update', '-qq']);
  const [command = '', ...args] = howTo.split(' ');
  if (!run(command, [...args, '-y', '-qq'])) stop(`could not install ${missing.join(', ')}; try: ${howTo}`);
}

function stop(message: string): never {
  process.stderr.write(`${message}\n`);
  process.exit(1);
}

bringPackages();
build();
const isClean =
  run(process.execPath, [`${projectFolder}node_modules/.bin/biome`, 'check', projectFolder], true) &&
  run('npm', ['run', '--silent', '--prefix', projectFolder, 'types'], true);
if (!isClean) stop('style or types are not clean: see above (npm run check)');
process.exit(runSuite({ suite: 'clone', args: process.argv.slice(2) }));
