/** Looking levels up in what a reader gave, in the units people read. */
import { inspectSounding } from '../../worker/formats/inspect-sounding.ts';
import type { Sounding, SoundingFile } from '../../worker/formats/sounding.ts';

/** The levels as `[hPa, gpm, degC, dew point degC, deg, kt]`, null where missing; those without any value are left out. */
export function rows(sounding: Sounding): (number | null)[][] {
  return allRows(sounding).filter(([, ...values]) => values.some((value) => value !== null));
}

/** Pressures, hPa, of the levels without any value: what lies between their neighbors is unknown. */
export function blanks(sounding: Sounding): (number | null)[] {
  return allRows(sounding)
    .filter(([, ...values]) => values.every((value) => value === null))
    .map(([hPa]) => hPa ?? null);
}

function allRows(sounding: Sounding): (number | null)[][] {
  return inspectSounding(sounding).levels.map((level) => [
    level.pressureHPa,
    level.heightM,
    level.temperatureC,
    level.dewPointC,
    level.windDirectionDeg,
    level.windSpeedKt,
  ]);
}

/** The row of one pressure; throws when the ascent has no such level. */
export function row(sounding: Sounding, pressureHPa: number): (number | null)[] {
  const found = rows(sounding).find(([hPa]) => hPa === pressureHPa);
  if (found === undefined) throw new Error(`no level at ${pressureHPa} hPa`);
  return found;
}

/** The one ascent of a file; throws when it holds none or several. */
export function only(file: SoundingFile): Sounding {
  const [sounding, ...others] = file.soundings;
  if (sounding === undefined || others.length > 0)
    throw new Error(
      `${file.soundings.length} ascents where one is expected: ${JSON.stringify(file.rejected)}`,
    );
  return sounding;
}
