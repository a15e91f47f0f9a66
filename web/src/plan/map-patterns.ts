/** The sheet's patterns as small pictures for the map. */
import type { Map as GlMap } from 'maplibre-gl';
import { pictureName } from './curtain-wall.ts';
import { ink, PATTERN_NAMES } from './map-layers.ts';

const RATIO = 2;

type Pen = CanvasRenderingContext2D;

export function addPatterns(map: GlMap): void {
  for (const name of PATTERN_NAMES) {
    if (map.hasImage(name)) map.removeImage(name);
    map.addImage(name, picture(DRAWINGS[name]), { pixelRatio: RATIO });
  }
}

/** Opaque pictures for the wall, one a look: a transparent one would cut holes into it. */
export function addWallPictures(map: GlMap, looks: readonly (readonly string[])[]): void {
  for (const paints of looks) {
    const name = pictureName(paints);
    if (map.hasImage(name)) map.removeImage(name);
    map.addImage(name, layeredPicture(paints), { pixelRatio: RATIO });
  }
}

function layeredPicture(paints: readonly string[]): ImageData {
  const names = paints.map((paint) => paint.replace('paint-', ''));
  const drawings = names.flatMap((name) => (isPattern(name) ? [DRAWINGS[name]] : []));
  const sizePx = drawings.reduce((size, drawing) => size * drawing.sizePx, 1);
  return picture({
    sizePx: drawings.length === 0 ? PLAIN_PX : sizePx,
    draw(pen, size) {
      for (const name of names) {
        if (isPattern(name)) repeat(pen, DRAWINGS[name], size);
        else {
          pen.fillStyle = ink(`--paint-${name}`);
          pen.fillRect(0, 0, size, size);
        }
      }
    },
  });
}

const PLAIN_PX = 8;

const isPattern = (name: string): name is (typeof PATTERN_NAMES)[number] =>
  (PATTERN_NAMES as readonly string[]).includes(name);

function repeat(pen: Pen, { sizePx, draw }: Drawing, wholePx: number): void {
  for (let x = 0; x < wholePx; x += sizePx) {
    for (let y = 0; y < wholePx; y += sizePx) {
      pen.save();
      pen.translate(x, y);
      pen.beginPath();
      pen.rect(0, 0, sizePx, sizePx);
      pen.clip();
      draw(pen, sizePx);
      pen.restore();
    }
  }
}

function picture({ sizePx, draw }: Drawing): ImageData {
  const canvas = document.createElement('canvas');
  canvas.width = sizePx * RATIO;
  canvas.height = sizePx * RATIO;
  const pen = canvas.getContext('2d')!;
  pen.scale(RATIO, RATIO);
  draw(pen, sizePx);
  return pen.getImageData(0, 0, canvas.width, canvas.height);
}

interface Drawing {
  readonly sizePx: number;
  readonly draw: (pen: Pen, sizePx: number) => void;
}

const DRAWINGS: Readonly<Record<(typeof PATTERN_NAMES)[number], Drawing>> = {
  unknown: {
    sizePx: 12,
    draw(pen, size) {
      pen.fillStyle = ink('--unknown-ground');
      pen.fillRect(0, 0, size, size);
      pen.strokeStyle = ink('--unknown-line');
      pen.lineWidth = 2;
      for (const shift of [-size, 0, size]) {
        pen.beginPath();
        pen.moveTo(shift - 2, size + 2);
        pen.lineTo(shift + size + 2, -2);
        pen.stroke();
      }
    },
  },
  possible: { sizePx: 7, draw: (pen, size) => ruled(pen, size, 4.5) },
  likely: { sizePx: 7, draw: (pen, size) => ruled(pen, size, 2) },
  warning: {
    sizePx: 20,
    draw(pen, size) {
      pen.strokeStyle = ink('--ink');
      pen.globalAlpha = 0.45;
      pen.lineWidth = 1;
      for (const shift of [-size, 0, size]) {
        pen.beginPath();
        pen.moveTo(shift - 2, -2);
        pen.lineTo(shift + size + 2, size + 2);
        pen.stroke();
      }
    },
  },
  'large-drops': {
    sizePx: 11,
    draw(pen) {
      pen.fillStyle = ink('--ink');
      for (const at of [3, 8.5]) {
        pen.beginPath();
        pen.arc(at, at, 1.9, 0, 2 * Math.PI);
        pen.fill();
      }
    },
  },
};

/** As `.ruling` of the style sheet. */
const RULING_OPACITY = 0.74;

function ruled(pen: Pen, size: number, gapPx: number): void {
  pen.globalAlpha = RULING_OPACITY;
  pen.fillStyle = ink('--paper');
  pen.fillRect(0, size - gapPx, size, gapPx);
}
