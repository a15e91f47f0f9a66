/** Which way out of the ice there is at each place: up, down, back, to an aerodrome, none; how long it takes. */
import { isMinimumMissing, type WayAir, type WayStretch, wayStretches } from '../answer/file-line.ts';
import type { WayOut } from '../contract.ts';
import { feetText } from '../numbers.ts';
import { Painted, rectPath } from '../section/paint.tsx';
import type { Sheet } from '../section/scales.ts';
import { WAY_WORDS } from '../words.ts';

interface WayOutStripProps {
  readonly ways: readonly WayOut[];
  readonly air: WayAir;
  /** What stands there when there are none. */
  readonly none: string;
  readonly sheet: Sheet;
  readonly heightPx: number;
}

const ARROWS: Readonly<Record<WayOut['way'], string>> = {
  stay: '→ ',
  up: '↑ ',
  down: '↓ ',
  back: '← ',
  aerodrome: '↘ ',
  none: '',
  'not-needed': '',
  unknown: '',
};
const CHAR_PX = 7.2;

export function WayOutStrip({ ways, air, none, sheet, heightPx }: WayOutStripProps) {
  if (ways.length === 0) return <NothingKnown words={none} sheet={sheet} heightPx={heightPx} />;
  return (
    <>
      {wayStretches(ways).map((stretch) => (
        <Way
          key={stretch.fromNm}
          stretch={stretch}
          wantsMinimum={stretch.way === 'unknown' && isMinimumMissing(stretch, air)}
          sheet={sheet}
          heightPx={heightPx}
        />
      ))}
    </>
  );
}

interface NothingKnownProps {
  readonly words: string;
  readonly sheet: Sheet;
  readonly heightPx: number;
}

/** A whole strip of which nothing is known. */
export function NothingKnown({ words, sheet, heightPx }: NothingKnownProps) {
  const { left, right } = sheet.plot;
  return (
    <>
      <Painted look={{ kind: 'unknown', state: 'no-data' }} d={rectPath(left, 0, right, heightPx)} />
      <text class="note" x={(left + right) / 2} y={heightPx / 2} dy="0.35em" text-anchor="middle">
        {words}
      </text>
    </>
  );
}

interface WayProps {
  readonly stretch: WayStretch;
  readonly wantsMinimum: boolean;
  readonly sheet: Sheet;
  readonly heightPx: number;
}

function Way({ stretch, wantsMinimum, sheet, heightPx }: WayProps) {
  const [left, right] = [sheet.x(stretch.fromNm), sheet.x(stretch.toNm)];
  const d = rectPath(left, 0, right, heightPx);
  const words = wantsMinimum ? ['unknown: no minimum altitude', 'no minimum', '?'] : wayWords(stretch);
  const fitting = words.find((text) => text.length * CHAR_PX * sheet.textScale + 6 < right - left) ?? '';
  return (
    <g class={`way way-${stretch.way}`}>
      <title>{words[0]}</title>
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

/** The same in ever fewer words, for the room there is. */
export function wayWords({ way, toAltitudeFt, aerodrome, minutes }: WayStretch): string[] {
  const arrow = ARROWS[way];
  const time =
    minutes === null || way === 'not-needed' || way === 'stay'
      ? ''
      : `, ${Math.max(1, Math.ceil(minutes))} min`;
  const target = way === 'aerodrome' ? aerodrome : toAltitudeFt === null ? null : feetText(toAltitudeFt);
  const brief = target ?? WAY_WORDS[way];
  const whole =
    way === 'none'
      ? 'no way out'
      : target === null
        ? WAY_WORDS[way]
        : `${WAY_WORDS[way]} ${joint(way)} ${target}`;
  return [
    `${arrow}${whole}${time}`,
    `${arrow}${brief}${time}`,
    `${arrow}${brief}`,
    `${arrow}${WAY_WORDS[way]}`,
    arrow.trim(),
  ];
}

const joint = (way: WayOut['way']) => (way === 'aerodrome' ? 'at' : 'to');
