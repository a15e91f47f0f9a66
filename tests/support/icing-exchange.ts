/**
 * Convection and evaporation at the stagnation line of a cylinder in icing cloud, two ways: by the property fits that
 * NASA/CR-2004-212875 publishes, typed again, and by others with nothing in common with them.
 */
import { goffGratchWaterPa } from './goff-gratch.ts';
import { ZERO_CELSIUS_K } from './numeric-heat-balance.ts';
import { stagnationNusseltOverRootReynolds } from './stagnation-boundary-layer.ts';

/** Cloud air, saturated over water, and the cylinder in it. */
export interface CloudAir {
  readonly temperatureK: number;
  readonly pressurePa: number;
  readonly speedMps: number;
  readonly diameterM: number;
}

/** Heat and vapor that the air takes up. */
export interface Exchange {
  readonly convectionWPerM2K: number;
  /** From a surface of that vapor pressure, kg/m2/s. */
  readonly vaporKgPerM2S: (surfaceVaporPa: number) => number;
}

/** Film at the mean of air and 0 degC. */
const filmOf = (air: CloudAir): number => (air.temperatureK + ZERO_CELSIUS_K) / 2;

/** Stagnation temperature over static, ideal gas. */
const totalOverStatic = (air: CloudAir, heatCapacity: number): number =>
  1 + air.speedMps ** 2 / (2 * heatCapacity * air.temperatureK);

/** Equations A.3, A.4, A.20, A.24 and the stagnation-line Nusselt number of that report. */
export function publishedExchange(air: CloudAir, saturationPa: (temperatureK: number) => number): Exchange {
  const heatCapacity = 1004.7;
  const film = filmOf(air);
  const density = air.pressurePa / (287.05 * film);
  const viscosity = 1e-5 / (0.12764 + 124.38 / film);
  const conductivity = 0.00235815 * film ** 0.5 - 0.0147486;
  const diffusivity = (0.211e-4 * (film / 273.15) ** 1.94 * 101320) / air.pressurePa;
  const prandtl = (heatCapacity * viscosity) / conductivity;
  const schmidt = viscosity / (density * diffusivity);
  const reynolds = (density * air.speedMps * air.diameterM) / viscosity;
  const convectionWPerM2K = (1.14 * prandtl ** 0.4 * reynolds ** 0.5 * conductivity) / air.diameterM;
  const massTransfer = (convectionWPerM2K / heatCapacity) * (prandtl / schmidt) ** 0.667;
  const rise = totalOverStatic(air, heatCapacity);
  const totalDensityTerm = (air.pressurePa * rise ** 3.5) / (air.temperatureK * rise);
  const airTerm = (totalDensityTerm * saturationPa(air.temperatureK)) / air.pressurePa;
  return {
    convectionWPerM2K,
    vaporKgPerM2S(surfaceVaporPa) {
      const surfaceTerm = surfaceVaporPa / air.temperatureK;
      return (massTransfer * (surfaceTerm - airTerm)) / (totalDensityTerm / 0.622 - surfaceTerm);
    },
  };
}

/** Mass fraction of vapor. */
const vaporFraction = (vaporPa: number, pressurePa: number): number =>
  (0.62198 * vaporPa) / (pressurePa - 0.37802 * vaporPa);

/**
 * The laminar boundary layer integrated; Sutherland's laws for viscosity and conductivity, Massman's 1998 diffusivity
 * (all from memory); vapor by mass fractions with the pull of its own flow; Goff and Gratch's saturation.
 */
export function separateExchange(air: CloudAir): Exchange {
  const heatCapacity = 1005;
  const film = filmOf(air);
  const density = air.pressurePa / (287.05 * film);
  const viscosity = (1.458e-6 * film ** 1.5) / (film + 110.4);
  const conductivity = (0.0241 * (film / 273.15) ** 1.5 * (273.15 + 194)) / (film + 194);
  const diffusivity = (0.2178e-4 * (film / 273.15) ** 1.81 * 101325) / air.pressurePa;
  const rootReynolds = Math.sqrt((density * air.speedMps * air.diameterM) / viscosity);
  const perNusselt = conductivity / air.diameterM;
  const ofHeat = stagnationNusseltOverRootReynolds((heatCapacity * viscosity) / conductivity);
  const ofVapor = stagnationNusseltOverRootReynolds(viscosity / (density * diffusivity));
  const massTransfer = (ofVapor * rootReynolds * density * diffusivity) / air.diameterM;
  const edgePa = air.pressurePa * totalOverStatic(air, heatCapacity) ** 3.5;
  const inAir = vaporFraction(goffGratchWaterPa(air.temperatureK), air.pressurePa);
  return {
    convectionWPerM2K: ofHeat * rootReynolds * perNusselt,
    vaporKgPerM2S(surfaceVaporPa) {
      const atSurface = vaporFraction(surfaceVaporPa, edgePa);
      return (massTransfer * (atSurface - inAir)) / (1 - atSurface);
    },
  };
}
