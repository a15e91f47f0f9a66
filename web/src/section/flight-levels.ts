/** Where flight levels lie on an axis of indicated altitude. */

/**
 * Pressure altitude of a pressure in the lower layer of the standard atmosphere, ft.
 *
 * @source ICAO Doc 7488, troposphere: exponent 0.190263, 44330.77 m.
 */
function pressureAltitudeFt(pressureHPa: number): number {
  return (44330.77 * (1 - (pressureHPa / 1013.25) ** 0.190263)) / 0.3048;
}

/** An altimeter set to Q shows the pressure altitude less the pressure altitude of Q itself. */
export function indicatedFtOfFlightLevel(flightLevel: number, altimeterSettingHPa: number): number {
  return flightLevel * 100 - pressureAltitudeFt(altimeterSettingHPa);
}

/** Every 20 from FL 20 up that lies inside the range. */
export function flightLevelTicks(
  range: { readonly lowestFt: number; readonly highestFt: number },
  altimeterSettingHPa: number,
  everyFlightLevels: number,
): { readonly flightLevel: number; readonly indicatedFt: number }[] {
  const ticks = [];
  for (let flightLevel = everyFlightLevels; flightLevel <= 600; flightLevel += everyFlightLevels) {
    const indicatedFt = indicatedFtOfFlightLevel(flightLevel, altimeterSettingHPa);
    if (indicatedFt > range.highestFt) break;
    if (indicatedFt >= range.lowestFt) ticks.push({ flightLevel, indicatedFt });
  }
  return ticks;
}
