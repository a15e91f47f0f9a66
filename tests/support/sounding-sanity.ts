/** What holds of every ascent a reader may ever return, whatever the text was. */
import type { SoundingFile } from '../../worker/formats/sounding.ts';

/** Throws with the first thing that does not hold; gives the count of levels seen. */
export function checkSanity(file: SoundingFile, text: string): number {
  const lineCount = text.split(/\r\n|\n|\r/).length;
  const told = [...file.rejected, ...file.soundings.flatMap(({ rejected }) => rejected)];
  for (const { line, reason } of told) {
    if (!(line >= 1 && line <= lineCount) || reason === '')
      throw new Error(`rejection at ${line}: ${reason}`);
  }
  let count = 0;
  for (const { levels } of file.soundings) {
    for (let index = 0; index < levels.levelCount; index += 1) {
      count += 1;
      const pressurePa = levels.pressurePa[index]!;
      const previousPa = levels.pressurePa[index - 1] ?? Number.POSITIVE_INFINITY;
      within('pressure order', previousPa - pressurePa, Number.MIN_VALUE, Number.POSITIVE_INFINITY);
      within('pressure', pressurePa, 100, 110_000);
      missingOrWithin('height', levels.geopotentialHeightM[index]!, -500, 50_000);
      missingOrWithin('temperature', levels.temperatureK[index]!, 173.149, 333.151);
      missingOrWithin(
        'supersaturation',
        levels.dewPointK[index]! - levels.temperatureK[index]!,
        -150,
        0.5001,
      );
      missingOrWithin('direction', levels.windDirectionDeg[index]!, 0, 360);
      missingOrWithin('speed', levels.windSpeedMps[index]!, 0, 150);
    }
  }
  return count;
}

function missingOrWithin(name: string, value: number, lowest: number, highest: number): void {
  if (!Number.isNaN(value)) within(name, value, lowest, highest);
}

function within(name: string, value: number, lowest: number, highest: number): void {
  if (!(value >= lowest && value <= highest))
    throw new Error(`${name} ${value} outside ${lowest}..${highest}`);
}
