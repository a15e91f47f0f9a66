/** The code on the print: what a camera reads there is the leg that the page shows. Read back by another library. */
import jsQR from 'jsqr';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  demoLeg,
  keepScreenshot,
  launchBrowser,
  legUrl,
  openPage,
  pixelsOnScreen,
  WITHOUT_MAP,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
const leg = demoLeg('over-the-deck');

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
});

afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

/** What a camera would make of the code on paper of letter width at 96 dots an inch, two dots a pixel. */
async function codeOnPaper(page: Page): Promise<string | undefined> {
  await page.emulateMedia({ media: 'print' });
  const box = (await page.locator('.print-code').boundingBox())!;
  const { data, width, height } = await pixelsOnScreen(page, box);
  return jsQR(Uint8ClampedArray.from(data), width, height)?.data;
}

it('the code on the print is the address of the brief, and is seen on paper alone', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg), { scale: 2 });
  await page.locator('svg.print-code').waitFor({ state: 'attached' });
  expect(await page.locator('.print-code').isVisible()).toBe(false);
  expect(await codeOnPaper(page)).toBe(page.url());
  await keepScreenshot(page, 'print-code');
  await page.close();
});

it('an altitude that somebody has just looked at is in the code', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg), { scale: 2 });
  await page.locator('svg.print-code').waitFor({ state: 'attached' });
  const atPrint = await page.locator('tr[data-altitude-ft="9000"]').evaluate(async (row: HTMLElement) => {
    row.click();
    dispatchEvent(new Event('beforeprint'));
    // As between the event and the print: what was asked for is done, and no picture is drawn.
    for (let turn = 0; turn < 10; turn += 1) await Promise.resolve();
    const words = ['#readout-title', '.strip figcaption', '#plan-title'].map(
      (selector) => document.querySelector(selector)?.textContent,
    );
    return { search: location.search, words };
  });
  expect(new URLSearchParams(atPrint.search).get('at')).toBe('9000');
  for (const words of atPrint.words) expect(words).toContain('9,000');
  const read = new URL((await codeOnPaper(page))!);
  expect(read.searchParams.get('at')).toBe('9000');
  await page.close();
});

it('a print before the page is drawn to its foot has all of it', async () => {
  const page = await browser.newPage({ serviceWorkers: 'block' });
  // No picture comes, and no timer: what waits for one is not drawn.
  await page.addInitScript(() => {
    Object.assign(globalThis, { requestAnimationFrame: () => 0 });
    const { setTimeout: later } = globalThis;
    Object.assign(globalThis, { setTimeout: (act: () => void, ms = 0) => (ms < 50 ? 0 : later(act, ms)) });
  });
  await page.goto(legUrl(instance.baseUrl, leg));
  await page.locator('.altitude-figure').waitFor();
  expect(await page.locator('.strips').count()).toBe(0);
  await page.evaluate(() => dispatchEvent(new Event('beforeprint')));
  for (const part of ['.sheet-table .row', '.strips', '.cautions', '.plan'])
    await page.locator(part).first().waitFor({ state: 'attached' });
  await page.close();
});

it('a link too long for a code a camera can read says so instead', async () => {
  const url = `${legUrl(instance.baseUrl, leg)}&unused=${'x'.repeat(600)}`;
  const { page } = await openPage(browser, url);
  await page.locator('p.print-code').waitFor({ state: 'attached' });
  expect(await page.locator('.print-code').textContent()).toBe('No code: the link is too long.');
  await page.close();
});
