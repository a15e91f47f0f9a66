/** Stores with an invented forecast of cold air over the winter leg, hour by hour. */
import { ingestGrid } from '../../worker/store/ingest-grid.ts';
import { concat, latLon, microdegrees } from '../support/grib2-builder.ts';
import { fieldMessage } from '../support/grid-fields.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { redatedGrib } from '../support/redate-grib.ts';
import { FIELDS, NOON_MS } from '../support/winter-leg.ts';

const HOUR_MS = 3_600_000;

export interface GridSpec {
  readonly afterH: number;
  readonly isMoist: boolean;
  /** When the run began, before noon; default 6. */
  readonly runBeforeH?: number;
  /** A message of its file cannot be read. */
  readonly isTorn?: boolean;
  /** Default true. */
  readonly hasCloudWater?: boolean;
}

const LEVELS_HPA = [1050, 1000, 950, 900, 850, 800, 750, 700, 600, 500, 400, 300];

/** One grid of cold air, hour by hour from noon; moist with freezing cloud in the hours asked for. */
export async function gridStores(hours: readonly GridSpec[]) {
  const stores = createMemoryStores({ places: FIELDS });
  for (const hour of hours) {
    const { afterH, runBeforeH = 6 } = hour;
    const bytes = redatedGrib(fileOf(hour), {
      runMs: NOON_MS - runBeforeH * HOUR_MS,
      forecastHour: runBeforeH + afterH,
    });
    const chunks = (async function* () {
      yield bytes;
    })();
    await ingestGrid(chunks, { ...stores, operator: 'demo', area: undefined }, () => NOON_MS);
  }
  return stores;
}

function fileOf({ isMoist, isTorn = false, hasCloudWater = true }: GridSpec): Uint8Array {
  const grid = latLon({ nx: 16, ny: 12 }, { 51: microdegrees(280), 60: microdegrees(295) });
  const fields = LEVELS_HPA.flatMap((hPa) => [
    { parameter: '0.0.0', level: hPa * 100, value: 258 + (hPa - 500) * 0.03 },
    { parameter: '0.1.1', level: hPa * 100, value: isMoist && hPa > 700 ? 100 : 20 },
    { parameter: '0.3.5', level: hPa * 100, value: 44_330 * (1 - (hPa / 1013.25) ** 0.19) },
    ...(hasCloudWater
      ? [{ parameter: '0.1.22', level: hPa * 100, value: isMoist && hPa > 700 ? 3e-4 : 0 }]
      : []),
  ]);
  const messages = fields.map((field) => fieldMessage(field, { centre: 7, process: 83, grid }));
  return concat(isTorn ? [...messages, torn(messages[0]!)] : messages);
}

/** The same message with an end that is none. */
function torn(message: Uint8Array): Uint8Array {
  return message.with(message.length - 1, 0);
}
