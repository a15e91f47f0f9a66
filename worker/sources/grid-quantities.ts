/** Which GRIB2 fields an hour keeps, and what they become. */
import type { EnsembleMember, Grib2Level, Grib2Parameter } from '../formats/grib2/field.ts';
import { GRAVITY_MPS2 } from '../science/constants.ts';
import { isTotalCondensate } from './grid-basis.ts';
import type { GridQuantity } from './ports.ts';

/** What is known of a field before its values are decoded. */
export interface FieldIdentity {
  readonly centre: number;
  readonly generatingProcess: number;
  readonly parameter: Grib2Parameter;
  readonly level: Grib2Level;
  readonly secondLevel: Grib2Level | undefined;
  readonly productTemplate: number;
  readonly member: EnsembleMember | undefined;
  readonly referenceTimeMs: number;
}

/** What a field says in place of the quantity it is kept for; it is turned when the hour is whole. */
export type SliceForm =
  | 'as-named'
  | 'specific-humidity'
  | 'dew-point'
  | 'dew-point-depression'
  | 'geometric-velocity'
  | 'total-condensate';

/** Where a field lies: an isobaric level, Pa; a level of the model's own, by its number; both null at the surface. */
export interface SlicePlace {
  readonly levelPa: number | null;
  readonly hybridLevel: number | null;
}

/** A slice that a field fills. */
export interface WantedSlice extends SlicePlace {
  readonly quantity: GridQuantity;
  readonly form: SliceForm;
  /** A value in the file's unit, in SI; NaN for a code without a meaning here. */
  readonly toSi: (value: number) => number;
}

/** Highest isobaric level kept, Pa: cloud tops that matter lie below it. */
export const HIGHEST_LEVEL_PA = 10_000;

/** Code table 4.5. */
const SURFACE = { ground: 1, isobaric: 100, aboveGround: 103, hybrid: 105, generalHeight: 150 } as const;

const NCEP = 7;

/** Parameter `category.number` of discipline 0, with the height above ground, m, after an @; quantity, factor, form. */
type Row = readonly [parameter: string, quantity: GridQuantity, factor?: number, form?: SliceForm];

const PERCENT = 0.01;

/** On isobaric levels and on the model's own. Code tables 4.1 and 4.2; numbers from 192 on are NCEP's own. */
const ON_LEVELS: readonly Row[] = [
  ['0.0', 'temperatureK'],
  ['1.0', 'relativeHumidityRatio', 1, 'specific-humidity'],
  ['0.6', 'relativeHumidityRatio', 1, 'dew-point'],
  ['0.7', 'relativeHumidityRatio', 1, 'dew-point-depression'],
  ['1.1', 'relativeHumidityRatio', PERCENT],
  ['3.5', 'geopotentialHeightM'],
  ['3.4', 'geopotentialHeightM', 1 / GRAVITY_MPS2],
  ['2.2', 'windEastMps'],
  ['2.3', 'windNorthMps'],
  ['2.8', 'verticalVelocityPaPerS'],
  ['2.9', 'verticalVelocityPaPerS', 1, 'geometric-velocity'],
  ['1.22', 'condensateKgPerKg'],
  ['1.83', 'condensateKgPerKg'],
  ['1.149', 'condensateKgPerKg'],
  ['1.21', 'condensateKgPerKg', 1, 'total-condensate'],
  ['6.195', 'condensateKgPerKg', 1, 'total-condensate'],
  ['1.24', 'rainKgPerKg'],
  ['1.85', 'rainKgPerKg'],
  ['1.23', 'cloudIceKgPerKg'],
  ['1.82', 'cloudIceKgPerKg'],
  ['1.84', 'cloudIceKgPerKg'],
  ['1.25', 'snowKgPerKg'],
  ['1.86', 'snowKgPerKg'],
  ['1.32', 'graupelKgPerKg'],
  ['6.1', 'cloudFractionRatio', PERCENT],
  ['6.22', 'cloudFractionRatio', PERCENT],
  ['6.32', 'cloudFractionRatio'],
];

const ON_MODEL_LEVELS: readonly Row[] = [...ON_LEVELS, ['3.0', 'pressurePa']];

const AT_GROUND: readonly Row[] = [
  ['3.0', 'surfacePressurePa'],
  ['3.5', 'surfaceHeightM'],
  ['3.4', 'surfaceHeightM', 1 / GRAVITY_MPS2],
  ['3.6', 'surfaceHeightM'],
  ['1.33', 'rainRatio'],
  ['1.34', 'freezingRainRatio'],
  ['1.35', 'icePelletsRatio'],
  ['1.36', 'snowRatio'],
  ['1.192', 'rainRatio'],
  ['1.193', 'freezingRainRatio'],
  ['1.194', 'icePelletsRatio'],
  ['1.195', 'snowRatio'],
];

const ABOVE_GROUND: readonly Row[] = [
  ['0.0@2', 'screenTemperatureK'],
  ['1.0@2', 'screenRelativeHumidityRatio', 1, 'specific-humidity'],
  ['0.6@2', 'screenRelativeHumidityRatio', 1, 'dew-point'],
  ['0.7@2', 'screenRelativeHumidityRatio', 1, 'dew-point-depression'],
  ['1.1@2', 'screenRelativeHumidityRatio', PERCENT],
  ['2.2@10', 'screenWindEastMps'],
  ['2.3@10', 'screenWindNorthMps'],
];

/** Discipline 2, land: height of the model's terrain, m. */
const TERRAIN_HEIGHT = '0.7';

/** Discipline 0: type of precipitation by code table 4.201. */
const PRECIPITATION_TYPE = '1.19';
/** Codes of each kind; 0 is none, and any other (mixed, hail) does not say which of these it is. */
const KINDS_OF_TYPE: readonly (readonly [quantity: GridQuantity, codes: readonly number[]])[] = [
  ['rainRatio', [1, 2, 7, 11]],
  ['freezingRainRatio', [3, 12]],
  ['icePelletsRatio', [8]],
  ['snowRatio', [5, 6, 7, 9]],
];
const TYPE_CODES: ReadonlySet<number> = new Set([0, ...KINDS_OF_TYPE.flatMap(([, codes]) => codes)]);

/** The slices a field fills: none when the hour does not keep it, several for a code of several kinds. */
export function wantedSlices(field: FieldIdentity): readonly WantedSlice[] {
  const { parameter, level, productTemplate } = field;
  const isInstant = productTemplate === 0 || (productTemplate === 1 && isControl(field.member));
  const place = placeOf(field);
  if (!isInstant || place === undefined) return [];
  const key = `${parameter.category}.${parameter.number}`;
  if (parameter.discipline === 2) {
    const isTerrain = key === TERRAIN_HEIGHT && level.type === SURFACE.ground;
    return isTerrain ? [sliceOf(['', 'surfaceHeightM'], place, field)] : [];
  }
  if (parameter.discipline !== 0 || (parameter.number >= 192 && field.centre !== NCEP)) return [];
  if (key === PRECIPITATION_TYPE && level.type === SURFACE.ground) return precipitationSlices(place);
  const { rows, suffix } = tableOf(level);
  const row = rows.find(([name]) => name === key + suffix);
  return row === undefined ? [] : [sliceOf(row, place, field)];
}

/** Members are forecasts of their own: of an ensemble the unperturbed one is kept, so that no hour mixes two. */
function isControl(member: EnsembleMember | undefined): boolean {
  return member !== undefined && (UNPERTURBED.has(member.type) || member.number === 0);
}

/** Code table 4.6. */
const UNPERTURBED: ReadonlySet<number> = new Set([0, 1]);

function sliceOf(
  [, quantity, factor = 1, form = 'as-named']: Row,
  place: SlicePlace,
  field: FieldIdentity,
): WantedSlice {
  const isTotal = quantity === 'condensateKgPerKg' && isTotalCondensate(field);
  return {
    ...place,
    quantity,
    form: isTotal ? 'total-condensate' : form,
    toSi: factor === 1 ? (value) => value : (value) => value * factor,
  };
}

function precipitationSlices(place: SlicePlace): WantedSlice[] {
  return KINDS_OF_TYPE.map(([quantity, codes]) => ({
    ...place,
    quantity,
    form: 'as-named',
    toSi: (code) => (TYPE_CODES.has(code) ? Number(codes.includes(code)) : Number.NaN),
  }));
}

function tableOf({ type, value }: Grib2Level): { rows: readonly Row[]; suffix: string } {
  if (type === SURFACE.isobaric) return { rows: ON_LEVELS, suffix: '' };
  if (type === SURFACE.ground) return { rows: AT_GROUND, suffix: '' };
  if (type === SURFACE.aboveGround) return { rows: ABOVE_GROUND, suffix: `@${value}` };
  return { rows: ON_MODEL_LEVELS, suffix: '' };
}

/**
 * Undefined for surfaces and layers that are not kept. A layer of the model's own is named by its upper face; faces by themselves
 * (vertical motion and heights between layers) are not kept.
 */
function placeOf({ level, secondLevel }: FieldIdentity): SlicePlace | undefined {
  const { type, value } = level;
  const isLayer = secondLevel !== undefined;
  const isModelLayer = isLayer && secondLevel.type === type && secondLevel.value === value + 1;
  if (type === SURFACE.generalHeight) return isModelLayer ? { levelPa: null, hybridLevel: value } : undefined;
  if (type === SURFACE.hybrid && (!isLayer || isModelLayer)) {
    return Number.isInteger(value) ? { levelPa: null, hybridLevel: value } : undefined;
  }
  if (isLayer) return undefined;
  if (type === SURFACE.isobaric) {
    return value >= HIGHEST_LEVEL_PA ? { levelPa: value, hybridLevel: null } : undefined;
  }
  const isSurface = type === SURFACE.ground || type === SURFACE.aboveGround;
  return isSurface ? { levelPa: null, hybridLevel: null } : undefined;
}
