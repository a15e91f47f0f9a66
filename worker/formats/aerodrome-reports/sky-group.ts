/** Groups NsNsNshshshs, VVhshshs and the words for no cloud (regulation 15.9, code table 1690). */
import type { ClearSky, CloudLayer, Sky } from './conditions.ts';

const LAYER = /^(FEW|SCT|BKN|OVC|\/{3})(\d{3}|\/{3})(CB|TCU|\/{3})?$/;
/** An automatic station that saw a towering cloud and nothing else of it: `///TCU`. */
const TYPE_ALONE = /^\/{3}(CB|TCU)$/;
const VERTICAL_VISIBILITY = /^VV(\d{3}|\/{3})$/;
const CLEAR: ReadonlySet<string> = new Set<ClearSky>(['SKC', 'CLR', 'NSC', 'NCD', 'CAVOK']);

const FT_PER_STEP = 100;
const EMPTY: Sky = { layers: [], isObscured: false, verticalVisibilityFt: null, clear: null };

/**
 * @param before  what was read so far; null for nothing.
 * @returns       the sky with the group added; undefined when it is no group of the sky, or repeats one.
 */
export function readSky(group: string, before: Sky | null): Sky | undefined {
  const sky = before ?? EMPTY;
  const layer = readLayer(group);
  if (layer !== undefined) return { ...sky, layers: [...sky.layers, layer] };
  if (CLEAR.has(group) && sky.clear === null) return { ...sky, clear: group as ClearSky };
  const vertical = VERTICAL_VISIBILITY.exec(group);
  if (vertical === null || sky.isObscured) return undefined;
  return { ...sky, isObscured: true, verticalVisibilityFt: feet(vertical[1]!) };
}

function readLayer(group: string): CloudLayer | undefined {
  const typeAlone = TYPE_ALONE.exec(group);
  if (typeAlone !== null) return { amount: null, baseAglFt: null, type: typeAlone[1] as 'CB' | 'TCU' };
  const match = LAYER.exec(group);
  if (match === null) return undefined;
  const [, amount, height, type] = match;
  return {
    amount: amount!.startsWith('/') ? null : (amount as CloudLayer['amount']),
    baseAglFt: feet(height!),
    type: type?.startsWith('/') ? 'not-observed' : ((type as 'CB' | 'TCU' | undefined) ?? null),
  };
}

function feet(figures: string): number | null {
  return figures.startsWith('/') ? null : Number(figures) * FT_PER_STEP;
}
