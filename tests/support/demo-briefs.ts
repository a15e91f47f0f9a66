/** Briefs of the demo's invented legs, made in memory; and of the winter leg under any air, on request. */
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { keepReports } from '../../worker/sources/keep-reports.ts';
import type { Place } from '../../worker/sources/ports.ts';
import { READING } from './invented-reports.ts';
import type { AscentLevel } from './make-ascent.ts';
import { createMemoryStores, type MemoryStores } from './memory-stores.ts';
import { ascents, NOON_MS, readSample } from './sample-scenario.ts';
import { FIELDS, LEG, over } from './winter-leg.ts';

const operators = ['demo'];

/** Identifier, degrees north and east, m: as the public list of aerodromes and the demo's own fixes have them. */
const PLACES: readonly Place[] = (
  [
    ['KBTV', 44.4719, -73.1533, 102],
    ['KBGR', 44.8074, -68.8281, 59],
    ['KALB', 42.7483, -73.8017, 87],
    ['KSWF', 41.5041, -74.1048, 150],
    ['KMSS', 44.9362, -74.8443, 66],
    ['CYGK', 44.2253, -76.5969, 93],
    ['KPQI', 46.689, -68.0448, 163],
    ['CYZV', 50.2233, -66.2656, 55],
    ['CYYY', 48.6086, -68.2081, 52],
    ['KESTU', 47.9, -67.5, Number.NaN],
  ] as const
).map(([ident, latDeg, lonDeg, elevationM]) => ({
  ...{ ident, name: ident, latDeg, lonDeg, elevationM },
  kind: Number.isNaN(elevationM) ? 'fix' : 'aerodrome',
}));

export interface DemoBrief {
  readonly id: string;
  readonly request: BriefRequest;
  readonly brief: Brief;
}

/** Stores with the air of the demo. */
export async function demoStores(): Promise<MemoryStores> {
  const stores = createMemoryStores({ places: PLACES });
  await stores.soundings.put('demo', ascents, 0);
  return stores;
}

/** One of each leg of the demo, and of some the same with another fluid quantity. */
export async function demoBriefs(): Promise<DemoBrief[]> {
  const stores = await demoStores();
  const { legs } = JSON.parse(readSample('legs.json')) as {
    legs: { id: string; request: BriefRequest }[];
  };
  return Promise.all(
    legs.map(async ({ id, request: { options, ...leg } }) => {
      const { curtain: _, ...others } = options ?? {};
      const request = { ...leg, options: { ...others, laterDepartures: 0 } };
      return { id, request, brief: await makeBrief(stores, request, { operators }) };
    }),
  );
}

export function demoBrief(briefs: readonly DemoBrief[], id: string): DemoBrief {
  const found = briefs.find((each) => each.id === id);
  if (found === undefined) throw new Error(`found no leg ${id} in the demo`);
  return found;
}

export interface WinterAir {
  readonly air: readonly AscentLevel[];
  readonly reports?: readonly string[];
  readonly request?: Partial<BriefRequest>;
}

/** The invented winter leg. */
export async function winterBrief({ air, reports = [], request = {} }: WinterAir): Promise<DemoBrief> {
  const stores = createMemoryStores({ places: FIELDS });
  await stores.soundings.put('demo', air.length === 0 ? [] : [over(air, NOON_MS)], 0);
  for (const text of reports) await keepReports(stores, 'demo', text, { ...READING, nowMs: NOON_MS });
  const asked: BriefRequest = {
    ...LEG,
    ...request,
    options: { ...LEG.options, laterDepartures: 0, ...request.options },
  };
  return { id: 'winter', request: asked, brief: await makeBrief(stores, asked, { operators }) };
}
