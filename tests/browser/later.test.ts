/** Later departures and other ways, as the answer has them, wide and narrow, by keyboard. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { clockText } from '../../web/src/units.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  demoLeg,
  fetchBrief,
  keepScreenshot,
  launchBrowser,
  legUrl,
  openPage,
  WITHOUT_MAP,
  withFluid,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
let brief: Brief;
const leg = withFluid(demoLeg('over-the-deck'), 80);

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
  brief = await fetchBrief(instance.baseUrl, leg);
});

afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

describe('later departures', () => {
  it('stand in columns right of the table, every shape that of the answer, level with its altitude', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg), { height: 1200 });
    await page.locator('.later').waitFor();
    const rows = page.locator('.later tbody tr');
    const { departures } = brief.brief;
    expect(departures.length).toBe(3);
    let compared = 0;
    for (let index = 0; index < (await rows.count()); index += 1) {
      const row = rows.nth(index);
      const altitudeFt = Number((await row.locator('th').textContent())?.replace(',', ''));
      const cells = departures.map((one) => one.byAltitude.find((cell) => cell.altitudeFt === altitudeFt)!);
      if (
        cells.some(
          ({ standing }) => !['recommended', 'acceptable', 'outside-limits', 'unknown'].includes(standing),
        )
      )
        continue;
      const drawn = await row
        .locator('[data-verdict]')
        .evaluateAll((shapes) => shapes.map((shape) => shape.getAttribute('data-verdict')));
      expect(drawn).toEqual(cells.map(({ verdict }) => verdict));
      const level = (await page.locator(`tr.row[data-altitude-ft="${altitudeFt}"]`).boundingBox())!;
      const box = (await row.boundingBox())!;
      expect(Math.abs(box.y + box.height / 2 - level.y - level.height / 2)).toBeLessThanOrEqual(1);
      compared += 1;
    }
    expect(compared).toBeGreaterThan(5);
    const marked = departures.filter(
      (one) => one.recommendedAltitudeFt !== null && (one.profile?.length ?? 1) === 1,
    );
    expect(marked.length).toBeGreaterThan(0);
    expect(await page.locator('.later-recommended').count()).toBe(marked.length);
    expect(await page.locator('.later-chips').count()).toBe(0);
    await page.close();
  });

  it('show an altitude without a figure as unknown', async () => {
    const torn = structuredClone(brief);
    torn.brief.departures[0]!.byAltitude = [];
    const { page } = await openPage(browser, instance.baseUrl);
    await page.route('**/api/brief', (route) => route.fulfill({ json: torn }));
    await page.getByRole('button', { name: leg.title }).click();
    await page.locator('.later').waitFor();
    const first = page.locator('.later tbody tr td:nth-of-type(1) [data-verdict]');
    const verdicts = await first.evaluateAll((all) => all.map((one) => one.getAttribute('data-verdict')));
    expect(new Set(verdicts)).toEqual(new Set(['unknown']));
    await page.close();
  });

  it('open their own brief by keyboard', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.locator('.later thead button').nth(1).focus();
    await page.keyboard.press('Enter');
    const wanted = brief.brief.departures[1]!.departureUtc;
    await page.waitForURL((url) => url.searchParams.get('departure') === wanted);
    await page.locator('.leg-line', { hasText: clockText(wanted) }).waitFor();
    await page.close();
  });

  it.each([360, 820])('are a row of chips below the answer at %i px', async (width) => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg), { width });
    await page.locator('.later-chips').waitFor();
    const chips = page.locator('.later-chips button');
    const drawn = await chips
      .locator('[data-verdict]')
      .evaluateAll((all) => all.map((one) => one.getAttribute('data-verdict')));
    expect(drawn).toEqual(brief.brief.departures.map(({ verdict }) => verdict.code));
    expect(await page.locator('.later').count()).toBe(0);
    const section = (await page.locator('svg.section').boundingBox())!;
    expect((await chips.first().boundingBox())!.y).toBeLessThan(section.y);
    await page.close();
  });
});

describe('other ways', () => {
  const url = () =>
    `${legUrl(instance.baseUrl, leg)}&routes=${encodeURIComponent('KBTV DCT 4500N07100W DCT KBGR')}`;

  it('are rows with their sentences, the best one marked, and named in the answer where it is not the leg itself', async () => {
    const answer = await fetchBrief(instance.baseUrl, {
      ...leg,
      request: {
        ...leg.request,
        options: { ...leg.request.options, otherRoutes: ['KBTV DCT 4500N07100W DCT KBGR'] },
      },
    });
    const { page } = await openPage(browser, url());
    await page.locator('.ways').waitFor();
    const { ways } = answer.brief;
    expect(ways.length).toBe(4);
    expect(await page.locator('.ways tbody tr').count()).toBe(4);
    for (const way of ways) {
      const row = page.locator(`[data-way-id="${way.id}"]`);
      expect(await row.textContent()).toContain(way.sentence);
      expect(await row.locator('.way-mark').count()).toBe(way.isBest ? 1 : 0);
      expect(await row.locator('[data-verdict]').count()).toBe(way.verdict === null ? 0 : 1);
    }
    const best = ways.find((way) => way.isBest)!;
    const isOther = best.id !== 'filed' && best.kind !== 'cancel';
    expect(await page.locator('.answer-way').count()).toBe(isOther ? 1 : 0);
    if (isOther) expect(await page.locator('.answer-way').textContent()).toContain(best.sentence);
    await page.close();
  });

  it.each([360, 820, 1280, 2560])('do not make the page wider than the screen at %i px', async (width) => {
    const { page } = await openPage(browser, url(), { width });
    await page.locator('.ways').waitFor();
    await keepScreenshot(page, `ways-${width}-light`);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width);
    await page.close();
  });
});
