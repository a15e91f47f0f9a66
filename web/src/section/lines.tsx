/** What is drawn with a pen over the bands: cloud outline, freezing levels, ground, minimum altitudes. */
import { curveMonotoneX, line } from 'd3-shape';
import type { FeatureOf } from '../contract.ts';
import { gridOfBlocks, outlineEdges } from './block-grid.ts';
import { gapsNm, joinedNm } from './gaps.ts';
import { Painted, rectPath } from './paint.tsx';
import type { Sheet } from './scales.ts';

interface LinesProps<K extends 'cloud-band' | 'freezing-level' | 'terrain' | 'minimum-altitude'> {
  readonly features: readonly FeatureOf<K>[];
  readonly sheet: Sheet;
}

/** Height over the foot of the sheet at which a minimum altitude that is not known is hatched. */
export const UNKNOWN_MINIMUM_PX = 27;
/** Depth of the hatching where no ground height is known. */
export const UNKNOWN_GROUND_PX = 16;
/** Half-way: more likely in cloud than not. */
const CLOUD_PROBABILITY = 0.5;

export function CloudOutline({ features, sheet }: LinesProps<'cloud-band'>) {
  const likely = features
    .map((feature) => feature.properties)
    .filter((cloud) => cloud.probability >= CLOUD_PROBABILITY);
  const edges = outlineEdges(gridOfBlocks(likely, () => 'cloud'));
  const d = edges
    .filter((edge) => edge.fromFt < sheet.range.highestFt)
    .map(({ fromNm, fromFt, toNm, toFt }) => {
      const endFt = Math.min(toFt, sheet.range.highestFt);
      return `M${sheet.x(fromNm)} ${sheet.y(fromFt)}L${sheet.x(toNm)} ${sheet.y(endFt)}`;
    })
    .join('');
  return <path class="cloud-outline" d={d} />;
}

export function FreezingLevels({ features, sheet }: LinesProps<'freezing-level'>) {
  const pen = line<readonly [number, number]>(
    ([nm]) => sheet.x(nm),
    ([, ft]) => sheet.y(ft),
  ).curve(curveMonotoneX);
  return (
    <g class="freezing-levels">
      {features.map(({ id, properties }) => (
        <path
          key={id}
          data-feature-id={id}
          d={pen(properties.distanceNm.map((nm, index) => [nm, properties.altitudeFt[index]!])) ?? ''}
        />
      ))}
    </g>
  );
}

/** Stretches without a ground height. */
export function unknownGround(features: readonly FeatureOf<'terrain'>[], sheet: Sheet) {
  return gapsNm(
    features.map((feature) => feature.properties),
    sheet.lengthNm,
  );
}

/** A model's ground cuts off summits: it must not pass for the ground itself. */
export function smoothedGround(features: readonly FeatureOf<'terrain'>[]) {
  return joinedNm(
    features.map(({ properties }) => properties).filter(({ source }) => source === 'model-orography'),
  );
}

/** Where no ground height is given the foot of the sheet is hatched: no ground known is not flat ground. */
export function Terrain({ features, sheet }: LinesProps<'terrain'>) {
  const { bottom } = sheet.plot;
  const unknown = unknownGround(features, sheet);
  return (
    <g class="terrain" shape-rendering="crispEdges">
      {features.map(({ id, properties }) => (
        <path
          key={id}
          data-feature-id={id}
          class="fill-ground"
          d={rectPath(
            sheet.x(properties.fromNm),
            sheet.y(properties.heightFt),
            sheet.x(properties.toNm),
            bottom,
          )}
        />
      ))}
      <path class="ground-edge" d={groundEdge(features, sheet)} />
      {unknown.map(({ fromNm, toNm }) => (
        <g key={fromNm}>
          <Painted
            look={{ kind: 'unknown', state: 'no-data' }}
            d={rectPath(sheet.x(fromNm), bottom - UNKNOWN_GROUND_PX, sheet.x(toNm), bottom)}
          />
        </g>
      ))}
    </g>
  );
}

/** The silhouette's upper edge: by night the ground is as dark as the paper. */
function groundEdge(features: readonly FeatureOf<'terrain'>[], sheet: Sheet): string {
  return features
    .map(({ properties: { fromNm, toNm, heightFt } }, index) => {
      const isJoined = index > 0 && Math.abs(features[index - 1]!.properties.toNm - fromNm) < 0.02;
      return `${isJoined ? 'L' : 'M'}${sheet.x(fromNm)} ${sheet.y(heightFt)}H${sheet.x(toNm)}`;
    })
    .join('');
}

export function MinimumAltitudes({ features, sheet }: LinesProps<'minimum-altitude'>) {
  return (
    <g class="minimum-altitudes">
      {features.map(({ id, properties: { fromNm, toNm, altitudeFt } }) => {
        if (altitudeFt === null) {
          const top = sheet.plot.bottom - UNKNOWN_MINIMUM_PX;
          const bar = rectPath(sheet.x(fromNm), top, sheet.x(toNm), top + 7);
          return <Painted key={id} featureId={id} look={{ kind: 'unknown', state: 'no-data' }} d={bar} />;
        }
        const d = `M${sheet.x(fromNm)} ${sheet.y(altitudeFt)}H${sheet.x(toNm)}`;
        return (
          <g key={id} data-feature-id={id}>
            <path class="minimum-halo" d={d} />
            <path class="minimum-line" d={d} />
          </g>
        );
      })}
    </g>
  );
}
