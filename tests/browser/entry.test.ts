/** Entering a leg while its brief follows, and briefs that this device keeps. */
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
const leg = demoLeg('over-the-deck');

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
});

afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

const focusedId = (page: Page) => page.evaluate(() => document.activeElement?.id);
const parameter = (page: Page, name: string) => new URL(page.url()).searchParams.get(name);

async function openBrief(looks = {}): Promise<Page> {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg), looks);
  await waitForBrief(page);
  // Kept once the page is idle.
  await page.waitForFunction(() => localStorage.getItem('rimeway-briefs') !== null);
  return page;
}

/** No answer of the service until what is returned is called. */
async function holdAnswer(page: Page): Promise<() => void> {
  let answer = () => {};
  const held = new Promise<void>((resolve) => (answer = resolve));
  await page.route('**/api/brief', async (route) => {
    await held;
    await route.continue();
  });
  return () => answer();
}

describe('while a leg is typed', () => {
  it('its brief comes under the form, which keeps the focus, and one step back leads to where it began', async () => {
    const { page } = await openPage(browser, instance.baseUrl);
    await page.locator('#leg-route').fill('KBTV DCT KBGR');
    await page.locator('#leg-departure').fill('2026-01-14');
    await page.locator('#leg-time').fill('1130');
    await page.waitForURL((url) => url.searchParams.get('departure') === '2026-01-14T11:30Z');
    await waitForBrief(page);
    expect(await focusedId(page)).toBe('leg-time');
    expect(await page.locator('.typed-answer').textContent()).toContain(
      await page.locator('.answer-sentence').textContent(),
    );
    await page.locator('#leg-fluid').fill('60');
    await page.waitForURL((url) => url.searchParams.get('fluid') === '60');
    await waitForBrief(page);
    expect(await focusedId(page)).toBe('leg-fluid');
    await page.goBack();
    expect(new URL(page.url()).search).toBe('');
    await page.close();
  });

  it('the brief before it stays, and says that it is not the one asked for', async () => {
    const page = await openBrief();
    const answer = await holdAnswer(page);
    await page.getByText('Change the leg').click();
    await page.locator('#leg-fluid').fill('41');
    await page.locator('.asking-bar').waitFor();
    expect(await page.locator('.asking-bar').textContent()).toContain('KBTV → KBGR');
    expect(await page.locator('main[aria-busy="true"] .sheet-table').count()).toBe(1);
    expect(await page.locator('.leg-line').textContent()).not.toContain('fluid 41 L');
    answer();
    await waitForBrief(page);
    expect(await page.locator('.leg-line').textContent()).toContain('fluid 41 L');
    expect(await page.locator('.asking-bar').count()).toBe(0);
    await page.close();
  });

  it('a connection that comes back takes nothing of it away', async () => {
    const { page } = await openPage(browser, instance.baseUrl);
    await page.locator('#leg-route').fill('KBTV DCT K');
    await page.evaluate(() => window.dispatchEvent(new Event('online')));
    await page.getByLabel('local').check();
    await page.getByLabel('US gal').check();
    expect(await page.locator('#leg-route').inputValue()).toBe('KBTV DCT K');
    await page.close();
  });

  it('an altitude that is tapped meanwhile stays the one considered', async () => {
    const page = await openBrief();
    const answer = await holdAnswer(page);
    await page.getByText('Change the leg').click();
    await page.locator('#leg-fluid').fill('42');
    await page.locator('.asking-bar').waitFor();
    await page.locator('tr.row[data-altitude-ft="9000"]').click();
    answer();
    await waitForBrief(page);
    await page.locator('#readout-title', { hasText: '9,000' }).waitFor();
    await page.waitForURL((url) => url.searchParams.get('at') === '9000');
    await page.close();
  });

  it('fluid that cannot be read is said at once, and with a decimal comma it is read', async () => {
    const page = await openBrief();
    await page.getByText('Change the leg').click();
    const fluid = page.locator('#leg-fluid');
    expect(await fluid.getAttribute('inputmode')).toBe('decimal');
    await fluid.fill('20 gal');
    await page.locator('#leg-fluid[aria-invalid="true"]').waitFor();
    await fluid.fill('45,5');
    await page.waitForURL((url) => url.searchParams.get('fluid') === '45,5');
    await waitForBrief(page);
    expect(await page.locator('#leg-fluid').getAttribute('aria-invalid')).toBe('false');
    expect(await page.locator('.answer-facts').textContent()).toContain('on board');
    await page.close();
  });

  it('a figure that the service refuses takes the brief not away, and dims what is not of what is asked', async () => {
    const page = await openBrief();
    await page.getByText('Change the leg').click();
    await page.locator('#leg-fluid').fill('500');
    await page.getByRole('alert').waitFor();
    expect(await page.locator('.altitude-figure').isVisible()).toBe(true);
    await page.locator('.brief-behind').waitFor();
    const opacity = () => page.locator('.answer').evaluate((one) => Number(getComputedStyle(one).opacity));
    await expect.poll(opacity).toBeLessThan(0.5);
    await page.locator('#leg-fluid').fill('60');
    await waitForBrief(page);
    await expect.poll(() => page.locator('.brief-behind').count(), { timeout: 10_000 }).toBe(0);
    await page.close();
  });

  it('sending what was typed already is no second step, and folds the form', async () => {
    const { page } = await openPage(browser, instance.baseUrl);
    await page.locator('#leg-route').fill('KBTV DCT KBGR');
    await page.locator('#leg-departure').fill('2026-01-14');
    await page.locator('#leg-time').fill('1130');
    await page.waitForURL((url) => url.searchParams.get('departure') === '2026-01-14T11:30Z');
    await waitForBrief(page);
    await page.keyboard.press('Enter');
    await page.locator('.change-leg:not([open])').waitFor();
    await page.goBack();
    expect(new URL(page.url()).search).toBe('');
    await page.close();
  });

  it('half a route asks for nothing', async () => {
    const { page } = await openPage(browser, instance.baseUrl);
    const asked: string[] = [];
    page.on('request', (request) => asked.push(new URL(request.url()).pathname));
    await page.locator('#leg-route').fill('KBTV');
    await page.waitForTimeout(900);
    expect(asked).not.toContain('/api/brief');
    await page.locator('#leg-route').fill('KBTV KBGR');
    await page.waitForRequest('**/api/brief');
    await page.close();
  });

  it('the next empty form begins with the aircraft of the last leg, and with no old quantity of fluid', async () => {
    const page = await openBrief();
    await page.getByText('Change the leg').click();
    await page.locator('#leg-aircraft').selectOption('generic-boots-twin');
    await page.getByRole('button', { name: 'Brief this leg' }).click();
    await page.waitForURL((url) => url.searchParams.get('aircraft') === 'generic-boots-twin');
    await waitForBrief(page);
    expect(await focusedId(page)).toBe('answer-title');
    await page.goto(instance.baseUrl);
    await page.locator('#leg-aircraft option').nth(1).waitFor({ state: 'attached' });
    expect(await page.locator('#leg-aircraft').inputValue()).toBe('generic-boots-twin');
    expect(await page.locator('#leg-fluid').inputValue()).toBe('');
    await page.close();
  });
});

describe('the departure slider', () => {
  it('briefs the same leg at another time, in place, and keeps the focus and what was given', async () => {
    const page = await openBrief();
    await page.locator('tr.row[data-altitude-ft="9000"]').click();
    await page.waitForURL((url) => url.searchParams.get('at') === '9000');
    const slider = page.locator('#departure-slider');
    await slider.focus();
    for (let step = 0; step < 2; step += 1) await page.keyboard.press('ArrowRight');
    await page.waitForURL((url) => url.searchParams.get('departure') === '2026-01-14T12:30Z');
    await waitForBrief(page);
    expect(await page.locator('.leg-line').textContent()).toContain('12:30 UTC, 1:00 later');
    expect(await focusedId(page)).toBe('departure-slider');
    expect(parameter(page, 'at')).toBe('9000');
    await page.locator('#readout-title', { hasText: '9,000' }).waitFor();
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('ArrowLeft');
    await page.waitForURL((url) => url.searchParams.get('departure') === '2026-01-14T11:30:00Z');
    expect(await page.locator('.departure-slider output').textContent()).toBe('11:30 UTC, as asked');
    await page.goBack();
    expect(parameter(page, 'departure')).toBe('2026-01-14T11:30:00Z');
    await page.close();
  });

  it('that cannot be briefed leaves the brief before it in sight, and says so', async () => {
    const page = await openBrief();
    await page.route('**/api/brief', (route) => route.abort());
    await page.locator('#departure-slider').fill('60');
    const bar = page.getByRole('alert').filter({ hasText: 'Not briefed as asked for' });
    await bar.waitFor();
    expect(await bar.textContent()).toContain('14 Jan 11:30 UTC');
    expect(await page.locator('main .sheet-table tr.row').count()).toBeGreaterThan(5);
    await page.locator('#departure-slider').fill('0');
    await page.locator('.kept-band').waitFor();
    expect(await page.locator('.kept-bar').textContent()).toContain('Kept on this device: briefed');
    await page.close();
  });
});

describe('a brief of this device', () => {
  it('is shown when the service is not reached, under its age in large letters', async () => {
    const page = await openBrief();
    await page.route('**/api/brief', (route) => route.abort());
    await page.reload();
    const age = page.locator('.kept-age');
    await age.waitFor();
    expect(await age.textContent()).toBe('Briefed 0 min ago');
    expect(await age.evaluate((each) => Number.parseFloat(getComputedStyle(each).fontSize))).toBeGreaterThan(
      23,
    );
    expect(await page.locator('.kept-band').textContent()).toContain('what has changed since is unknown');
    expect(
      await page.locator('.altitude-figure, .answer-altitude h2, .answer-altitude p').first().count(),
    ).toBe(1);
    await keepScreenshot(page, 'kept-1280-light');
    await page.unroute('**/api/brief');
    await page.getByRole('button', { name: 'Brief again' }).click();
    await page.locator('.kept-band').waitFor({ state: 'detached' });
    await waitForBrief(page);
    await page.close();
  });

  it('keeps its age while another is asked for, and under a refusal', async () => {
    const page = await openBrief();
    await page.route('**/api/brief', (route) => route.abort());
    await page.reload();
    await page.locator('.kept-age').waitFor();
    await page.getByText('Change the leg').click();
    await page.locator('#leg-fluid').fill('47');
    await page.getByText('The service is not reached', { exact: true }).waitFor();
    expect(await page.locator('.brief-behind .kept-age').count()).toBe(1);
    await page.close();
  });

  it('is shown under its age where something else answers, or nothing for long', async () => {
    const page = await openBrief();
    await page.route('**/api/brief', (route) => route.fulfill({ status: 503, body: '<html>busy</html>' }));
    await page.reload();
    await page.locator('.kept-age').waitFor();
    let answer = () => {};
    const held = new Promise<void>((resolve) => (answer = resolve));
    await page.unroute('**/api/brief');
    await page.route('**/api/brief', async (route) => {
      await held;
      await route.continue();
    });
    await page.reload();
    await page.locator('main[aria-busy="true"] .kept-age').waitFor();
    answer();
    await page.locator('.kept-age').waitFor({ state: 'detached' });
    await waitForBrief(page);
    await page.close();
  });

  it('is not lost by sliding through many departures: those passed are not kept', async () => {
    const page = await openBrief();
    const slider = page.locator('#departure-slider');
    for (const [minutes, clock] of [
      ['30', '12:00'],
      ['60', '12:30'],
      ['90', '13:00'],
    ] as const) {
      await slider.fill(minutes);
      await page.waitForURL((url) => url.searchParams.get('departure') === `2026-01-14T${clock}Z`);
      await waitForBrief(page);
    }
    await page.waitForFunction(() => localStorage.getItem('rimeway-briefs')?.includes('13%3A00'));
    await page.goto(instance.baseUrl);
    const kept = await page.locator('.kept li b').allTextContents();
    expect(kept.map((words) => words.slice(-9))).toEqual(['13:00 UTC', '11:30 UTC']);
    await page.close();
  });

  it('does not stand in for another leg', async () => {
    const page = await openBrief();
    await page.route('**/api/brief', (route) => route.abort());
    await page.goto(`${page.url()}&hold=31`);
    expect(await page.getByRole('alert').textContent()).toContain('The service is not reached');
    expect(await page.locator('.answer').count()).toBe(0);
    await page.close();
  });

  it('opens again from the start page, or as the same leg of the next day', async () => {
    const page = await openBrief();
    const address = page.url();
    await page.goto(instance.baseUrl);
    const line = page.locator('.kept li').first();
    expect(await line.textContent()).toContain('KBTV → KBGR, 14 Jan 11:30 UTC');
    await line.getByRole('button', { name: /^Again/ }).click();
    const next = Date.parse(parameter(page, 'departure')!);
    expect(next - Date.now()).toBeGreaterThan(-60_000);
    expect(new Date(next).toISOString().slice(11, 16)).toBe('11:30');
    expect(parameter(page, 'fluid')).toBe(null);
    await page.goto(instance.baseUrl);
    await page.locator('.kept li', { hasText: '14 Jan 11:30' }).getByRole('button').first().click();
    expect(page.url()).toBe(address);
    await page.goto(instance.baseUrl);
    await page.getByRole('button', { name: 'Forget them' }).click();
    await page.locator('.kept').waitFor({ state: 'detached' });
    await page.close();
  });

  it('is readable after a reload with no connection at all', async () => {
    const page = await openBrief({ isKept: true });
    await page.evaluate(() => navigator.serviceWorker.ready);
    await page.reload();
    await waitForBrief(page);
    await page.context().setOffline(true);
    await page.reload();
    await page.locator('.kept-band').waitFor();
    expect(await page.locator('.sheet-table tr.row').count()).toBeGreaterThan(5);
    await page.locator('tr.row[data-altitude-ft="9000"]').click();
    await page.locator('#readout-title', { hasText: '9,000' }).waitFor();
    await page.goto(instance.baseUrl);
    expect(await page.locator('.kept li').count()).toBe(1);
    await page.context().setOffline(false);
    await page.close();
  });
});
