/** The options of a request with every default filled in. */
import type { DirectionRule } from '../flight/candidates.ts';
import type { OxygenRule } from '../flight/oxygen.ts';
import type { BriefOptions, MinimumAltitude } from '../schema/request.ts';
import type { AirMass } from '../science/droplets.ts';

export interface SettledOptions {
  readonly corridorHalfWidthNm: number;
  readonly altitudesFt: readonly number[] | undefined;
  readonly fixedAltitudeFt: number | undefined;
  readonly minimumAltitudes: readonly MinimumAltitude[];
  readonly fluidOnBoardM3: number | undefined;
  readonly altimeterSettingHPa: number;
  readonly minimumCrossings: NonNullable<BriefOptions['minimumCrossings']>;
  readonly planned: NonNullable<BriefOptions['planned']>;
  readonly takeoffWeightKg: number | undefined;
  readonly directionRule: DirectionRule;
  readonly oxygenRule: OxygenRule;
  readonly airMass: AirMass;
  readonly curtain: boolean;
  readonly laterDepartures: number;
}

const DIRECTION: Readonly<Record<'faa-91-179' | 'icao-annex-2', DirectionRule>> = {
  'faa-91-179': '14 CFR 91.179(b)',
  'icao-annex-2': 'ICAO Annex 2, Appendix 3',
};
const OXYGEN: Readonly<Record<'faa-135-89' | 'faa-91-211', OxygenRule>> = {
  'faa-135-89': '14 CFR 135.89(a)',
  'faa-91-211': '14 CFR 91.211(a)',
};

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
    minimumCrossings: options?.minimumCrossings ?? [],
    planned: options?.planned ?? {},
    takeoffWeightKg: options?.takeoffWeightKg,
    directionRule: DIRECTION[options?.directionRule ?? 'faa-91-179'],
    oxygenRule: OXYGEN[options?.oxygenRule ?? 'faa-135-89'],
    airMass: options?.airMass ?? 'continental',
    curtain: options?.curtain ?? false,
    laterDepartures: options?.laterDepartures ?? LATER_DEPARTURES,
  };
}
