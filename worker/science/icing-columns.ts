/** Making and clearing the arrays of icing. */
import { type AltitudeAxis, CELL_STATE, type IcingColumns, UNKNOWN_CODE } from './columns.ts';

/** The arrays of numbers of IcingColumns, all of which are NaN in a cell that is not known. */
export const ICING_AMOUNTS = [
  'cloudProbability',
  'icingProbability',
  'liquidWaterKgPerM3',
  'medianVolumeDiameterM',
  'collectionEfficiency',
  'freezingFraction',
  'wingGrowthMps',
  'rodGrowthMps',
  'wingCatchKgPerM2S',
  'envelopeRatio',
  'largeDropProbability',
] as const satisfies readonly (keyof IcingColumns)[];

/** The arrays of codes, all of which are UNKNOWN_CODE in a cell that is not known. */
export const ICING_CODES = [
  'intensity',
  'iceKind',
  'largeDrops',
] as const satisfies readonly (keyof IcingColumns)[];

/**
 * Icing of which nothing is known: every cell noData, NaN and UNKNOWN_CODE.
 *
 * @param axis         Cells.
 * @param columnCount  Number of columns.
 * @returns            New arrays.
 * @throws             never.
 */
export function emptyIcingColumns(axis: AltitudeAxis, columnCount: number): IcingColumns {
  const count = columnCount * axis.cellCount;
  const amounts = () => new Float32Array(count).fill(Number.NaN);
  const codes = () => new Uint8Array(count).fill(UNKNOWN_CODE);
  return {
    columnCount,
    axis,
    cloudProbability: amounts(),
    icingProbability: amounts(),
    liquidWaterKgPerM3: amounts(),
    medianVolumeDiameterM: amounts(),
    collectionEfficiency: amounts(),
    freezingFraction: amounts(),
    wingGrowthMps: amounts(),
    rodGrowthMps: amounts(),
    wingCatchKgPerM2S: amounts(),
    intensity: codes(),
    iceKind: codes(),
    largeDrops: codes(),
    largeDropProbability: amounts(),
    envelopeRatio: amounts(),
    state: new Uint8Array(count).fill(CELL_STATE.noData),
  };
}
