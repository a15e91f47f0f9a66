/**
 * How an hour is best cut into chunks and objects: what a brief reads and an ingest writes, for each way.
 *
 * An hour of 600 x 600 km at 3 km (tests/support/fine-hour.ts: a real forecast made fine, with noise that does not compress), as
 * 16-bit codes, gzipped chunk by chunk. A leg of 300 NM asks for the columns of 61 points in two such hours; of all
 * bearings and places the dearest counts. Neighboring chunks of a shard are read in one range. Manifests are counted as reads, with about their bytes.
 */
import { gzipSync } from 'node:zlib';
import { codesOf, packingOf } from '../../worker/store/grid-packing.ts';
import { gunzip } from '../../worker/store/gzip.ts';
import { fineHour } from '../support/fine-hour.ts';
import { printTable } from '../support/print-table.ts';

interface Way {
  readonly chunkSide: number;
  /** Points a side; chunkSide for an object a chunk. */
  readonly shardSide: number;
  readonly arrays: 'one' | 'a quantity';
}

const WAYS: readonly Way[] = [
  { chunkSide: 8, shardSide: 8, arrays: 'one' },
  { chunkSide: 16, shardSide: 16, arrays: 'one' },
  { chunkSide: 32, shardSide: 32, arrays: 'one' },
  { chunkSide: 8, shardSide: 64, arrays: 'one' },
  { chunkSide: 8, shardSide: 128, arrays: 'one' },
  { chunkSide: 10, shardSide: 120, arrays: 'one' },
  { chunkSide: 12, shardSide: 96, arrays: 'one' },
  { chunkSide: 12, shardSide: 144, arrays: 'one' },
  { chunkSide: 16, shardSide: 64, arrays: 'one' },
  { chunkSide: 16, shardSide: 128, arrays: 'one' },
  { chunkSide: 32, shardSide: 128, arrays: 'one' },
  { chunkSide: 16, shardSide: 16, arrays: 'a quantity' },
  { chunkSide: 32, shardSide: 128, arrays: 'a quantity' },
];

const SIDE = 200;
const QUANTITIES = 8;
const HOURS = 2;
/** 300 NM in steps of 5 NM at 3 km a grid point. */
const ROUTE_POINTS = 61;
const POINTS_A_STEP = (5 * 1852) / 3000;
/** Places where legs begin, for each bearing. */
const SHIFTS = 40;
/** The grid of a whole continent, whose objects are to be paid for. */
const CONTINENT = { nx: 1799, ny: 1059 };
const INFLATE_RUNS = 9;
const SAMPLED = 5;

/** [slice][point], as stored. */
type Codes = readonly Uint16Array[];

async function codesOfHour(): Promise<Codes> {
  const { slices } = await fineHour({ side: SIDE });
  return [...slices.values()].map(({ quantity, values }) => {
    const { pack } = codesOf(packingOf(quantity, values));
    return Uint16Array.from(values, pack);
  });
}

/** One chunk in SAMPLED, gzipped, for each array: they are much alike. */
function chunksOf(codes: Codes, { chunkSide, arrays }: Way): Uint8Array[][] {
  const per = arrays === 'one' ? codes.length : codes.length / QUANTITIES;
  const chunksASide = Math.ceil(SIDE / chunkSide);
  return Array.from({ length: codes.length / per }, (_, array) =>
    Array.from({ length: Math.ceil(chunksASide ** 2 / SAMPLED) }, (__, sample) => {
      const chunk = sample * SAMPLED;
      const corner = {
        row: Math.floor(chunk / chunksASide) * chunkSide,
        column: (chunk % chunksASide) * chunkSide,
      };
      return gzipSync(squareOf(codes.slice(array * per, (array + 1) * per), corner, chunkSide));
    }),
  );
}

function squareOf(codes: Codes, corner: { row: number; column: number }, side: number): Uint8Array {
  const square = new Uint16Array(codes.length * side * side).fill(65_535);
  const columns = Math.min(side, SIDE - corner.column);
  const rows = Math.min(side, SIDE - corner.row);
  codes.forEach((slice, index) => {
    for (let row = 0; row < rows; row += 1) {
      const from = (corner.row + row) * SIDE + corner.column;
      square.set(slice.subarray(from, from + columns), (index * side + row) * side);
    }
  });
  return new Uint8Array(square.buffer);
}

/** Row and column of each chunk that holds one of the four grid points round each point of a leg. */
function chunksOnRoute(bearingDeg: number, shift: number, chunkSide: number): (readonly [number, number])[] {
  const bearingRad = (bearingDeg * Math.PI) / 180;
  const wanted = new Map<string, readonly [number, number]>();
  for (let point = 0; point < ROUTE_POINTS; point += 1) {
    const along = point * POINTS_A_STEP;
    const column = Math.floor(1.37 * shift + along * Math.cos(bearingRad));
    const row = Math.floor(2.71 * shift + along * Math.sin(bearingRad));
    for (let corner = 0; corner < 4; corner += 1) {
      const place = [
        Math.floor((row + (corner >> 1)) / chunkSide),
        Math.floor((column + (corner & 1)) / chunkSide),
      ] as const;
      wanted.set(place.join(' '), place);
    }
  }
  return [...wanted.values()];
}

/** Ranges read: neighbors in a row of one shard are read at once. */
function readsOf(chunks: readonly (readonly [number, number])[], { chunkSide, shardSide }: Way): number {
  const perShard = shardSide / chunkSide;
  const held = new Set(chunks.map((place) => place.join(' ')));
  const isFirst = ([row, column]: readonly [number, number]) =>
    column % perShard === 0 || !held.has(`${row} ${column - 1}`);
  return chunks.filter(isFirst).length;
}

/** The most chunks and the most ranges of any leg, an hour. */
function dearestRoute(way: Way): { chunks: number; reads: number } {
  let chunks = 0;
  let reads = 0;
  for (let bearingDeg = 0; bearingDeg <= 90; bearingDeg += 5) {
    for (let shift = 0; shift < SHIFTS; shift += 1) {
      const route = chunksOnRoute(bearingDeg, shift, way.chunkSide);
      chunks = Math.max(chunks, route.length);
      reads = Math.max(reads, readsOf(route, way));
    }
  }
  return { chunks, reads };
}

async function inflateMs(chunks: readonly Uint8Array[]): Promise<number> {
  const all: number[] = [];
  for (let run = 0; run < INFLATE_RUNS; run += 1) {
    const before = process.cpuUsage();
    await Promise.all(chunks.map((chunk) => gunzip(chunk)));
    const { user, system } = process.cpuUsage(before);
    all.push((user + system) / 1000);
  }
  return Math.min(...all);
}

const objectsOf = ({ shardSide }: Way, nx: number, ny: number) =>
  Math.ceil(nx / shardSide) * Math.ceil(ny / shardSide);

/** About what a manifest takes a chunk and a slice. */
const manifestBytes = (way: Way, slices: number, arrays: number) =>
  20 * arrays * Math.ceil(SIDE / way.chunkSide) ** 2 + 110 * slices;

/** The hour as floats, the largest shard as it is gathered and as it is handed over, one chunk before it is gzipped. */
function peakBytes(way: Way, sliceCount: number, chunks: readonly Uint8Array[][]): number {
  const mean = chunks.flat().reduce((sum, { byteLength }) => sum + byteLength, 0) / chunks.flat().length;
  const shardBytes = mean * (Math.min(way.shardSide, SIDE) / way.chunkSide) ** 2;
  return (
    sliceCount * SIDE * SIDE * 4 + 2 * shardBytes + (sliceCount / chunks.length) * way.chunkSide ** 2 * 2
  );
}

async function priceOf(way: Way, codes: Codes, chunks: readonly Uint8Array[][]) {
  const arrays = chunks.length;
  const route = dearestRoute(way);
  const all = chunks.flat();
  const mean = all.reduce((sum, { byteLength }) => sum + byteLength, 0) / all.length;
  const wanted = HOURS * route.chunks * arrays;
  const some = Array.from({ length: wanted }, (_, index) => all[(index * 7) % all.length]!);
  return {
    reads: HOURS * (route.reads * arrays + 1),
    bytes: wanted * mean + HOURS * manifestBytes(way, codes.length, arrays),
    inflate: await inflateMs(some),
    stored: mean * arrays * Math.ceil(SIDE / way.chunkSide) ** 2,
    objects: objectsOf(way, SIDE, SIDE) * arrays + 2,
    continent: objectsOf(way, CONTINENT.nx, CONTINENT.ny) * arrays + 2,
    peak: peakBytes(way, codes.length, chunks),
  };
}

const MIB = 1024 * 1024;

async function rows(): Promise<(string | number)[][]> {
  const codes = await codesOfHour();
  const made = new Map<string, Uint8Array[][]>();
  const table: (string | number)[][] = [];
  for (const way of WAYS) {
    const key = `${way.chunkSide} ${way.arrays}`;
    const chunks = made.get(key) ?? chunksOf(codes, way);
    made.set(key, chunks);
    const price = await priceOf(way, codes, chunks);
    table.push([
      way.arrays,
      way.chunkSide,
      way.shardSide === way.chunkSide ? '–' : way.shardSide,
      price.reads,
      (price.bytes / MIB).toFixed(2),
      price.inflate.toFixed(0),
      (price.stored / MIB).toFixed(1),
      price.objects,
      price.continent,
      (price.peak / MIB).toFixed(0),
    ]);
  }
  return table;
}

printTable(
  `An hour of ${SIDE} x ${SIDE} points by 320 slices; a brief of 300 NM and ${HOURS} hours`,
  [
    ...['arrays', 'chunk, points', 'shard, points', 'reads a brief', 'MiB a brief', 'inflate, CPU ms'],
    ...['MiB stored an hour', 'objects written', 'of a continent', 'peak MiB of an ingest'],
  ],
  await rows(),
);
