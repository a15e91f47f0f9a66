/** The air of a leg at one departure: what was read, placed over the points at the times over them, with its icing. Pure. */
import { tableValue } from '../flight/aircraft.ts';
import type { Aircraft } from '../flight/types.ts';
import {
  type AltitudeAxis,
  CELL_STATE,
  type DiagnosisSettings,
  type IcingColumns,
  type WeatherColumns,
} from '../science/columns.ts';
import { diagnoseSources } from '../science/diagnose-columns.ts';
import { drawIcing } from '../science/draw-icing.ts';
import { type DrawnIcing, raiseToDraws } from '../science/drawn-icing.ts';
import { DROPLET_NUMBER_PER_M3 } from '../science/droplets.ts';
import { weatherColumnsFromProfiles } from '../science/profile-columns.ts';
import { type GatheredWeather, gatherWeather, type UsedSource } from './gather-weather.ts';
import { dataForDeparture, type LegData, type ReadLegData } from './leg-data.ts';
import { etasWith, type LegPlan, windowOf } from './leg-plan.ts';
import { windOfSources } from './source-wind.ts';

export interface LegAir {
  /** Over each point, epoch ms. */
  readonly etaMs: Float64Array;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly drawn: DrawnIcing;
  readonly used: readonly UsedSource[];
}

/** Gathered twice: once in still air for the wind that times the points, once at those times. */
export function legAir(
  plan: LegPlan,
  read: ReadLegData,
  onStage: (stage: 'physics' | 'draws') => void = () => undefined,
): LegAir {
  const data = dataForDeparture(read, windowOf(plan));
  const first = gatherWeather(data, plan.route, plan.stillAirEtaMs);
  const firstColumns = weatherColumnsFromProfiles(first.profiles, plan.axis);
  const etaMs = etasWith(plan, windOfSources(firstColumns, first.sources));
  const { draw, ...placed } = airAt(data, plan, etaMs);
  onStage('physics');
  const drawn = draw();
  raiseToDraws(placed.icing, drawn);
  onStage('draws');
  return { etaMs, ...placed, drawn };
}

/** What of a leg the air over its points depends on. */
export type AirPlan = Pick<LegPlan, 'route' | 'axis' | 'aircraft' | 'options'>;

export interface PlacedAir extends Omit<LegAir, 'etaMs' | 'drawn'> {
  readonly draw: () => DrawnIcing;
}

/** Air and icing over the route points at the given times. */
export function airAt(
  data: LegData,
  { route, axis, aircraft, options }: AirPlan,
  etaMs: Float64Array,
): PlacedAir {
  const gathered = gatherWeather(data, route, etaMs);
  const columns = weatherColumnsFromProfiles(gathered.profiles, axis);
  const settings: DiagnosisSettings = {
    trueAirspeedMps: trueAirspeeds(aircraft, axis),
    wingNoseRadiusM: aircraft.wingNoseRadiusM,
    rodRadiusM: aircraft.rodRadiusM,
    dropletNumberPerM3: DROPLET_NUMBER_PER_M3[options.airMass],
  };
  const { weather, icing, evidence } = diagnoseSources(columns, gathered.sources, settings);
  nameUncovered(weather.state, gathered, axis);
  nameUncovered(icing.state, gathered, axis);
  return {
    weather,
    icing,
    used: gathered.used,
    draw: () =>
      drawIcing({
        columns: { weather: columns, evidence },
        sources: gathered.sources,
        pooled: { weather, icing },
        settings,
        distanceM: route.distanceM,
      }),
  };
}

function trueAirspeeds(aircraft: Aircraft, axis: AltitudeAxis): Float64Array {
  return Float64Array.from({ length: axis.cellCount }, (_, cell) =>
    tableValue(aircraft.trueAirspeedMps, axis.lowestM + (cell + 0.5) * axis.cellDepthM),
  );
}

/** A point that no source reaches says why: too old, outside, or nothing at all. Known cells are never touched. */
function nameUncovered(state: Uint8Array, gathered: GatheredWeather, axis: AltitudeAxis): void {
  for (let index = 0; index < state.length; index += 1) {
    if (state[index] !== CELL_STATE.noData) continue;
    state[index] = gathered.uncoveredState[Math.floor(index / axis.cellCount)]!;
  }
}
