/**
 * The page's pictures, frozen after somebody looked at them: as mean brightness of a coarse grid, so that fonts and the smoothing of
 * another machine do not matter, and a band, a hatching or a panel that goes missing does. FREEZE_PICTURES=1 writes them anew: look
 * at the page before.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  type Clip,
  demoLeg,
  launchBrowser,
  legUrl,
  openPage,
  WITHOUT_MAP,
  waitForBrief,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

const FILE = new URL('pictures.json', import.meta.url);
const COLUMNS = 40;
const ROWS = 24;
/** Brightness 0 to 35, one letter of base 36 a cell. */
const STEPS = 35;
/** Half a hatching line may lie in this or the next cell. */
const MOST_OFF = 4;
/** Of all cells together: every line of letters a little. */
const MEAN_OFF = 0.5;

type Pictures = Record<string, readonly string[]>;
const frozen = JSON.parse(readFileSync(FILE, 'utf8')) as Pictures;

/** Worked out on the page: millions of pixels are too many to hand over. */
async function coarse(page: Page, clip: Clip): Promise<string[]> {
  const base64 = (await page.screenshot({ clip })).toString('base64');
  const letters = await page.evaluate(
    async ({ picture, columns, rows, steps }) => {
      const image = new Image();
      image.src = `data:image/png;base64,${picture}`;
      await image.decode();
      const canvas = document.createElement('canvas');
      canvas.width = image.width;
      canvas.height = image.height;
      const pen = canvas.getContext('2d')!;
      pen.drawImage(image, 0, 0);
      const { data, width, height } = pen.getImageData(0, 0, image.width, image.height);
      const sums = new Float64Array(columns * rows);
      const counts = new Float64Array(columns * rows);
      for (let pixel = 0; pixel < width * height; pixel += 1) {
        const column = Math.floor(((pixel % width) / width) * columns);
        const row = Math.floor((Math.floor(pixel / width) / height) * rows);
        const at = 4 * pixel;
        sums[row * columns + column]! += 0.2126 * data[at]! + 0.7152 * data[at + 1]! + 0.0722 * data[at + 2]!;
        counts[row * columns + column]! += 1;
      }
      return Array.from(sums, (sum, cell) => Math.round((sum / counts[cell]! / 255) * steps).toString(36));
    },
    { picture: base64, columns: COLUMNS, rows: ROWS, steps: STEPS },
  );
  return Array.from({ length: ROWS }, (_, row) => letters.slice(row * COLUMNS, (row + 1) * COLUMNS).join(''));
}

it.each([
  ['over-the-deck', 360, 'light'],
  ['over-the-deck', 1280, 'light'],
  ['over-the-deck', 1280, 'dark'],
  ['out-of-data', 820, 'light'],
  ['out-of-data', 2560, 'dark'],
] as const)('the section of %s, %i px wide, %s, looks as it did', async (id, width, theme) => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg(id)), {
    width,
    height: 1400,
    theme,
  });
  await waitForBrief(page);
  const section = page.locator('svg.section');
  await section.scrollIntoViewIfNeeded();
  const found = await coarse(page, (await section.boundingBox())!);
  const name = `${id} ${width} ${theme}`;
  if (process.env.FREEZE_PICTURES === '1') {
    const others = JSON.parse(readFileSync(FILE, 'utf8')) as Pictures;
    writeFileSync(FILE, `${JSON.stringify({ ...others, [name]: found }, undefined, 2)}\n`);
    return;
  }
  const off = Array.from(found.join(''), (letter, cell) =>
    Math.abs(Number.parseInt(letter, 36) - Number.parseInt(frozen[name]!.join('')[cell]!, 36)),
  );
  const shown = `found\n${found.join('\n')}`;
  expect(Math.max(...off), shown).toBeLessThanOrEqual(MOST_OFF);
  expect(off.reduce((sum, each) => sum + each, 0) / off.length, shown).toBeLessThanOrEqual(MEAN_OFF);
  await page.close();
});
