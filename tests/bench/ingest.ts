/**
 * One forecast hour of a regional model (1,799 x 1,059 points, 40 levels, 8 quantities) cropped to 600 x 600 km: memory and CPU
 * in Node (with `--expose-gc` the memory that is live), and CPU of the real call in workerd. Argument: a folder of real files, for
 * the field it is made of; without it nothing is measured. Expects a build.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { newKey, startInstance } from '../../worker/cli/local-instance.ts';
import { workerdCpuS } from '../support/cpu-clock.ts';
import { measureIngest } from '../support/measure-ingest.ts';
import { REGIONAL_AREA, REGIONAL_FIELDS, regionalFile } from '../support/regional-file.ts';

const MIB = 2 ** 20;
const dataFolder = process.argv[2];

if (dataFolder === undefined) {
  process.stdout.write('ingest: give a folder of real files as argument\n');
} else {
  const field = new Uint8Array(readFileSync(join(dataFolder, 'grib2/hrrr-2026021912-f00-tmp700.grib2')));
  const fileMib = ((REGIONAL_FIELDS * field.length) / MIB).toFixed(0);
  process.stdout.write(`${REGIONAL_FIELDS} messages, ${fileMib} MiB\n`);
  const cost = await measureIngest(field, REGIONAL_AREA);
  const memory = `${(cost.peakBytes / MIB).toFixed(0)} MiB ${cost.isLive ? 'live' : 'with garbage'} at most`;
  process.stdout.write(
    `Node: ${cost.fields} fields of ${cost.nx} x ${cost.ny} points; ${cost.cpuS.toFixed(1)} s of CPU; ${memory}; ${cost.objects} objects\n`,
  );
  if (!cost.isLive) await inWorkerd(field);
}

async function inWorkerd(field: Uint8Array): Promise<void> {
  const key = newKey();
  const { westDeg, southDeg, eastDeg, northDeg } = REGIONAL_AREA;
  const instance = await startInstance({
    port: 0,
    stateFolder: undefined,
    keys: { local: key },
    operatingArea: [westDeg, southDeg, eastDeg, northDeg].join(','),
  });
  await (await fetch(`${instance.baseUrl}/api/health`)).text();
  const cpuS = workerdCpuS();
  const response = await fetch(`${instance.baseUrl}/api/grids`, {
    method: 'POST',
    headers: { authorization: `Bearer ${key}` },
    body: Readable.toWeb(Readable.from(regionalFile(field))) as unknown as ReadableStream,
    duplex: 'half',
  } as RequestInit);
  const answer = (await response.json()) as { keptFields: number };
  const spentS = workerdCpuS() - cpuS;
  process.stdout.write(
    `workerd: status ${response.status}, ${answer.keptFields} fields; ${spentS.toFixed(1)} s of CPU, this machine's R2 and D1 included\n`,
  );
  await instance.stop();
}
