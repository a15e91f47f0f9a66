/** The ramp at the departure: what stands in the reports of the aerodrome, what treatment it calls for, how long fluids hold. */
import * as suncalc from 'suncalc';
import { readAerodromeText } from '../formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { AerodromeReport, MetarReport, TafReport } from '../formats/aerodrome-reports/report.ts';
import { CONDITION_WORDS } from '../ground/conditions.ts';
import { type Holdover, holdoverOf } from '../ground/holdover.ts';
import { holdoverTable } from '../ground/holdover-table.ts';
import type { Light } from '../ground/snow-intensity.ts';
import { type Finding, type RampWeather, treatmentFor } from '../ground/treatment.ts';
import type { GroundAnswer } from '../schema/ground.ts';
import { type FluidType, MIXES, type RampCondition, type WingSkin } from '../schema/ground-words.ts';
import type { Position } from '../science/great-circle.ts';
import type { StoredHoldoverTable } from '../sources/holdover-tables.ts';
import type { BriefReads } from '../sources/ports.ts';
import { fallingInForecast, rampWeatherOf } from '../sources/report-facts/ramp-weather.ts';
import type { StoredReport } from '../sources/reports.ts';
import { utc } from './utc.ts';

type StoredTable = StoredHoldoverTable['table'];

/** An older observation says nothing of what falls now. */
const FRESH_MS = 90 * 60_000;
/** Observations are shown this long, marked as old, and forecasts are looked for as long. */
const SHOWN_MS = 24 * 3_600_000;
/** The forecast is asked for this long before and after the departure. */
const AROUND_MS = 30 * 60_000;

export const GROUND_CAUTIONS: readonly string[] = [
  'Look and feel: wings, tail, controls, inlets. The flight manual and the operator’s de-icing programme decide on fluid and procedure.',
  'A holdover time ends early in heavy precipitation, high wind, jet blast, or on skin colder than the air; it counts from the start of the final application, on a clean wing.',
  'An operator under 14 CFR part 135 without an approved programme checks within 5 min before take-off begins (135.227); a holdover time is then guidance alone.',
];

export interface GroundReads {
  readonly reports: readonly StoredReport[];
  readonly tables: readonly StoredHoldoverTable[];
}

export interface GroundLeg {
  readonly aerodrome: string;
  readonly at: Position;
  readonly departureMs: number;
  readonly fluids: readonly FluidType[] | undefined;
  /** undefined where the profile does not say: tables of every skin are then offered, each under its name. */
  readonly skin: WingSkin | undefined;
  /** All of the brief's air is an invented scenario's. */
  readonly isInvented: boolean;
}

/** Everything that is held of the aerodrome before the departure, and the tables of the operators. */
export async function readGround(
  { reports, holdoverTables }: Pick<BriefReads, 'reports' | 'holdoverTables'>,
  { aerodrome, departureMs }: Pick<GroundLeg, 'aerodrome' | 'departureMs'>,
  operators: readonly string[],
): Promise<GroundReads> {
  const [found, tables] = await Promise.all([
    reports.ofAerodrome({
      operators,
      station: aerodrome,
      fromMs: departureMs - SHOWN_MS,
      toMs: departureMs,
    }),
    holdoverTables.list(operators),
  ]);
  return { reports: found, tables };
}

/** @checked tests/brief/ground.test.ts */
export function groundAnswer({ reports, tables }: GroundReads, leg: GroundLeg): GroundAnswer {
  const { departureMs, fluids } = leg;
  const observation = newestOf(
    reports.filter(({ kind }) => kind !== 'taf'),
    isObservation,
  );
  const light = lightOver(leg, observation?.timeMs);
  const isFresh = observation !== undefined && departureMs - observation.timeMs <= FRESH_MS;
  const forecasts = reports.filter(({ kind }) => kind === 'taf');
  const forecast = newestOf(forecasts, isForecast);
  const observed = isFresh ? rampWeatherOf(observation, light) : NOTHING_KNOWN;
  const expected = forecast && fallingAround(forecast, { departureMs, light, weather: observed });
  const weather = {
    ...observed,
    also: [...observed.also, ...expectedFindings(forecasts.length > 0, expected)],
  };
  const { need, reasons, steps, conditions } = treatmentFor(weather, {
    found: 'not-looked',
    fuel: 'not-known',
    fluids,
  });
  const usable = tables.filter(({ table }) => isUsable(table, leg));
  return {
    aerodrome: leg.aerodrome,
    report:
      observation === undefined
        ? null
        : { text: observation.text, observedUtc: utc(observation.timeMs), isFresh },
    forecast: forecast === undefined ? null : { text: forecast.text, falling: expected ?? null },
    weather: weatherAnswer(weather),
    fluids: fluids === undefined ? null : [...fluids],
    treatment: { need, reasons: [...reasons, ...ageReasons(observation, isFresh)], steps: [...steps] },
    tables: usable.map(({ operator, table }) => ({ operator, table })),
    holdover: usable.flatMap(({ table }, tableIndex) =>
      mixesOf(table).map((mix) => ({
        tableIndex,
        mix,
        outcome: outcomeAnswer(
          holdoverOf(holdoverTable(table), {
            conditions,
            temperature: weather.temperature,
            mix,
            isSkinColder: false,
            onDay: utc(departureMs).slice(0, 10),
          }),
        ),
      })),
    ),
    cautions: [...GROUND_CAUTIONS],
  };
}

function isUsable({ fluidType, surface, standing }: StoredTable, leg: GroundLeg): boolean {
  const { fluids, skin, isInvented } = leg;
  const isListed = fluids === undefined || fluids.includes(fluidType);
  const isOfSkin = skin === undefined || surface === 'any' || surface === skin;
  // Made-up figures stand beside made-up weather alone.
  return isListed && isOfSkin && (standing === 'in-force' || isInvented);
}

const NOTHING_KNOWN: RampWeather = {
  temperature: undefined,
  dewPointC: undefined,
  windKt: undefined,
  isSkyClear: undefined,
  falling: undefined,
  isRaining: undefined,
  also: [],
};

/** Under cloud the light of day comes later than the sun, ° over the horizon (judgement). */
const DAY_FROM_DEG = 6;

/** Snow is judged by it: dark where it is so when the report was made or at the departure. */
function lightOver({ at, departureMs }: GroundLeg, observedMs = departureMs): Light {
  const isDay = (ms: number) =>
    suncalc.getPosition(new Date(ms), at.latDeg, at.lonDeg).altitude > DAY_FROM_DEG;
  return isDay(observedMs) && isDay(departureMs) ? 'day' : 'dark';
}

/** What is expected lifts the need; a forecast that cannot be read is no dry one. */
function expectedFindings(isHeld: boolean, expected: readonly RampCondition[] | undefined): Finding[] {
  if (!isHeld) return [];
  if (expected === undefined)
    return [{ need: 'unknown', reason: 'What the forecast expects around the departure is not known' }];
  const words = expected.map((condition) => CONDITION_WORDS[condition]).join(', ');
  return expected.length === 0
    ? []
    : [{ need: 'may-be-needed', reason: `Expected around the departure: ${words}` }];
}

const isObservation = (report: AerodromeReport): report is MetarReport => report.kind !== 'taf';
const isForecast = (report: AerodromeReport): report is TafReport => report.kind === 'taf';

/** The newest of a kind. One that no longer reads is not passed over for an older one: what it told may be worse. */
function newestOf<Kind extends AerodromeReport>(
  reports: readonly StoredReport[],
  isOne: (report: AerodromeReport) => report is Kind,
): Kind | undefined {
  const [newest] = reports;
  if (newest === undefined) return undefined;
  const items = readAerodromeText(newest.text, { nearMs: newest.issuedMs });
  const [found] = items.flatMap((item) =>
    item.kind === 'report' && isOne(item.report) ? [item.report] : [],
  );
  return found;
}

interface Around {
  readonly departureMs: number;
  readonly light: Light;
  readonly weather: RampWeather;
}

function fallingAround(
  forecast: TafReport,
  { departureMs, light, weather }: Around,
): RampCondition[] | undefined {
  return fallingInForecast(forecast, {
    fromMs: departureMs - AROUND_MS,
    untilMs: departureMs + AROUND_MS,
    temperature: weather.temperature,
    light,
  });
}

function ageReasons(observation: MetarReport | undefined, isFresh: boolean): string[] {
  if (observation === undefined) return ['No observation of the aerodrome is held'];
  return isFresh
    ? []
    : [
        `The observation of ${utc(observation.timeMs).slice(11, 16)} UTC is over 90 min old at the departure: not used`,
      ];
}

function weatherAnswer(weather: RampWeather): GroundAnswer['weather'] {
  return {
    temperature: weather.temperature ?? null,
    dewPointC: weather.dewPointC ?? null,
    windKt: weather.windKt ?? null,
    isSkyClear: weather.isSkyClear ?? null,
    falling: weather.falling === undefined ? null : [...weather.falling],
    isRaining: weather.isRaining ?? null,
    also: [...weather.also],
  };
}

/** In the order of the trade: the strongest first. */
const mixesOf = ({ rows }: StoredTable) => MIXES.filter((mix) => rows.some((row) => row.mix === mix));

const outcomeAnswer = (holdover: Holdover): GroundAnswer['holdover'][number]['outcome'] => ({ ...holdover });
