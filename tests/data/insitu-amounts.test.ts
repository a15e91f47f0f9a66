/**
 * How much water and how large the drops, in the wet layers of research flights. Temperature and dew point say little of
 * either, and the constants held against the diagnosis here are chosen on the very measurements they are scored on.
 */
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { bestConstant, logRms, rankCorrelation, shareWithinFactor } from '../support/amount-scores.ts';
import { bootstrapInterval, groupsBy } from '../support/bootstrap.ts';
import { type DiagnosedLayer, diagnoseFlights, readFlights } from '../support/insitu-diagnosis.ts';
import { figure, printTable, span } from '../support/print-table.ts';
import { mean } from '../support/skill-scores.ts';

const SEED = 19950321;

/** Fewer droplets than this are no cloud of droplets whose mean size means anything, 1/cm3. */
const LEAST_DROPLETS = 5;

/** Where the diagnosis speaks of larger drops they are rain or drizzle, which a droplet probe does not size, um. */
const LARGEST_DROPLET_UM = 50;

/** Median volume diameter over the diameter of mean volume, of a gamma spectrum of shape 2: (3.672 + 2) / 60^(1/3). */
const MEDIAN_OVER_MEAN_VOLUME = 5.672 / Math.cbrt(60);

/** An amount as it was said and measured. */
interface Amount {
  readonly flight: string;
  readonly profile: string;
  readonly said: number;
  readonly measured: number;
}

/** How an amount is shown: decimals of the constant, and the factor that counts as near. */
interface Show {
  readonly decimals: number;
  readonly factor: number;
}

const said = (rows: readonly Amount[]) => rows.map((row) => row.said);
const measured = (rows: readonly Amount[]) => rows.map((row) => row.measured);
const correlation = (rows: readonly Amount[]) => rankCorrelation(said(rows), measured(rows));
const error = (rows: readonly Amount[]) => logRms(said(rows), measured(rows));
const errorOfConstant = (rows: readonly Amount[]) =>
  logRms(new Array(rows.length).fill(bestConstant(measured(rows))), measured(rows));
const bias = (rows: readonly Amount[]) => mean(said(rows)) / mean(measured(rows));

let wet: DiagnosedLayer[] = [];
let water: Amount[] = [];
let diameter: Amount[] = [];

/** The diameter of the mean volume of droplets: g/m3 over 1/cm3 is 1e-12 m3 of water each. */
const meanVolumeDiameterUm = ({ dropletWaterGPerM3, dropletsPerCm3 }: DiagnosedLayer) =>
  100 * Math.cbrt((6 * dropletWaterGPerM3) / (Math.PI * dropletsPerCm3));

beforeAll(() => {
  const folder = join(process.env.RIMEWAY_DATA_DIR ?? '', 'reports/insitu');
  wet = diagnoseFlights(readFlights(folder)).filter(({ observed }) => observed === true);
  // Where the diagnosis gives next to no chance of water it gives no amount.
  const given = wet.filter(({ diagnosedWaterGPerM3 }) => diagnosedWaterGPerM3 > 0);
  water = given.map((layer) => ({
    ...layer,
    said: layer.diagnosedWaterGPerM3,
    measured: layer.liquidWaterGPerM3,
  }));
  diameter = given
    .filter(({ dropletsPerCm3 }) => dropletsPerCm3 >= LEAST_DROPLETS)
    .filter(({ diagnosedDiameterUm }) => diagnosedDiameterUm < LARGEST_DROPLET_UM)
    .map((layer) => ({
      ...layer,
      said: layer.diagnosedDiameterUm / MEDIAN_OVER_MEAN_VOLUME,
      measured: meanVolumeDiameterUm(layer),
    }));
  printScores();
});

function printScores(): void {
  const row = (name: string, rows: readonly Amount[], { decimals, factor }: Show) => [
    name,
    rows.length,
    figure(error(rows)),
    `${figure(errorOfConstant(rows))} (${figure(bestConstant(measured(rows)), decimals)})`,
    figure(correlation(rows)),
    figure(bias(rows)),
    figure(shareWithinFactor(said(rows), measured(rows), factor)),
  ];
  const intervals = (rows: readonly Amount[]) =>
    span(
      bootstrapInterval(
        groupsBy(rows, ({ profile }) => profile),
        correlation,
        SEED,
      ),
    );
  const flights = (name: string, rows: readonly Amount[], show: Show) => [
    row(`${name}, all (rank correlation 95 % by profile ${intervals(rows)})`, rows, show),
    ...groupsBy(rows, ({ flight }) => flight).map((some) => row(`${name}, ${some[0]!.flight}`, some, show)),
  ];
  printTable(
    'Amounts in wet layers: water in g/m3, diameter of mean volume in um',
    [
      '',
      'layers',
      'log-RMS',
      'log-RMS of best constant',
      'rank correlation',
      'mean over measured',
      'within a factor of 3 (diameter 1.5)',
    ],
    [
      ...flights('water', water, { decimals: 3, factor: 3 }),
      ...flights('diameter', diameter, { decimals: 1, factor: 1.5 }),
    ],
  );
}

describe('liquid water in the wet layers of five research flights', () => {
  it('is given in all but a few', () => {
    expect(wet).toHaveLength(275);
    expect(water.length).toBeGreaterThanOrEqual(272);
  });

  it('is within a factor of three in three of four layers, and within a third on average', () => {
    expect(shareWithinFactor(said(water), measured(water), 3)).toBeGreaterThanOrEqual(0.75);
    expect(bias(water)).toBeGreaterThan(0.67);
    expect(bias(water)).toBeLessThan(1.5);
  });

  it('is ordered better than by chance, also in other draws of profiles', () => {
    const { low } = bootstrapInterval(
      groupsBy(water, ({ profile }) => profile),
      correlation,
      SEED,
    );
    expect(low).toBeGreaterThan(0);
  });

  it('is missed by less than a factor of e on average, though a constant does as well', () => {
    expect(error(water)).toBeLessThan(1);
  });
});

describe('droplets where the probe counted at least five in a cubic centimeter', () => {
  it('have a diameter within a quarter of the measured one on average', () => {
    expect(diameter.length).toBeGreaterThan(100);
    expect(bias(diameter)).toBeGreaterThan(0.75);
    expect(bias(diameter)).toBeLessThan(1.25);
  });
});
