/** Real winter ascents through the whole path to bands, beside the levels of the file itself. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { readIgra } from '../../worker/formats/igra.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import type { BriefFeature } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { relativeHumidityRatioFromDewPoint } from '../../worker/science/humidity.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const FILE = join(process.env.RIMEWAY_DATA_DIR ?? '', 'soundings/igra2/AUM00011035-20150123-20150228.txt');
const soundings = readIgra(readFileSync(FILE, 'latin1')).soundings;

/** ICAO standard atmosphere below 11 km, typed from its definition: feet of an isobaric level. */
const pressureAltitudeFt = (pressurePa: number) =>
  (44330.77 * (1 - (pressurePa / 101_325) ** 0.190263)) / 0.3048;

interface Level {
  readonly altitudeFt: number;
  readonly temperatureC: number;
  readonly humidityPct: number;
}

function levelsOf({ levels }: Sounding): Level[] {
  return Array.from(levels.pressurePa, (pressurePa, n) => ({
    altitudeFt: pressureAltitudeFt(pressurePa),
    temperatureC: levels.temperatureK[n]! - 273.15,
    humidityPct: 100 * relativeHumidityRatioFromDewPoint(levels.temperatureK[n]!, levels.dewPointK[n]!),
  })).filter(
    ({ altitudeFt, humidityPct }) => altitudeFt > 2000 && altitudeFt < 20_000 && Number.isFinite(humidityPct),
  );
}

async function featuresAt(sounding: Sounding): Promise<readonly BriefFeature[]> {
  const stores = createMemoryStores();
  await stores.soundings.put('demo', [sounding], 0);
  const { latDeg, lonDeg } = sounding;
  const request: BriefRequest = {
    route: {
      type: 'LineString',
      coordinates: [
        [lonDeg, latDeg],
        [lonDeg + 1, latDeg],
      ],
    },
    departure: { atUtc: new Date(sounding.timeMs).toISOString() },
    aircraft: 'generic-fluid-turboprop',
  };
  return (await makeBrief(stores, request, { operators: ['demo'] })).features;
}

function bandAt(features: readonly BriefFeature[], altitudeFt: number) {
  return features
    .flatMap(({ properties }) => (properties.kind === 'icing-band' ? [properties] : []))
    .find((band) => band.fromNm === 0 && band.lowerFt <= altitudeFt && altitudeFt < band.upperFt);
}

describe('seventy-six winter ascents of Vienna', () => {
  it('give ice at nearly saturated levels between 0 and -12 degrees under a top that is not cold', async () => {
    let compared = 0;
    for (const sounding of soundings) {
      const levels = levelsOf(sounding);
      const moist = levels.filter(({ humidityPct }) => humidityPct >= 85);
      const hasWarmTop = moist.every(({ temperatureC }) => temperatureC > -12);
      const icy = levels.filter(
        (level) => level.humidityPct >= 97 && level.temperatureC < -1 && level.temperatureC > -12,
      );
      if (!hasWarmTop || icy.length === 0) continue;
      const features = await featuresAt(sounding);
      for (const level of icy) {
        const band = bandAt(features, level.altitudeFt);
        const where = `${new Date(sounding.timeMs).toISOString()} ${Math.round(level.altitudeFt)} ft`;
        if (band?.state !== 'known') continue;
        expect(band.probability, where).toBeGreaterThanOrEqual(0.4);
        expect(band.intensity, where).not.toBe('none');
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThan(10);
  });

  it('give none at dry levels, and no band of no ice where the ascent has no humidity', async () => {
    let compared = 0;
    for (const sounding of soundings) {
      const features = await featuresAt(sounding);
      for (const level of levelsOf(sounding)) {
        const band = bandAt(features, level.altitudeFt);
        const isDryAround = levelsOf(sounding)
          .filter(({ altitudeFt }) => Math.abs(altitudeFt - level.altitudeFt) < 1000)
          .every(({ humidityPct }) => humidityPct < 60);
        if (!isDryAround || band?.state !== 'known') continue;
        if (band.largeDrops === 'none') expect(band.intensity).toBe('none');
        compared += 1;
      }
    }
    expect(soundings).toHaveLength(76);
    expect(compared).toBeGreaterThan(300);
  });
});
