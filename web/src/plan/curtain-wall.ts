/** The curtain as it stands over the leg when the map is tilted: the bands of the cross-section, each once. */
import type { Feature, FeatureCollection, Polygon } from 'geojson';
import type { BandFeature, Brief, RoutePoint } from '../contract.ts';
import { featuresOf } from '../contract.ts';
import { lookOf, patternsOf } from '../look.ts';
import { altitudeRange } from '../section/scales.ts';
import { type Stretch, stripAlong } from './along-leg.ts';
import type { Level } from './plan-bands.ts';

/** The wall is drawn about this high for its length (judgement: steep enough to read, low enough to see behind). */
const HEIGHT_PER_LENGTH = 0.26;
const WIDTH_PER_LENGTH = 0.012;
const M_PER_NM = 1852;
const M_PER_FT = 0.3048;
export const RULE_STEP_FT = 5000;

/** Everything of one brief that does not change with what is considered. */
export interface Wall {
  readonly points: readonly RoutePoint[];
  readonly lowestFt: number;
  readonly highestFt: number;
  /** Heights are drawn so many times as large as distances. */
  readonly exaggeration: number;
  readonly halfWidthNm: number;
}

export function wallOf(brief: Brief): Wall {
  const { leg } = brief.brief;
  const { lowestFt, highestFt } = altitudeRange(brief);
  const wholeM = (highestFt - lowestFt) * M_PER_FT;
  const exaggeration = Math.max(1, Math.round((HEIGHT_PER_LENGTH * leg.distanceNm * M_PER_NM) / wholeM));
  const halfWidthNm = (leg.distanceNm * WIDTH_PER_LENGTH) / 2;
  return { points: leg.points, lowestFt, highestFt, exaggeration, halfWidthNm };
}

/** @returns the height to draw an altitude at, m over the map's plane, which is the foot of the wall. */
export function drawnM({ lowestFt, highestFt, exaggeration }: Wall, altitudeFt: number): number {
  const insideFt = Math.min(highestFt, Math.max(lowestFt, altitudeFt));
  return (insideFt - lowestFt) * M_PER_FT * exaggeration;
}

/** One name a look, of the one picture that the wall is papered with there. */
export function pictureName(paints: readonly string[]): string {
  return `wall ${paints.map((paint) => paint.replace('paint-', '')).join(' ')}`;
}

const UNKNOWN_PICTURE = pictureName(['paint-unknown']);

/** Every band that reaches into the cross-section's range, and under them all, thinner, what none covers: unknown. */
export function wallFeatures(brief: Brief, wall: Wall): FeatureCollection<Polygon> {
  const bands = featuresOf(brief, 'icing-band').filter(
    ({ properties }) => properties.upperFt > wall.lowestFt && properties.lowerFt < wall.highestFt,
  );
  return {
    type: 'FeatureCollection',
    features: [...bands.map((band) => bandPart(band, wall)), backing(wall), ...groundParts(brief, wall)],
  };
}

function bandPart({ id, properties }: BandFeature, wall: Wall): Feature<Polygon> {
  return part(wall, properties, {
    featureId: id,
    picture: pictureName(patternsOf(lookOf(properties))),
    baseM: drawnM(wall, properties.lowerFt),
    topM: drawnM(wall, properties.upperFt),
  });
}

/** Ground stands out of the wall on both sides: below its height there is no air to be iced. */
const GROUND_WIDTH = 1.1;
export const GROUND_PAINTS = ['paint-ground'] as const;

function groundParts(brief: Brief, wall: Wall): Feature<Polygon>[] {
  const widened = { ...wall, halfWidthNm: GROUND_WIDTH * wall.halfWidthNm };
  return featuresOf(brief, 'terrain')
    .filter(({ properties }) => properties.heightFt > wall.lowestFt)
    .map(({ properties }) =>
      part(widened, properties, {
        picture: pictureName(GROUND_PAINTS),
        baseM: 0,
        topM: drawnM(wall, properties.heightFt),
      }),
    );
}

const BACKING_WIDTH = 0.6;

function backing(wall: Wall): Feature<Polygon> {
  const whole = { fromNm: 0, toNm: wall.points.at(-1)?.distanceNm ?? 0 };
  const properties = { picture: UNKNOWN_PICTURE, baseM: 0, topM: drawnM(wall, wall.highestFt) };
  return part({ ...wall, halfWidthNm: BACKING_WIDTH * wall.halfWidthNm }, whole, properties);
}

function part(
  { points, halfWidthNm }: Wall,
  stretch: Stretch,
  properties: Readonly<Record<string, string | number>>,
): Feature<Polygon> {
  return { type: 'Feature', properties, geometry: stripAlong(points, stretch, halfWidthNm) };
}

/** Half the thickness of a line on the wall, of the wall's height. */
const LINE_SHARE = { level: 0.009, edge: 0.004, rule: 0.0018 } as const;
/** Lines stand out of the wall on both sides, so that it never hides them. */
const LINE_WIDTH = { level: 2.2, edge: 1.25, rule: 1.15, post: 1.5 } as const;

/** What is considered, the cursor, the wall's edges and its rules of height. */
export function wallLines(
  wall: Wall,
  levels: readonly Level[],
  distanceNm: number,
): FeatureCollection<Polygon> {
  const lengthNm = wall.points.at(-1)?.distanceNm ?? 0;
  const topM = drawnM(wall, wall.highestFt);
  const whole = { fromNm: 0, toNm: lengthNm };
  const line = (name: keyof typeof LINE_SHARE, stretch: Stretch, altitudeFt: number) => {
    const middleM = drawnM(wall, altitudeFt);
    const halfM = LINE_SHARE[name] * topM;
    const widened = { ...wall, halfWidthNm: LINE_WIDTH[name] * wall.halfWidthNm };
    return part(widened, stretch, { line: name, baseM: Math.max(0, middleM - halfM), topM: middleM + halfM });
  };
  const post = (name: string, nm: number, width: number) => {
    const half = wall.halfWidthNm * 0.35;
    const stretch = { fromNm: Math.max(0, nm - half), toNm: Math.min(lengthNm, nm + half) };
    return part({ ...wall, halfWidthNm: width * wall.halfWidthNm }, stretch, { line: name, baseM: 0, topM });
  };
  const rulesFt = [];
  for (let feet = RULE_STEP_FT; feet < wall.highestFt; feet += RULE_STEP_FT) rulesFt.push(feet);
  return {
    type: 'FeatureCollection',
    features: [
      ...rulesFt.map((feet) => line('rule', whole, feet)),
      line('edge', whole, wall.lowestFt),
      line('edge', whole, wall.highestFt),
      post('edge', 0, LINE_WIDTH.edge),
      post('edge', lengthNm, LINE_WIDTH.edge),
      post('cursor', distanceNm, LINE_WIDTH.post),
      ...levels.map((level) => line('level', level, level.altitudeFt)),
    ],
  };
}
