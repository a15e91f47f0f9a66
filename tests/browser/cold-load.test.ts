/** A page that is opened for the first time, over a slow or a broken network: nothing jumps, and words say what goes on. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { demoLeg, launchBrowser, legUrl, openPage, waitForBrief } from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
const leg = demoLeg('over-the-deck');
/** Cumulative layout shift that is still called good; none of it is wanted. */
const MOST_SHIFT = 0.05;
const SETTLE_MS = 700;
const LATE_MS = 400;

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser()]);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

/** Runs before anything of the page. */
function recordShifts(): void {
  const shifts: { value: number; what: string }[] = [];
  Object.assign(globalThis, { shifts });
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries() as (PerformanceEntry & {
      value: number;
      sources: { node: Element | null }[];
    })[])
      shifts.push({
        value: entry.value,
        what: entry.sources.map(({ node }) => node?.className ?? '').join(),
      });
  }).observe({ type: 'layout-shift', buffered: true });
}

const shiftsOf = (page: Page) =>
  page.evaluate(() => (globalThis as unknown as { shifts: { value: number; what: string }[] }).shifts);

describe.each([360, 1280])('at %i px', (width) => {
  it.each([
    { what: 'the entry', url: () => instance.baseUrl, drawn: '.demo li' },
    { what: 'a brief', url: () => legUrl(instance.baseUrl, leg), drawn: '.plan-land' },
  ])('$what does not jump while it loads', async ({ url, drawn }) => {
    const page = await browser.newPage({ viewport: { width, height: 800 } });
    await page.addInitScript(recordShifts);
    // Lists that come after the first paint find their places kept.
    await page.route(/api\/aircraft|demo-legs/, (route) => setTimeout(() => void route.continue(), LATE_MS));
    await page.goto(url());
    await page.locator(drawn).first().waitFor({ state: 'attached' });
    await page.locator('.aircraft-editor').first().waitFor({ state: 'attached' });
    await page.waitForTimeout(SETTLE_MS);
    const shifts = await shiftsOf(page);
    const sum = shifts.reduce((all, { value }) => all + value, 0);
    expect(sum, JSON.stringify(shifts)).toBeLessThanOrEqual(MOST_SHIFT);
    await page.close();
  });
});

it('before the script has come, words say that nothing is known', async () => {
  const page = await browser.newPage();
  await page.route('**/assets/*.js', () => {});
  await page.goto(instance.baseUrl, { waitUntil: 'commit' });
  await page.locator('#page p').waitFor();
  expect(await page.locator('#page').textContent()).toContain('nothing is known of the ice');
  await page.close();
});

it('the brief of the address is asked for once, and before anything else', async () => {
  const page = await browser.newPage({ serviceWorkers: 'block' });
  const asked: string[] = [];
  page.on('request', (request) => {
    const { pathname } = new URL(request.url());
    if (request.resourceType() === 'fetch') asked.push(pathname);
  });
  await page.goto(legUrl(instance.baseUrl, leg));
  await waitForBrief(page);
  expect(asked[0]).toBe('/api/brief');
  expect(asked.filter((path) => path === '/api/brief')).toHaveLength(1);
  await page.close();
});

it('while the answer is on its way, the page says which leg it reads the air of', async () => {
  const { page } = await openPage(browser, instance.baseUrl);
  let answer = () => {};
  const mayAnswer = new Promise<void>((resolve) => {
    answer = resolve;
  });
  await page.route('**/api/brief', async (route) => {
    await mayAnswer;
    await route.continue();
  });
  await page.goto(legUrl(instance.baseUrl, leg));
  const status = page.getByRole('status');
  await status.waitFor();
  expect(await status.textContent()).toContain(`Reading the air along ${leg.request.route}`);
  expect(await status.isVisible()).toBe(true);
  expect(await page.locator('.answer').count()).toBe(0);
  answer();
  await page.locator('.altitude-figure').waitFor();
  await page.close();
});

it.each([
  {
    what: 'cut off',
    status: 200,
    type: 'application/json',
    body: '{"type":"FeatureCollection","features":[{"ty',
  },
  { what: 'a page of somebody between', status: 200, type: 'text/html', body: '<p>Sign in to this network' },
  { what: 'a failure without words', status: 502, type: 'text/html', body: '<h1>Bad gateway</h1>' },
  { what: 'empty', status: 200, type: 'application/json', body: '' },
])('an answer that is $what leaves words and the form, and no altitude', async ({ status, type, body }) => {
  const { page } = await openPage(browser, instance.baseUrl);
  await page.route('**/api/brief', (route) => route.fulfill({ status, contentType: type, body }));
  await page.goto(legUrl(instance.baseUrl, leg));
  const alert = page.getByRole('alert');
  await alert.waitFor();
  expect(await alert.textContent()).toMatch(/could not be understood|gave no reason/);
  expect(await page.locator('.answer, .altitude-figure').count()).toBe(0);
  expect(await page.locator('#leg-route').inputValue()).toBe(leg.request.route);
  await page.close();
});
