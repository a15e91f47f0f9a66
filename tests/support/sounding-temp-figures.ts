/** Coded figures of WMO FM 35 TEMP, written from the code tables and knowing nothing of the reader. */

/** Three figures: whole hPa without the thousand, tenths of hPa above 100 hPa. */
export function pressureFigures(pressureHPa: number, isHigh: boolean): string {
  return String(Math.round(isHigh ? pressureHPa * 10 : pressureHPa) % 1000).padStart(3, '0');
}

export function heightFigures(pressureHPa: number, heightM: number | undefined): string {
  if (heightM === undefined) return '///';
  const meters = Math.round(heightM);
  if (pressureHPa === 1000 && meters < 0) return String(500 - meters).padStart(3, '0');
  if (meters < 0) throw new Error(`${heightM} m cannot be coded at ${pressureHPa} hPa`);
  const figures = pressureHPa >= 700 ? meters : Math.round(heightM / 10);
  return String(figures % 1000).padStart(3, '0');
}

/** Code table 3931: even tenths are positive, odd tenths negative; the neighbor's figure stands for both. */
export function temperatureFigures(temperatureC: number): string {
  const tenths = Math.round(Math.abs(temperatureC) * 10);
  const isNegative = temperatureC < 0 && tenths > 0;
  const isOdd = tenths % 2 === 1;
  const coded = isNegative ? (isOdd ? tenths : tenths + 1) : isOdd ? tenths - 1 : tenths;
  return String(coded).padStart(3, '0');
}

/** Code table 0777: tenths to 5.0, then 50 + whole degrees from 6 (56) to 49 (99). */
export function depressionFigures(depressionC: number | undefined): string {
  if (depressionC === undefined) return '//';
  const tenths = Math.max(0, Math.round(depressionC * 10));
  if (tenths < 55) return twoFigures(Math.min(50, tenths));
  const degrees = Math.round(depressionC);
  return degrees > 49 ? '//' : twoFigures(50 + degrees);
}

/** dddff from a whole speed in the report's unit: direction to 5 deg (360 for north), hundreds of the speed added to ddd. */
export function windFigures(directionDeg: number, speed: number): string {
  if (speed === 0) return '00000';
  const rounded = (Math.round(directionDeg / 5) * 5) % 360;
  const direction = (rounded === 0 ? 360 : rounded) + Math.floor(speed / 100);
  return `${String(direction).padStart(3, '0')}${twoFigures(speed % 100)}`;
}

export function twoFigures(value: number): string {
  return String(value).padStart(2, '0');
}
