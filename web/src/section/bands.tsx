/** The icing bands, from the brief's features and nothing else. */
import { useMemo } from 'preact/hooks';
import type { FeatureOf } from '../contract.ts';
import { lookOf } from '../look.ts';
import { iceWords, LARGE_DROP_WORDS, stateSentence, UNKNOWN_WORD } from '../words.ts';
import { type Block, gridOfBlocks, labelRooms } from './block-grid.ts';
import { type LabelBox, type PlacedLabel, placeLabels, platePath } from './label-places.ts';
import { Painted, rectPath } from './paint.tsx';
import type { Sheet } from './scales.ts';

type Band = FeatureOf<'icing-band'>;

export function Bands({ bands, sheet }: { readonly bands: readonly Band[]; readonly sheet: Sheet }) {
  return (
    <g class="bands" shape-rendering="crispEdges">
      {bands.map((band) => (
        <Painted
          key={band.id}
          featureId={band.id}
          look={lookOf(band.properties)}
          d={blockPath(sheet, band.properties)}
        />
      ))}
    </g>
  );
}

/**
 * Words inside the drawing, one for each connected region that has room for them; the largest regions first.
 *
 * @param taken  Where other words stand already.
 */
export function useBandLabels(
  bands: readonly Band[],
  sheet: Sheet,
  taken: readonly LabelBox[],
): readonly PlacedLabel[] {
  const wishes = useMemo(() => labelWishes(bands, sheet), [bands, sheet]);
  return placeLabels(wishes, taken, sheet.textScale);
}

interface BandLabelsProps {
  readonly labels: readonly PlacedLabel[];
  readonly textScale: number;
}

export function BandLabels({ labels, textScale }: BandLabelsProps) {
  return (
    <g class="band-labels">
      {labels.map(({ words, x, y }) => (
        <g key={`${words} ${x} ${y}`}>
          <path class="label-plate" d={platePath({ words, x, y }, textScale)} />
          <text x={x} y={y} dy="0.35em" text-anchor="middle">
            {words}
          </text>
        </g>
      ))}
    </g>
  );
}

/** The same whatever is considered. */
function labelWishes(bands: readonly Band[], sheet: Sheet) {
  const visible = bands
    .map((band) => ({ ...clipped(sheet, band.properties), words: bandWords(band) }))
    .filter((block) => block.words !== '' && block.upperFt > block.lowerFt);
  const areaOf = (block: Block) => {
    const box = boxOf(sheet, block);
    const [widthPx, heightPx] = [box.right - box.left, box.bottom - box.top];
    return Math.min(widthPx, 260) * Math.min(heightPx, 60) + widthPx * heightPx * 1e-4;
  };
  const rooms = labelRooms(
    gridOfBlocks(visible, (block) => block.words),
    areaOf,
  );
  return rooms
    .sort((a, b) => areaOf(b.block) - areaOf(a.block))
    .map(({ name, block }) => ({ words: name, ...shortened(name), room: boxOf(sheet, block) }));
}

/** Why it is unknown may be left to the readout; that it is unknown may not. */
function shortened(words: string): { shortWords?: string } {
  return words.startsWith(UNKNOWN_WORD) ? { shortWords: UNKNOWN_WORD } : {};
}

function boxOf(sheet: Sheet, block: Block): LabelBox {
  return {
    left: sheet.x(block.fromNm),
    right: sheet.x(block.toNm),
    top: sheet.y(block.upperFt),
    bottom: sheet.y(block.lowerFt),
  };
}

/** '' for what needs no word in the drawing: paper and ground. */
export function bandWords({ properties }: Band): string {
  const look = lookOf(properties);
  if (look.kind === 'unknown') return stateSentence(look.state);
  if (look.kind !== 'ice') return '';
  if (properties.largeDrops !== null && properties.largeDrops !== 'none')
    return LARGE_DROP_WORDS[properties.largeDrops];
  return iceWords(properties);
}

export function blockPath(sheet: Sheet, block: Block): string {
  const inside = clipped(sheet, block);
  if (inside.upperFt <= inside.lowerFt) return '';
  return rectPath(
    sheet.x(inside.fromNm),
    sheet.y(inside.upperFt),
    sheet.x(inside.toNm),
    sheet.y(inside.lowerFt),
  );
}

function clipped({ range, lengthNm }: Sheet, block: Block): Block {
  return {
    fromNm: Math.max(0, block.fromNm),
    toNm: Math.min(lengthNm, block.toNm),
    lowerFt: Math.max(range.lowestFt, block.lowerFt),
    upperFt: Math.min(range.highestFt, block.upperFt),
  };
}
