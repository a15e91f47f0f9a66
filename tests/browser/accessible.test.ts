/** No violation that axe-core knows, at every size and in both themes; everything can be reached by keyboard. */
import { createRequire } from 'node:module';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  demoLeg,
  keepScreenshot,
  launchBrowser,
  legUrl,
  openPage,
  WITHOUT_MAP,
  waitForBrief,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
/** One leg is looked at with its map at every size; the others need not wait for one. */
let plain: Browser;
const axePath = createRequire(import.meta.url).resolve('axe-core/axe.min.js');

beforeAll(async () => {
  [instance, browser, plain] = await Promise.all([
    startLocalInstance(),
    launchBrowser(),
    launchBrowser(WITHOUT_MAP),
  ]);
});

afterAll(async () => {
  await Promise.all([browser?.close(), plain?.close()]);
  await instance?.stop();
});

interface AxeResults {
  readonly passes: readonly unknown[];
  readonly violations: readonly {
    id: string;
    nodes: readonly { target: unknown; failureSummary?: string }[];
  }[];
}

async function violations(page: Page): Promise<string[]> {
  await page.addScriptTag({ path: axePath });
  const results = await page.evaluate(() =>
    (globalThis as unknown as { axe: { run(): Promise<AxeResults> } }).axe.run(),
  );
  expect(results.passes.length).toBeGreaterThan(15);
  return results.violations.flatMap(({ id, nodes }) =>
    nodes.map((node) => `${id}: ${JSON.stringify(node.target)} ${node.failureSummary}`),
  );
}

const sizes = [360, 820, 1280, 2560];
const themes = ['light', 'dark'] as const;
/** One leg is looked at in every one of them; of two others one in the one half, one in the other, each at every size. */
const looks = sizes.flatMap((width, size) =>
  themes.map((theme, at) => ({ width, theme, isFirstHalf: (size + at) % 2 === 0 })),
);

describe.each(looks)('at $width px, $theme', ({ width, theme, isFirstHalf }) => {
  it('the brief of over-the-deck with its map has no violation', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg('over-the-deck')), {
      width,
      theme,
    });
    await page.locator('.plan-has-map').waitFor();
    await keepScreenshot(page, `over-the-deck-${width}-${theme}`);
    expect(await violations(page)).toEqual([]);
    await page.close();
  });

  if (isFirstHalf)
    it('the brief of out-of-data has no violation', async () => {
      const { page } = await openPage(plain, legUrl(instance.baseUrl, demoLeg('out-of-data')), {
        width,
        theme,
      });
      await waitForBrief(page);
      await keepScreenshot(page, `out-of-data-${width}-${theme}`);
      expect(await violations(page)).toEqual([]);
      await page.close();
    });

  if (!isFirstHalf)
    it('an altitude that was given, on a leg with other ways, has no violation', async () => {
      const url = `${legUrl(instance.baseUrl, demoLeg('over-the-deck'))}&given=8000&routes=KBTV+DCT+4500N07100W+DCT+KBGR`;
      const { page } = await openPage(plain, url, { width, theme });
      await waitForBrief(page);
      await keepScreenshot(page, `given-${width}-${theme}`);
      expect(await violations(page)).toEqual([]);
      await page.close();
    });

  it('the folded parts of the entry, opened, have no violation', async () => {
    const { page } = await openPage(plain, instance.baseUrl, { width, theme });
    await page.locator('.aircraft-editor summary').click();
    await page.locator('.more-fields summary').click();
    await page.locator('#figure-ceilingFt').fill('high');
    await keepScreenshot(page, `editor-${width}-${theme}`);
    expect(await violations(page)).toEqual([]);
    await page.close();
  });

  it('the entry has no violation', async () => {
    const { page } = await openPage(plain, instance.baseUrl, { width, theme });
    await page.locator('.demo li').first().waitFor();
    await keepScreenshot(page, `entry-${width}-${theme}`);
    expect(await violations(page)).toEqual([]);
    await page.close();
  });
});

it('focus is visible on every stop of the tab key, and the handles and the table are among them', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg('over-the-deck')));
  await page.locator('.handle-altitude').waitFor();
  const stops: string[] = [];
  for (let press = 0; press < 20; press += 1) {
    await page.keyboard.press('Tab');
    const stop = await page.evaluate(() => {
      const element = document.activeElement!;
      return {
        name: element.className || element.tagName,
        outlinePx: Number.parseFloat(getComputedStyle(element).outlineWidth),
      };
    });
    if (stop.name === 'BODY') break;
    expect(stop.outlinePx, String(stop.name)).toBeGreaterThanOrEqual(2);
    stops.push(String(stop.name));
  }
  expect(stops.join(' ')).toMatch(/handle-altitude.*handle-distance.*BUTTON/);
  await page.close();
});
