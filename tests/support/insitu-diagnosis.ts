/** The layers of research flights, each with what the column diagnosis says of it from temperature and dew point alone. */
import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { IcingCalibration } from '../../worker/science/calibration.ts';
import type { Profile } from '../../worker/science/columns.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { relativeHumidityRatioFromDewPoint } from '../../worker/science/humidity.ts';
import { columnFromLevels } from '../../worker/science/level-column.ts';
import { pressurePaFromPressureAltitudeM } from '../../worker/science/standard-atmosphere.ts';
import { kFromC } from '../../worker/science/units.ts';
import { type FlightLayer, flightProfiles } from './insitu-layers.ts';
import type { Scored } from './skill-scores.ts';

/** Measured truth, g/m3: liquid above, none at or under; between them a layer is neither. */
const LIQUID_ABOVE = 0.02;
const NONE_UNDER = 0.005;

/** A layer whose mean is 0 degrees C is not cold; summing leaves dust. */
const SUM_DUST_K = 1e-9;

/** One climb or descent. */
export interface FlightProfile {
  readonly flight: string;
  /** Flight and number. */
  readonly name: string;
  /** Lowest first. */
  readonly layers: readonly FlightLayer[];
}

/** A layer below 0 degrees C, measured and diagnosed. */
export interface DiagnosedLayer extends Scored, FlightLayer {
  readonly flight: string;
  readonly profile: string;
  /** Given liquid. */
  readonly diagnosedWaterGPerM3: number;
  readonly diagnosedDiameterUm: number;
}

/** Every climb and descent of the flights in a folder, by file name. */
export function readFlights(folder: string): FlightProfile[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.dat'))
    .sort()
    .flatMap((name) => {
      const flight = name.replace(/^.*-|\.dat$/g, '');
      return flightProfiles(join(folder, name)).map((layers, n) => ({
        flight,
        name: `${flight}/${n + 1}`,
        layers,
      }));
    });
}

/** The cold layers of all profiles under one calibration. */
export function diagnoseFlights(
  profiles: readonly FlightProfile[],
  calibration: Partial<IcingCalibration> = {},
): DiagnosedLayer[] {
  return profiles.flatMap((profile) => diagnoseProfile(profile, calibration));
}

function diagnoseProfile(
  { flight, name, layers }: FlightProfile,
  calibration: Partial<IcingCalibration>,
): DiagnosedLayer[] {
  const icing = diagnoseColumns(columnFromLevels(profileOf(layers)), {
    trueAirspeedMps: new Float64Array(layers.length).fill(90),
    wingNoseRadiusM: 0.02,
    rodRadiusM: 0.006,
    dropletNumberPerM3: 60e6,
    calibration,
  });
  return layers.flatMap((layer, cell) =>
    layer.temperatureC < -SUM_DUST_K
      ? [
          {
            ...layer,
            flight,
            profile: name,
            observed: truthOf(layer.liquidWaterGPerM3),
            probability: icing.icingProbability[cell]!,
            diagnosedWaterGPerM3: icing.liquidWaterKgPerM3[cell]! * 1000,
            diagnosedDiameterUm: icing.medianVolumeDiameterM[cell]! * 1e6,
          },
        ]
      : [],
  );
}

function truthOf(waterGPerM3: number): boolean | undefined {
  if (waterGPerM3 > LIQUID_ABOVE) return true;
  return waterGPerM3 <= NONE_UNDER ? false : undefined;
}

function profileOf(layers: readonly FlightLayer[]): Profile {
  const column = (at: (layer: FlightLayer) => number) => Float64Array.from(layers, at);
  const missing = () => new Float64Array(layers.length).fill(Number.NaN);
  return {
    levelCount: layers.length,
    pressurePa: column((layer) => pressurePaFromPressureAltitudeM(layer.heightM)),
    geopotentialHeightM: column((layer) => layer.heightM),
    temperatureK: column((layer) => kFromC(layer.temperatureC)),
    relativeHumidityRatio: column((layer) =>
      relativeHumidityRatioFromDewPoint(kFromC(layer.temperatureC), kFromC(layer.dewPointC)),
    ),
    windEastMps: missing(),
    windNorthMps: missing(),
    verticalVelocityPaPerS: missing(),
    condensateKgPerKg: missing(),
    condensateBasis: 'none',
    surfaceHeightM: Number.NaN,
  };
}
