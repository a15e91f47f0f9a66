/** What follows RMK, as North America and those who follow it code it (FMH-1 chapter 12; Canada's additions). */
import type { Weather, Wind } from './conditions.ts';
import type { Draft } from './draft.ts';
import { takeRemarkGroup } from './remark-groups.ts';
import { takeRemarkWords } from './remark-words.ts';
import type { NotObserved } from './report.ts';
import { readWeather } from './weather-group.ts';

/** Precipitation or ice; a trace is reported but not measurable. */
export interface Amount {
  /** Millimeters; 0 for a trace, null when it could not be determined. */
  readonly mm: number | null;
  readonly isTrace: boolean;
}

export interface IceAccretion extends Amount {
  /** Length of the time that ends with the report. */
  readonly hours: 1 | 3 | 6;
}

export interface WeatherEvent {
  readonly weather: Weather;
  readonly event: 'began' | 'ended';
  readonly timeMs: number;
}

/** LGT, MOD or SEV ICE, as Russian stations tell it of the air above (`MOD ICE INC 1200M-1800M`). */
export interface ReportedIcing {
  readonly intensity: 'light' | 'moderate' | 'severe';
  readonly isInCloud: boolean;
  readonly lowerM: number | null;
  readonly upperM: number | null;
}

export interface PeakWind extends Pick<Wind, 'directionDeg' | 'speedKt'> {
  readonly timeMs: number;
}

export interface RemarkVisibility {
  readonly kind: 'variable' | 'tower' | 'surface' | 'sector' | 'runway' | 'minimum';
  /** Direction of a sector or runway; empty for the others. */
  readonly where: string;
  readonly lowestM: number;
  /** Differs from the lowest when variable. */
  readonly highestM: number;
}

export interface RemarkCeiling {
  readonly lowestAglFt: number;
  readonly highestAglFt: number;
  /** Place of a second sensor; empty for the station. */
  readonly where: string;
}

export interface Remarks {
  /** AO1 cannot tell rain from snow, AO2 can; A: augmented by an observer. */
  readonly stationType: 'AO1' | 'AO1A' | 'AO2' | 'AO2A' | null;
  /** T group: tenths of a degree. */
  readonly temperatureC: number | null;
  readonly dewPointC: number | null;
  readonly maximumTemperature6hC: number | null;
  readonly minimumTemperature6hC: number | null;
  readonly maximumTemperature24hC: number | null;
  readonly minimumTemperature24hC: number | null;
  readonly seaLevelPressureHPa: number | null;
  readonly altimeterInHg: number | null;
  /** Code table 0200, and the change over three hours without its sign. */
  readonly pressureTendency: { readonly code: number; readonly changeHPa: number } | null;
  readonly pressureChange: 'rising-rapidly' | 'falling-rapidly' | null;
  readonly iceAccretion: readonly IceAccretion[];
  /** ICG of Canadian automatic stations: the icing sensor has ice on it. */
  readonly isIceDetected: boolean;
  /** FROIN: frost on the indicator. */
  readonly isFrostOnIndicator: boolean;
  readonly icing: readonly ReportedIcing[];
  readonly weatherEvents: readonly WeatherEvent[];
  /** Weather groups among plain language (`OCNL BLSN`, `VIS N-S 1/4SM FZFG`): somewhere near, at some time. */
  readonly weatherMentioned: readonly Weather[];
  /** P group, since the last hourly report; or Canada's `PCPN n.nMM PAST HR`. */
  readonly precipitation1h: Amount | null;
  /** 6 group, at the hours when it speaks of 3 or of 6 hours; `hours` null at any other. */
  readonly precipitationPeriod: (Amount & { readonly hours: 3 | 6 | null }) | null;
  readonly precipitation24h: Amount | null;
  /** 4/sss, or SOG in Canada. */
  readonly snowDepthM: number | null;
  /** 931: new snow in six hours. */
  readonly snowfall6hM: number | null;
  /** 933: of all snow on the ground. */
  readonly snowWaterEquivalentMm: number | null;
  /** SNINCR: growth in the last hour, and the depth with it. */
  readonly snowIncrease: { readonly lastHourM: number; readonly depthM: number } | null;
  readonly peakWinds: readonly PeakWind[];
  readonly windShiftMs: number | null;
  readonly isFrontalPassage: boolean;
  readonly visibilities: readonly RemarkVisibility[];
  readonly ceilings: readonly RemarkCeiling[];
  /** $ */
  readonly isMaintenanceNeeded: boolean;
  readonly notObserved: readonly NotObserved[];
  /** Groups that were not understood, in their order; plain language is among them. */
  readonly unread: readonly string[];
}

export type RemarksDraft = Draft<Remarks>;

/** What the remarks lean on. */
export interface RemarkContext {
  readonly reportMs: number;
  /** To place the hundreds that SLP leaves out; null when not known. */
  readonly altimeterHPa: number | null;
}

/** Reads every group after RMK. Never throws. */
export function readRemarks(groups: readonly string[], context: RemarkContext): Remarks {
  const draft = emptyRemarks();
  for (let index = 0; index < groups.length; ) {
    const group = groups[index]!;
    const taken =
      takeRemarkWords(draft, groups, index, context) ||
      takeRemarkGroup(draft, group, context) ||
      takeMentionedWeather(draft, group);
    if (taken === 0) draft.unread.push(group);
    index += taken || 1;
  }
  return draft;
}

function takeMentionedWeather(draft: RemarksDraft, group: string): 0 | 1 {
  const weather = readWeather(group);
  if (weather === undefined) return 0;
  draft.weatherMentioned.push(weather);
  return 1;
}

function emptyRemarks(): RemarksDraft {
  return {
    stationType: null,
    temperatureC: null,
    dewPointC: null,
    maximumTemperature6hC: null,
    minimumTemperature6hC: null,
    maximumTemperature24hC: null,
    minimumTemperature24hC: null,
    seaLevelPressureHPa: null,
    altimeterInHg: null,
    pressureTendency: null,
    pressureChange: null,
    iceAccretion: [],
    isIceDetected: false,
    isFrostOnIndicator: false,
    icing: [],
    weatherEvents: [],
    weatherMentioned: [],
    precipitation1h: null,
    precipitationPeriod: null,
    precipitation24h: null,
    snowDepthM: null,
    snowfall6hM: null,
    snowWaterEquivalentMm: null,
    snowIncrease: null,
    peakWinds: [],
    windShiftMs: null,
    isFrontalPassage: false,
    visibilities: [],
    ceilings: [],
    isMaintenanceNeeded: false,
    notObserved: [],
    unread: [],
  };
}
