/**
 * Open buckets of national weather services: where the file of a run and forecast hour lies, and when it is there.
 *
 * Names of files and lists of hours were looked up in public descriptions of the buckets (2026); delays are from memory except
 * where another source stands beside them. RRFS is left out: its version 1 puts levels and surface into two files, and its folders
 * changed with the change from prototype to operation.
 */
import { InvalidRequestError } from '../errors.ts';
import type { SourceIdentity } from './grid-basis.ts';

/** Forecast hours from .. to, every so many. */
export interface HourSpan {
  readonly fromH: number;
  readonly toH: number;
  readonly everyH: number;
}

export interface OpenModel {
  readonly id: OpenModelId;
  readonly name: string;
  readonly attribution: string;
  readonly host: string;
  /** `{date}` YYYYMMDD and `{run}` HH of the run; `{h}`, `{hh}`, `{hhh}` the forecast hour in so many digits or more. */
  readonly path: string;
  /** Of the inventory: added to the path, or put in the place of the path's own ending. */
  readonly inventory: {
    readonly kind: 'colon' | 'json';
    readonly suffix: string;
    readonly insteadOf: string;
  };
  /** Hours of the day at which runs start, UTC, with what each of them forecasts. */
  readonly runs: readonly { readonly atH: readonly number[]; readonly spans: readonly HourSpan[] }[];
  /** From the run's time until forecast hour 0 is in the bucket, and further for each forecast hour, minutes. */
  readonly usualDelayMin: { readonly first: number; readonly perForecastHour: number };
  /** For people: which GRIB2 grid template the file has. */
  readonly gridNote: string;
  /** What its messages say of their origin; the process decides what NCEP's condensate and humidity mean. */
  readonly origin: Pick<SourceIdentity, 'centre' | 'generatingProcess'>;
}

export type OpenModelId = 'gfs-0p25' | 'hrrr-prs' | 'rap-awp130' | 'ecmwf-ifs-0p25';

export const OPEN_MODELS: Readonly<Record<OpenModelId, OpenModel>> = {
  'gfs-0p25': {
    id: 'gfs-0p25',
    name: 'GFS 0.25°',
    attribution: 'NOAA NCEP',
    host: 'noaa-gfs-bdp-pds.s3.amazonaws.com',
    path: 'gfs.{date}/{run}/atmos/gfs.t{run}z.pgrb2.0p25.f{hhh}',
    inventory: { kind: 'colon', suffix: '.idx', insteadOf: '' },
    runs: [
      {
        atH: [0, 6, 12, 18],
        spans: [
          { fromH: 0, toH: 120, everyH: 1 },
          { fromH: 123, toH: 384, everyH: 3 },
        ],
      },
    ],
    usualDelayMin: { first: 210, perForecastHour: 0.5 },
    gridNote: '3.0, latitude and longitude, 1440 x 721 around the globe, 0.25 degrees',
    // Process 96: from memory, as in grid-basis.ts.
    origin: { centre: 7, generatingProcess: 96 },
  },
  'hrrr-prs': {
    id: 'hrrr-prs',
    name: 'HRRR, isobaric levels',
    attribution: 'NOAA NCEP',
    host: 'noaa-hrrr-bdp-pds.s3.amazonaws.com',
    path: 'hrrr.{date}/conus/hrrr.t{run}z.wrfprsf{hh}.grib2',
    inventory: { kind: 'colon', suffix: '.idx', insteadOf: '' },
    runs: [
      { atH: [0, 6, 12, 18], spans: [{ fromH: 0, toH: 48, everyH: 1 }] },
      { atH: hoursBut([0, 6, 12, 18]), spans: [{ fromH: 0, toH: 18, everyH: 1 }] },
    ],
    // Public reports: 45 minutes to the first file, 75 more to the last of 48.
    usualDelayMin: { first: 50, perForecastHour: 1.5 },
    gridNote: '3.30, Lambert, 1799 x 1059, 3 km, winds along the grid',
    // Process 83: from memory.
    origin: { centre: 7, generatingProcess: 83 },
  },
  'rap-awp130': {
    id: 'rap-awp130',
    name: 'RAP, grid 130',
    attribution: 'NOAA NCEP',
    host: 'noaa-rap-pds.s3.amazonaws.com',
    path: 'rap.{date}/rap.t{run}z.awp130pgrbf{hh}.grib2',
    inventory: { kind: 'colon', suffix: '.idx', insteadOf: '' },
    runs: [
      { atH: [3, 9, 15, 21], spans: [{ fromH: 0, toH: 51, everyH: 1 }] },
      { atH: hoursBut([3, 9, 15, 21]), spans: [{ fromH: 0, toH: 21, everyH: 1 }] },
    ],
    usualDelayMin: { first: 55, perForecastHour: 1.5 },
    gridNote: '3.30, Lambert, 451 x 337, 13.5 km, winds along the grid',
    // Process 105: from memory.
    origin: { centre: 7, generatingProcess: 105 },
  },
  'ecmwf-ifs-0p25': {
    id: 'ecmwf-ifs-0p25',
    name: 'ECMWF IFS open data 0.25°',
    attribution: 'ECMWF, CC BY 4.0',
    host: 'ecmwf-forecasts.s3.eu-central-1.amazonaws.com',
    // From cycle 50r1 (May 2026) on, 06 and 18 UTC are in `oper` too; they were in `scda` before.
    path: '{date}/{run}z/ifs/0p25/oper/{date}{run}0000-{h}h-oper-fc.grib2',
    inventory: { kind: 'json', suffix: '.index', insteadOf: '.grib2' },
    runs: [
      {
        atH: [0, 12],
        spans: [
          { fromH: 0, toH: 144, everyH: 3 },
          { fromH: 150, toH: 360, everyH: 6 },
        ],
      },
      // To 90 in every description seen; newer cycles may go to 144.
      { atH: [6, 18], spans: [{ fromH: 0, toH: 90, everyH: 3 }] },
    ],
    // The dissemination schedule (5 h 45 min for hour 0, 6 h 12 min for 90, 7 h 34 min for 360) and an hour until it is open.
    usualDelayMin: { first: 405, perForecastHour: 0.3 },
    gridNote: '3.0, latitude and longitude, 1440 x 721 around the globe, 0.25 degrees, packing 5.42',
    // The process changes with the cycle and decides nothing of ECMWF's fields.
    origin: { centre: 98, generatingProcess: 255 },
  },
};

function hoursBut(others: readonly number[]): number[] {
  return Array.from({ length: 24 }, (_, hour) => hour).filter((hour) => !others.includes(hour));
}

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;

/** One file of a model. */
export interface ModelHour {
  /** Epoch ms UTC. */
  readonly runMs: number;
  readonly forecastHour: number;
}

/** Forecast hours of a run, ascending; none when the model has no run at that time. */
export function forecastHours(model: OpenModel, runMs: number): number[] {
  if (runMs % HOUR_MS !== 0) return [];
  const hourOfDay = new Date(runMs).getUTCHours();
  const spans = model.runs.find(({ atH }) => atH.includes(hourOfDay))?.spans ?? [];
  return spans.flatMap(({ fromH, toH, everyH }) =>
    Array.from({ length: Math.floor((toH - fromH) / everyH) + 1 }, (_, step) => fromH + step * everyH),
  );
}

/** When the file of a forecast hour is usually in the bucket, epoch ms UTC. */
export function usuallyThereMs(model: OpenModel, { runMs, forecastHour }: ModelHour): number {
  const { first, perForecastHour } = model.usualDelayMin;
  return runMs + (first + perForecastHour * forecastHour) * MINUTE_MS;
}

/** The newest run whose file of a forecast hour is usually there by now; undefined when no run of two days has that hour. */
export function newestRunMs(model: OpenModel, forecastHour: number, nowMs: number): number | undefined {
  const latestMs = Math.floor(nowMs / HOUR_MS) * HOUR_MS;
  for (let back = 0; back < 48; back += 1) {
    const runMs = latestMs - back * HOUR_MS;
    if (usuallyThereMs(model, { runMs, forecastHour }) > nowMs) continue;
    if (forecastHours(model, runMs).includes(forecastHour)) return runMs;
  }
  return undefined;
}

/**
 * Addresses of a file and its inventory.
 *
 * @param baseUrl  In the place of `https://{host}/`: a mirror or a rehearsal; ends with a slash.
 * @throws InvalidRequestError when the model has no such run or forecast hour.
 */
export function modelUrls(
  model: OpenModel,
  hour: ModelHour,
  baseUrl = `https://${model.host}/`,
): { readonly dataUrl: string; readonly inventoryUrl: string } {
  const hours = forecastHours(model, hour.runMs);
  if (hours.length === 0) {
    const found = Number.isFinite(hour.runMs) ? new Date(hour.runMs).toISOString() : String(hour.runMs);
    const starts = model.runs.flatMap(({ atH }) => atH).sort((a, b) => a - b);
    throw new InvalidRequestError({
      field: 'run',
      found,
      expected: `a run of ${model.id} at ${starts.join(', ')} UTC`,
    });
  }
  if (!hours.includes(hour.forecastHour)) {
    throw new InvalidRequestError({
      field: 'forecastHour',
      found: String(hour.forecastHour),
      expected: `an hour that this run of ${model.id} forecasts, 0 to ${hours.at(-1)}`,
    });
  }
  const path = filledPath(model.path, hour);
  const { suffix, insteadOf } = model.inventory;
  return {
    dataUrl: baseUrl + path,
    inventoryUrl: baseUrl + path.slice(0, path.length - insteadOf.length) + suffix,
  };
}

/**
 * The model, run and hour whose file lies at an address; undefined for any other address.
 *
 * @param baseUrl  As in modelUrls.
 */
export function hourOfUrl(
  url: string,
  baseUrl?: string,
): (ModelHour & { readonly model: OpenModel }) | undefined {
  for (const model of Object.values(OPEN_MODELS)) {
    const base = baseUrl ?? `https://${model.host}/`;
    const found = url.startsWith(base) ? pathPattern(model.path).exec(url.slice(base.length)) : null;
    if (found === null) continue;
    const { date = '', run = '', hour = '' } = found.groups ?? {};
    const day = Date.UTC(Number(date.slice(0, 4)), Number(date.slice(4, 6)) - 1, Number(date.slice(6, 8)));
    const at = { runMs: day + Number(run) * HOUR_MS, forecastHour: Number(hour) };
    const isOurs = forecastHours(model, at.runMs).includes(at.forecastHour);
    // Written back it must be the same address: no day that no calendar has, no other count of figures.
    if (isOurs && modelUrls(model, at, baseUrl).dataUrl === url) return { ...at, model };
  }
  return undefined;
}

/** The first of each name tells, the others must only be there; written back they are held against the address. */
function pathPattern(path: string): RegExp {
  const plain = path.replace(/[.+]/g, '\\$&');
  const named = plain
    .replace('{date}', '(?<date>\\d{8})')
    .replace('{run}', '(?<run>\\d{2})')
    .replace(/\{h{1,3}\}/, '(?<hour>\\d{1,3})');
  return new RegExp(`^${named.replaceAll('{date}', '\\d{8}').replaceAll('{run}', '\\d{2}')}$`);
}

function filledPath(path: string, { runMs, forecastHour }: ModelHour): string {
  const [date, run] = [new Date(runMs).toISOString().slice(0, 10).replaceAll('-', ''), isoHour(runMs)];
  return path
    .replaceAll('{date}', date)
    .replaceAll('{run}', run)
    .replace('{hhh}', String(forecastHour).padStart(3, '0'))
    .replace('{hh}', String(forecastHour).padStart(2, '0'))
    .replace('{h}', String(forecastHour));
}

const isoHour = (runMs: number) => new Date(runMs).toISOString().slice(11, 13);
