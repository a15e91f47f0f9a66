/**
 * Sixty-four draws of the curtain: each is one way the air may be, so that sums over a leg get true low, middle and high
 * figures.
 *
 * A draw takes one source over each stretch of the route (probabilities are pooled so, and profiles never averaged), shifts
 * it in height (on an axis of equal cells) and, if it is a forecast, in place, and then sets every cell in cloud or not, liquid or frozen, and gives
 * liquid cells a temperature, water and drop size. Errors of a source are smooth over about 200 km and 1 km of height; what
 * is left is patchy: supercooled regions are 4.3 km wide on average (Cober et al. 1995).
 */
import {
  CELL_STATE,
  type DiagnosisSettings,
  type IcingColumns,
  INTENSITY,
  type WeatherColumns,
} from './columns.ts';
import { FREEZING_K } from './constants.ts';
import { type DrawFields, makeDrawFields, placeDraw } from './draw-fields.ts';
import { DRAW_COUNT, patchIndex, patchNumbers } from './draw-numbers.ts';
import { makeStrands, NEVER, type Strands } from './draw-strands.ts';
import { type DrawnGrowth, type GrowthTables, growDrawn, makeGrowthTables } from './drawn-growth.ts';
import { countIntensities, type DrawnIcing, emptyDrawnIcing, MARK, markOf } from './drawn-icing.ts';
import { medianVolumeDiameterM } from './droplets.ts';
import { fieldAt } from './error-fields.ts';
import { RAIN_WATER_KG_PER_M3 } from './growth-columns.ts';
import { intensityOfGrowth, screenedGrowthMps } from './intensity.ts';
import type { PointSources } from './point-sources.ts';
import { mixedDiameterM, RAIN_DIAMETER_M } from './rain.ts';
import type { WaterEvidence } from './water-evidence.ts';

/** Air changes from patch to patch of this size: m along the route, cells up. */
const PATCH_M = 5000;
const PATCH_CELLS = 2;

/** Whether cloud is liquid depends half on its body (all of it over 200 km), half on the patch (judgement). */
const SMOOTH_LIQUID = Math.SQRT1_2;

/**
 * Half of the variance of ln water is smooth and counts here; the other half changes from patch to patch, and an intensity
 * is a rate that lasts, so that patches of a minute do not make it (judgement).
 */
const SMOOTH_WATER = Math.SQRT1_2;

export interface DrawRequest {
  /** One column a source. */
  readonly columns: { readonly weather: WeatherColumns; readonly evidence: WaterEvidence };
  readonly sources: PointSources;
  /** One column a route point. */
  readonly pooled: { readonly weather: WeatherColumns; readonly icing: IcingColumns };
  readonly settings: DiagnosisSettings;
  /** Of each point along the route, m. */
  readonly distanceM: Float64Array;
}

/** Everything made once for all draws. */
interface Bench {
  readonly request: DrawRequest;
  readonly strands: Strands;
  readonly tables: GrowthTables;
  readonly fields: DrawFields;
  readonly patches: Float32Array;
  readonly drawn: DrawnIcing;
  /** Strand and shift that the draw takes over the point at hand. */
  readonly taken: { own: number; placed: number; upCells: number /** Of the cell at hand. */; met: number };
  readonly meets: { temperatureK: number; waterKgPerM3: number; diameterM: number };
  readonly growth: DrawnGrowth;
}

/**
 * Draws the curtain. The same request gives the same draws.
 *
 * @param request  See there; a cell that is not known in the pooled curtain stays without marks, whatever sources say.
 * @returns        Marks, growth and catch of every draw, and the probability of each intensity.
 * @throws         RangeError when the pooled curtain knows a cell that no source with weight there knows.
 * @source         Monte Carlo over the errors of error-spreads.ts; a normal copula, whose margins are the probabilities of
 *                 source-chance.ts.
 * @checked        tests/science/draw-icing.test.ts
 */
export function drawIcing(request: DrawRequest): DrawnIcing {
  const { icing } = request.pooled;
  const bench: Bench = {
    request,
    strands: makeStrands(request.columns, request.sources),
    tables: makeGrowthTables(request.pooled, request.settings),
    fields: makeDrawFields(request.distanceM, icing.axis),
    patches: patchNumbers(),
    drawn: emptyDrawnIcing(icing.axis, icing.columnCount, DRAW_COUNT),
    taken: { own: 0, placed: 0, upCells: 0, met: 0 },
    meets: { temperatureK: 0, waterKgPerM3: 0, diameterM: 0 },
    growth: { catchKgPerM2S: 0, freezingFraction: 0, growthMps: 0 },
  };
  for (let draw = 0; draw < DRAW_COUNT; draw += 1) {
    for (let point = 0; point < icing.columnCount; point += 1) drawColumn(bench, draw, point);
  }
  countIntensities(bench.drawn, icing.state);
  return bench.drawn;
}

function drawColumn(bench: Bench, draw: number, point: number): void {
  const { request } = bench;
  const { icing } = request.pooled;
  if (request.sources.firstEntry[point] === request.sources.firstEntry[point + 1]) return;
  placeDraw(bench.fields, draw, point);
  takeStrand(bench, point);
  const { cellCount } = icing.axis;
  const place: Place = { draw, point, cell: 0 };
  for (; place.cell < cellCount; place.cell += 1) {
    if (icing.state[point * cellCount + place.cell] === CELL_STATE.known) drawCell(bench, place);
  }
}

/**
 * One of the point's strands, by share; a forecast is shifted to what it has at another place of the route. What lies off the
 * route is not known: there the forecast stays in place.
 */
function takeStrand(bench: Bench, point: number): void {
  const { strands, fields, taken, request } = bench;
  const { errors } = request.sources;
  let own = request.sources.firstEntry[point]!;
  while (own + 1 < request.sources.firstEntry[point + 1]! && strands.cumulativeShare[own]! < fields.choice)
    own += 1;
  taken.own = own;
  taken.placed = own;
  if (errors.placeM[own]! > 0) {
    const toM = request.distanceM[point]! + fields.placeShift * errors.placeM[own]!;
    const isOnRoute = toM >= request.distanceM[0]! && toM <= request.distanceM.at(-1)!;
    const at = isOnRoute ? nearestPoint(request.distanceM, point, toM) : point;
    taken.placed = placedStrand(request.sources, at) ?? own;
  }
  const { cellDepthM } = request.pooled.icing.axis;
  const shiftM = fields.heightShift * errors.heightM[own]!;
  taken.upCells = cellDepthM > 0 ? Math.round(shiftM / cellDepthM) : 0;
}

function placedStrand({ firstEntry, errors }: PointSources, point: number): number | undefined {
  for (let strand = firstEntry[point]!; strand < firstEntry[point + 1]!; strand += 1) {
    if (errors.placeM[strand]! > 0) return strand;
  }
  return undefined;
}

function nearestPoint(distanceM: Float64Array, from: number, toM: number): number {
  let point = from;
  const away = (each: number) => Math.abs((distanceM[each] ?? Number.POSITIVE_INFINITY) - toM);
  while (away(point + 1) < away(point)) point += 1;
  while (away(point - 1) < away(point)) point -= 1;
  return point;
}

/** The strand's cell that this cell is drawn from: shifted, else in place, else that of a strand that knows it. */
function drawnFrom({ strands, taken, request }: Bench, point: number, cell: number): number {
  const { cellCount, isKnown } = strands;
  const shifted = cell - taken.upCells;
  if (shifted >= 0 && shifted < cellCount) {
    const index = taken.placed * cellCount + shifted;
    if (isKnown[index] === 1) return index;
  }
  if (isKnown[taken.own * cellCount + cell] === 1) return taken.own * cellCount + cell;
  const last = request.sources.firstEntry[point + 1]!;
  for (let strand = request.sources.firstEntry[point]!; strand < last; strand += 1) {
    if (isKnown[strand * cellCount + cell] === 1) return strand * cellCount + cell;
  }
  throw new RangeError(
    `draws: no source knows cell ${cell} of point ${point}, which the pooled curtain does`,
  );
}

/** The cell at hand; one object, moved from cell to cell. */
interface Place {
  draw: number;
  point: number;
  cell: number;
}

function drawCell(bench: Bench, place: Place): void {
  const { strands, fields, drawn, meets, taken, request } = bench;
  const from = drawnFrom(bench, place.point, place.cell);
  const cloudBelow = strands.cloudBelow[from]!;
  const isFalling = strands.fallingBelow[from]! > fields.rain;
  const hasDrops = isFalling || strands.drizzleBelow[from]! > fields.rain;
  if (cloudBelow <= NEVER && !hasDrops) return;
  taken.met = Math.floor(from / strands.cellCount);
  const errorK = request.sources.errors.temperatureK[taken.met]!;
  const warmerK = errorK === 0 ? 0 : errorK * fieldAt(fields.basis, fields.temperature, place.cell);
  meets.temperatureK = temperatureInPlaceK(bench, place, from) + warmerK;
  if (meets.temperatureK >= FREEZING_K) return;
  const isRain = strands.rainBelow[from]! > fields.rain;
  const cloudNumber = isRain ? Number.NaN : cloudNumberAt(bench, place);
  const isInCloud = cloudNumber < strands.liquidCloudBelow[from]! && isLiquid(bench, place, from);
  const isIce = isFalling || isInCloud;
  if (!(cloudNumber < cloudBelow) && !isIce) return;
  const index = (place.point * strands.cellCount + place.cell) * DRAW_COUNT + place.draw;
  if (!isIce) {
    drawn.marks[index] = markOf(MARK.moist, INTENSITY.none);
    return;
  }
  setCloud(bench, place.cell, from, isRain || isInCloud);
  if (isFalling) addFallingDrops(bench, place.cell, from, isRain);
  growDrawn(bench.tables, place.point * strands.cellCount + place.cell, meets, bench.growth);
  writeIce(bench, index, hasDrops);
}

/** Only water is shifted: the error of temperature at a place holds that of its place already. */
function temperatureInPlaceK({ strands, taken }: Bench, { cell }: Place, from: number): number {
  const inPlace = taken.own * strands.cellCount + cell;
  return strands.temperatureK[strands.isKnown[inPlace] === 1 ? inPlace : from]!;
}

function cloudNumberAt(
  { fields, strands, taken, patches, request }: Bench,
  { draw, point, cell }: Place,
): number {
  const smooth = strands.smoothPart[taken.met]!;
  const along = Math.floor(request.distanceM[point]! / PATCH_M);
  const patch = patches[patchIndex(draw, along, Math.floor(cell / PATCH_CELLS))]!;
  const rough = Math.sqrt(1 - smooth * smooth) * patch;
  return smooth === 0 ? rough : rough - smooth * fieldAt(fields.basis, fields.humidity, cell);
}

/** Patches of liquid are others than those of cloud: their numbers are taken from another height of the table. */
const LIQUID_PATCHES_UP = 1000;

function isLiquid(
  { fields, strands, patches, request }: Bench,
  { draw, point, cell }: Place,
  from: number,
): boolean {
  const along = Math.floor(request.distanceM[point]! / PATCH_M);
  const up = LIQUID_PATCHES_UP + Math.floor(cell / PATCH_CELLS);
  const number = SMOOTH_LIQUID * fields.liquid + SMOOTH_LIQUID * patches[patchIndex(draw, along, up)]!;
  return number < strands.liquidBelow[from]!;
}

/** What the error of water makes of an amount in this draw. */
function waterFactor({ fields, taken, request }: Bench, cell: number): number {
  const lnWater = SMOOTH_WATER * request.sources.errors.lnWater[taken.met]!;
  return lnWater === 0 ? 1 : Math.exp(lnWater * fieldAt(fields.basis, fields.water, cell));
}

function setCloud(bench: Bench, cell: number, from: number, isThere: boolean): void {
  const { strands, fields, meets, taken, request } = bench;
  meets.waterKgPerM3 = 0;
  if (!isThere) return;
  const lnWater = SMOOTH_WATER * request.sources.errors.lnWater[taken.met]!;
  const cloudKgPerM3 = Math.min(
    strands.mostWaterKgPerM3[from]!,
    strands.waterKgPerM3[from]! * waterFactor(bench, cell),
  );
  /** Diameter goes with the cube root of water already; what is left of its error is that of droplet number. */
  const lnDiameter = Math.sqrt(
    Math.max(0, request.sources.errors.lnDiameter[taken.met]! ** 2 - (lnWater / 3) ** 2),
  );
  meets.waterKgPerM3 = cloudKgPerM3;
  meets.diameterM =
    medianVolumeDiameterM(cloudKgPerM3, request.settings.dropletNumberPerM3) *
    Math.exp(lnDiameter * fields.diameter);
}

/** A model's rain beside the cloud of the draw; drops are those of freezing rain, or of cloud and drizzle together. */
function addFallingDrops(bench: Bench, cell: number, from: number, isRain: boolean): void {
  const { strands, meets } = bench;
  const cloudKgPerM3 = meets.waterKgPerM3;
  const rainKgPerM3 = strands.rainWaterKgPerM3[from]! * waterFactor(bench, cell);
  meets.waterKgPerM3 = cloudKgPerM3 + rainKgPerM3;
  if (isRain) {
    meets.waterKgPerM3 = Math.max(meets.waterKgPerM3, RAIN_WATER_KG_PER_M3);
    meets.diameterM = RAIN_DIAMETER_M;
  } else if (rainKgPerM3 > 0) meets.diameterM = mixedDiameterM(cloudKgPerM3, meets.diameterM, rainKgPerM3);
}

function writeIce({ drawn, growth }: Bench, index: number, hasLargeDrops: boolean): void {
  drawn.growthMps[index] = growth.growthMps;
  drawn.catchKgPerM2S[index] = growth.catchKgPerM2S;
  const byRate = intensityOfGrowth(screenedGrowthMps(growth.catchKgPerM2S, growth.freezingFraction));
  const intensity = Math.max(hasLargeDrops ? INTENSITY.light : INTENSITY.trace, byRate);
  const drops = hasLargeDrops ? MARK.largeDrops : 0;
  drawn.marks[index] = markOf(MARK.moist | MARK.ice | drops, intensity);
}
