/** `npm run bench`: builds, then runs each benchmark in a process of its own. */
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { build, projectFolder } from '../../worker/cli/build.ts';

const SCRIPTS = [
  'grib2-decode.ts',
  'bufr.ts',
  'metar.ts',
  'physics.ts',
  'choice.ts',
  'brief.ts',
  'departures.ts',
  'grid-read.ts',
  'grid-chunking.ts',
  'ingest.ts',
  'supply-cost.ts',
  'sizes.ts',
  'page.ts',
  'shared-briefs.ts',
  'board.ts',
  'board-page.ts',
  'board-scale.ts',
  'shared-inputs.ts',
];

build();
let failed = 0;
for (const script of SCRIPTS) {
  const path = `${projectFolder}tests/bench/${script}`;
  if (!existsSync(path)) throw new Error(`benchmark ${script}: not there`);
  process.stdout.write(`\n## ${script}\n\n`);
  const { status } = spawnSync(process.execPath, [path], { cwd: projectFolder, stdio: 'inherit' });
  if (status !== 0) failed += 1;
}
process.exit(failed === 0 ? 0 : 1);
