/** The options of a request with every default filled in. */
import type { BriefOptions, MinimumAltitude } from '../schema/request.ts';
import type { AirMass } from '../science/droplets.ts';

export interface SettledOptions {
  readonly corridorHalfWidthNm: number;
  readonly altitudesFt: readonly number[] | undefined;
  readonly fixedAltitudeFt: number | undefined;
  readonly minimumAltitudes: readonly MinimumAltitude[];
  readonly fluidOnBoardM3: number | undefined;
  readonly altimeterSettingHPa: number;
  readonly airMass: AirMass;
  readonly curtain: boolean;
  readonly laterDepartures: number;
}

const DEFAULT_HALF_WIDTH_NM = 10;
const STANDARD_SETTING_HPA = 1013.25;
const M3_PER_L = 0.001;
const LATER_DEPARTURES = 3;

export function settled(options: BriefOptions | undefined): SettledOptions {
  return {
    corridorHalfWidthNm: options?.corridorHalfWidthNm ?? DEFAULT_HALF_WIDTH_NM,
    altitudesFt: options?.altitudesFt,
    fixedAltitudeFt: options?.fixedAltitudeFt,
    minimumAltitudes: options?.minimumAltitudes ?? [],
    fluidOnBoardM3: options?.fluidOnBoardL === undefined ? undefined : options.fluidOnBoardL * M3_PER_L,
    altimeterSettingHPa: options?.altimeterSettingHPa ?? STANDARD_SETTING_HPA,
    airMass: options?.airMass ?? 'continental',
    curtain: options?.curtain ?? false,
    laterDepartures: options?.laterDepartures ?? LATER_DEPARTURES,
  };
}
