/** Plain levels as WMO FM 35 TEMP, written from the coding rules and knowing nothing of the reader. */
import type { PlainLevel, PlainSounding } from './sounding-plain.ts';
import {
  depressionFigures,
  heightFigures,
  pressureFigures,
  temperatureFigures,
  twoFigures,
  windFigures,
} from './sounding-temp-figures.ts';

const STANDARD_AB_HPA = [1000, 925, 850, 700, 500, 400, 300, 250, 200, 150, 100];
const STANDARD_CD_HPA = [70, 50, 30, 20, 10];
const MPS_PER_KNOT = 1852 / 3600;

export interface TempWriterOptions {
  /** Code wind speeds in knots (day + 50) or m/s; knots when left out. */
  readonly windUnit?: 'kt' | 'mps';
  /** Pressure of the level to report as tropopause (88) or as greatest wind (77), hPa. */
  readonly tropopauseHPa?: number;
  readonly maximumWindHPa?: number;
}

/**
 * TTAA and TTBB to 100 hPa and, when levels lie above, TTCC and TTDD; each part ends in `=`. Levels on standard
 * pressures go to TTAA/TTCC, all others to TTBB/TTDD: temperatures in its first section, winds after 21212.
 * A standard level under the surface is coded without temperature and wind; one the input lacks, with slashes.
 * Coding steps: pressure 1 hPa (0.1 hPa above 100 hPa), height 1 gpm to 700 hPa then 10 gpm, temperature 0.2 K with
 * the sign in the last figure's parity, depression 0.1 K to 5 K then 1 K, direction 5 deg, speed 1 kt or 1 m/s.
 */
export function writeTemp(sounding: PlainSounding, options: TempWriterOptions = {}): string {
  if (!/^\d{5}$/.test(sounding.stationId))
    throw new Error(`station ${sounding.stationId}: five figures needed`);
  refuseSharedPressures(sounding);
  const time = new Date(sounding.timeUtc);
  const unit = options.windUnit ?? 'kt';
  const dayCode = time.getUTCDate() + (unit === 'kt' ? 50 : 0);
  const context: PartContext = {
    heading: `${twoFigures(dayCode)}${twoFigures(time.getUTCHours())}`,
    sounding,
    unit,
    options,
  };
  const low = sounding.levels.filter((level) => level.pressureHPa >= 100);
  const high = sounding.levels.filter((level) => level.pressureHPa < 100);
  const parts = [standardPart(context, low, false), significantPart(context, low, false)];
  if (high.length > 0) parts.push(standardPart(context, high, true), significantPart(context, high, true));
  return `${parts.map(wrapped).join('\n')}\n`;
}

/** Two levels that would be coded as one cannot both be told. */
function refuseSharedPressures(sounding: PlainSounding): void {
  const seen = new Set<number>();
  for (const { pressureHPa } of sounding.levels) {
    const coded = pressureHPa < 100 ? Math.round(pressureHPa * 10) / 10 : Math.round(pressureHPa);
    if (seen.has(coded)) throw new Error(`two levels at ${coded} hPa cannot be coded`);
    seen.add(coded);
  }
}

interface PartContext {
  readonly heading: string;
  readonly sounding: PlainSounding;
  readonly unit: 'kt' | 'mps';
  readonly options: TempWriterOptions;
}

function standardPart(context: PartContext, levels: readonly PlainLevel[], isHigh: boolean): string[] {
  const standards = isHigh ? STANDARD_CD_HPA : STANDARD_AB_HPA;
  const topHPa = Math.min(...levels.map((level) => level.pressureHPa));
  const surface = surfaceOf(context.sounding, isHigh);
  const reported = standards.filter((pressureHPa) => pressureHPa >= topHPa);
  const withWind = reported.filter((pressureHPa) => hasWind(at(levels, pressureHPa)));
  const lastWindHPa = Math.min(...withWind);
  const groups = [isHigh ? 'TTCC' : 'TTAA', `${context.heading}${lastWindFigure(lastWindHPa, isHigh)}`];
  groups.push(context.sounding.stationId);
  if (!isHigh) groups.push(...surfaceGroups(surface, context.unit));
  for (const pressureHPa of reported) {
    const isBelow = surface !== undefined && pressureHPa > surface.pressureHPa;
    const level = at(levels, pressureHPa);
    groups.push(
      `${standardFigures(pressureHPa)}${heightFigures(pressureHPa, level?.heightM)}`,
      isBelow ? '/////' : temperatureGroup(level),
    );
    if (pressureHPa >= lastWindHPa) groups.push(isBelow ? '/////' : windGroup(level, context.unit));
  }
  groups.push(...specialGroups(context, levels, isHigh));
  return groups;
}

function surfaceOf(sounding: PlainSounding, isHigh: boolean): PlainLevel | undefined {
  return isHigh || sounding.startsAloft === true ? undefined : sounding.levels[0];
}

function surfaceGroups(surface: PlainLevel | undefined, unit: 'kt' | 'mps'): string[] {
  if (surface === undefined) return ['99///', '/////', '/////'];
  return [
    `99${pressureFigures(surface.pressureHPa, false)}`,
    temperatureGroup(surface),
    windGroup(surface, unit),
  ];
}

/** Tropopause and greatest wind, 88999 and 77999 when none lies in this part. */
function specialGroups(context: PartContext, levels: readonly PlainLevel[], isHigh: boolean): string[] {
  const tropopause = at(levels, context.options.tropopauseHPa);
  const maximumWind = at(levels, context.options.maximumWindHPa);
  return [
    ...(tropopause === undefined
      ? ['88999']
      : [
          `88${pressureFigures(tropopause.pressureHPa, isHigh)}`,
          temperatureGroup(tropopause),
          windGroup(tropopause, context.unit),
        ]),
    ...(maximumWind === undefined
      ? ['77999']
      : [`77${pressureFigures(maximumWind.pressureHPa, isHigh)}`, windGroup(maximumWind, context.unit)]),
  ];
}

function significantPart(context: PartContext, levels: readonly PlainLevel[], isHigh: boolean): string[] {
  const standards = isHigh ? STANDARD_CD_HPA : STANDARD_AB_HPA;
  const surface = surfaceOf(context.sounding, isHigh);
  const significant = levels.filter((level) => level !== surface && !standards.includes(level.pressureHPa));
  const groups = [isHigh ? 'TTDD' : 'TTBB', `${context.heading}/`, context.sounding.stationId];
  if (surface !== undefined)
    groups.push(`00${pressureFigures(surface.pressureHPa, false)}`, temperatureGroup(surface));
  numbered(
    significant.filter((level) => level.temperatureC !== undefined),
    (level, figures) => {
      groups.push(`${figures}${pressureFigures(level.pressureHPa, isHigh)}`, temperatureGroup(level));
    },
  );
  groups.push('21212');
  if (hasWind(surface) && surface !== undefined) {
    groups.push(`00${pressureFigures(surface.pressureHPa, false)}`, windGroup(surface, context.unit));
  }
  numbered(significant.filter(hasWind), (level, figures) => {
    groups.push(`${figures}${pressureFigures(level.pressureHPa, isHigh)}`, windGroup(level, context.unit));
  });
  return groups;
}

/** Significant levels count 11, 22 ... 99 and start again at 11. */
function numbered(levels: readonly PlainLevel[], write: (level: PlainLevel, figures: string) => void): void {
  levels.forEach((level, index) => {
    write(level, String((index % 9) + 1).repeat(2));
  });
}

function at(levels: readonly PlainLevel[], pressureHPa: number | undefined): PlainLevel | undefined {
  return levels.find((level) => level.pressureHPa === pressureHPa);
}

function hasWind(level: PlainLevel | undefined): boolean {
  return level?.windDirectionDeg !== undefined && level.windSpeedKt !== undefined;
}

/** Code table 1734: the hundreds (tens above 100 hPa) of the last standard pressure with a wind. */
function lastWindFigure(pressureHPa: number, isHigh: boolean): string {
  if (!Number.isFinite(pressureHPa)) return '/';
  return String(Math.floor((pressureHPa % 1000) / (isHigh ? 10 : 100)));
}

function standardFigures(pressureHPa: number): string {
  return twoFigures(pressureHPa < 100 ? pressureHPa : Math.floor((pressureHPa % 1000) / 10));
}

function temperatureGroup(level: PlainLevel | undefined): string {
  if (level?.temperatureC === undefined) return '/////';
  const depressionC = level.dewPointC === undefined ? undefined : level.temperatureC - level.dewPointC;
  return `${temperatureFigures(level.temperatureC)}${depressionFigures(depressionC)}`;
}

function windGroup(level: PlainLevel | undefined, unit: 'kt' | 'mps'): string {
  if (level?.windDirectionDeg === undefined || level.windSpeedKt === undefined) return '/////';
  const speed = Math.round(unit === 'kt' ? level.windSpeedKt : level.windSpeedKt * MPS_PER_KNOT);
  return windFigures(level.windDirectionDeg, speed);
}

/** Ten groups a line, the part closed with an equals sign. */
function wrapped(groups: readonly string[]): string {
  const lines: string[] = [];
  for (let start = 0; start < groups.length; start += 10)
    lines.push(groups.slice(start, start + 10).join(' '));
  return `${lines.join('\n')}=`;
}
