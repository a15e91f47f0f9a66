/** What each paint and line means, drawn with the same paints. */
import type { ComponentChildren } from 'preact';
import type { Look } from '../look.ts';
import { rateText, unitText } from '../units.ts';
import { Painted, rectPath } from './paint.tsx';

const ice = (shade: 'trace' | 'light' | 'moderate' | 'severe'): Look => ({
  kind: 'ice',
  shade,
  sureness: 'sure',
  largeDrops: false,
});

/** Rates of the intensity words, mm/min on the unprotected outer wing: a quarter, one and three inches an hour. */
const swatches = (): readonly { readonly words: string; readonly look: Look }[] => [
  { words: 'no ice found', look: { kind: 'no-ice' } },
  { words: `trace, under ${rateText(0.25)} ${unitText('mm/min')}`, look: ice('trace') },
  { words: `light, to ${rateText(1)}`, look: ice('light') },
  { words: `moderate, to ${rateText(3)}`, look: ice('moderate') },
  { words: 'severe, above', look: ice('severe') },
  {
    words: 'ruled: less sure',
    look: { kind: 'ice', shade: 'light', sureness: 'possible', largeDrops: false },
  },
  { words: 'large drops', look: { kind: 'ice', shade: 'light', sureness: 'sure', largeDrops: true } },
  { words: 'unknown', look: { kind: 'unknown', state: 'no-data' } },
];

export function Legend() {
  return (
    <ul class="legend" aria-label="What the drawing’s paints mean">
      {swatches().map(({ words, look }) => (
        <Entry key={words} words={words}>
          <Painted look={look} d={rectPath(0, 0, 30, 16)} />
          <rect x="0.5" y="0.5" width="29" height="15" class="swatch-edge" />
        </Entry>
      ))}
      <Entry words="cloud edge">
        <path class="cloud-outline" d="M2 12V4H28V12" />
      </Entry>
      <Entry words="freezing level">
        <g class="freezing-levels">
          <path d="M1 8H29" />
        </g>
      </Entry>
      <Entry words="minimum altitude">
        <path class="minimum-line" d="M1 8H29" />
      </Entry>
      <Entry words="accept">
        <path class="accept-bar" d="M6 1V15" />
      </Entry>
      <Entry words="reported or warned of">
        <g class="hazard">
          <path class="hazard-edge" d="M2 2H28V14H2Z" />
        </g>
      </Entry>
      <Entry words="ground, true height">
        <path class="fill-ground" d="M0 16V9H10V4H20V11H30V16Z" />
        <path class="ground-edge" d="M0 9H10V4H20V11H30" />
      </Entry>
    </ul>
  );
}

function Entry({ words, children }: { readonly words: string; readonly children: ComponentChildren }) {
  return (
    <li>
      <svg width="30" height="16" aria-hidden="true">
        {children}
      </svg>
      {words}
    </li>
  );
}
