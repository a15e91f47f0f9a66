/** Which way out of the ice there is at each place: up, down, back, none. */
import { type WayStretch, wayStretches } from '../answer/file-line.ts';
import type { WayOut } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { Painted, rectPath } from '../section/paint.tsx';
import type { Sheet } from '../section/scales.ts';
import { WAY_WORDS } from '../words.ts';

interface WayOutStripProps {
  readonly ways: readonly WayOut[];
  /** What stands there when there are none. */
  readonly none: string;
  readonly sheet: Sheet;
  readonly heightPx: number;
}

const ARROWS: Readonly<Record<WayOut['way'], string>> = {
  up: '↑ ',
  down: '↓ ',
  back: '← ',
  aerodrome: '↘ ',
  none: '',
  'not-needed': '',
  unknown: '',
};
const CHAR_PX = 7.2;

export function WayOutStrip({ ways, none, sheet, heightPx }: WayOutStripProps) {
  if (ways.length === 0) {
    return (
      <>
        <Painted
          look={{ kind: 'unknown', state: 'no-data' }}
          d={rectPath(sheet.plot.left, 0, sheet.plot.right, heightPx)}
        />
        <text
          class="note"
          x={(sheet.plot.left + sheet.plot.right) / 2}
          y={heightPx / 2}
          dy="0.35em"
          text-anchor="middle"
        >
          {none}
        </text>
      </>
    );
  }
  return (
    <>
      {wayStretches(ways).map((stretch) => (
        <Way key={stretch.fromNm} stretch={stretch} sheet={sheet} heightPx={heightPx} />
      ))}
    </>
  );
}

function Way({ stretch, sheet, heightPx }: { stretch: WayStretch; sheet: Sheet; heightPx: number }) {
  const [left, right] = [sheet.x(stretch.fromNm), sheet.x(stretch.toNm)];
  const d = rectPath(left, 0, right, heightPx);
  const words = [
    wordsOf(stretch),
    `${ARROWS[stretch.way]}${WAY_WORDS[stretch.way]}`,
    ARROWS[stretch.way].trim(),
  ];
  const fitting = words.find((text) => text.length * CHAR_PX + 6 < right - left) ?? '';
  return (
    <g class={`way way-${stretch.way}`}>
      {stretch.way === 'unknown' ? (
        <Painted look={{ kind: 'unknown', state: 'no-data' }} d={d} />
      ) : (
        <path class="way-ground" d={d} />
      )}
      <text x={(left + right) / 2} y={heightPx / 2} dy="0.35em" text-anchor="middle">
        {fitting}
      </text>
    </g>
  );
}

function wordsOf({ way, toAltitudeFt }: WayStretch): string {
  const target = toAltitudeFt === null ? '' : ` to ${feetText(toAltitudeFt)}`;
  return `${ARROWS[way]}${WAY_WORDS[way]}${target}`;
}
