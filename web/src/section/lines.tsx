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
      {groundWords(features, sheet).map(({ x, y, isUpright }) => (
        <text
          key={x}
          class="ground-word"
          x={x}
          y={y}
          dy={isUpright ? '0.35em' : 0}
          text-anchor={isUpright ? 'start' : 'middle'}
          {...(isUpright ? { transform: `rotate(-90 ${x} ${y})` } : {})}
        >
          ground
        </text>
      ))}
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

/** The silhouette's edge: by night the ground is as dark as the paper. */
function groundEdge(features: readonly FeatureOf<'terrain'>[], sheet: Sheet): string {
  const { bottom } = sheet.plot;
  const isJoined = (index: number) =>
    index > 0 && Math.abs(features[index - 1]!.properties.toNm - features[index]!.properties.fromNm) < 0.02;
  return features
    .map(({ properties: { fromNm, toNm, heightFt } }, index) => {
      const start = isJoined(index) ? '' : `M${sheet.x(fromNm)} ${bottom}`;
      const end = index + 1 < features.length && isJoined(index + 1) ? '' : `V${bottom}`;
      return `${start}L${sheet.x(fromNm)} ${sheet.y(heightFt)}H${sheet.x(toNm)}${end}`;
    })
    .join('');
}

const GROUND_WORD = { widthPx: 52, heightPx: 22, footPx: 9 };

interface GroundWord {
  readonly x: number;
  readonly y: number;
  /** Along the height of a narrow piece. */
  readonly isUpright: boolean;
}

/** In every piece of ground that has room for it: its dark is not that of severe ice, nor of the paper by night. */
function groundWords(features: readonly FeatureOf<'terrain'>[], sheet: Sheet): GroundWord[] {
  const { bottom } = sheet.plot;
  const { widthPx, heightPx, footPx } = GROUND_WORD;
  const [lengthPx, thicknessPx] = [widthPx * sheet.textScale, heightPx * sheet.textScale];
  const pieces = features.map(({ properties }) => properties);
  return joinedNm(pieces).flatMap(({ fromNm, toNm }): GroundWord[] => {
    const within = pieces.filter((piece) => piece.fromNm < toNm && piece.toNm > fromNm);
    const highPx = bottom - sheet.y(Math.min(...within.map(({ heightFt }) => heightFt)));
    const widePx = sheet.x(toNm) - sheet.x(fromNm);
    const place = { x: (sheet.x(fromNm) + sheet.x(toNm)) / 2, y: bottom - footPx };
    if (widePx >= lengthPx && highPx >= thicknessPx) return [{ ...place, isUpright: false }];
    return widePx >= thicknessPx && highPx >= lengthPx ? [{ ...place, isUpright: true }] : [];
  });
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
