/** Shared briefs over time: without a connection, with contracts that have changed, and while the page is left open. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { CreatedBrief } from '../../worker/schema/shared-brief.ts';
import { frozenShared } from '../support/frozen-shared.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { demoLeg, keepScreenshot, launchBrowser, openPage, WITHOUT_MAP, waitForBrief } from './open-page.ts';

/** A busy machine may take its time. */
const soon = <Value>(look: () => Value) => expect.poll(look, { timeout: 15_000 });

let instance: TestInstance;
let browser: Browser;
beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

async function share(): Promise<CreatedBrief> {
  const body = JSON.stringify(demoLeg('over-the-deck').request);
  return (await (
    await fetch(`${instance.baseUrl}/api/briefs`, { method: 'POST', body })
  ).json()) as CreatedBrief;
}

const takeBack = ({ id, key }: CreatedBrief) =>
  fetch(`${instance.baseUrl}/api/briefs/${id}`, {
    method: 'DELETE',
    headers: { authorization: `Bearer ${key}` },
  });
const band = (page: Page) => page.locator('.shared-band');

describe('a shared brief that was opened here', () => {
  /** Opened, and everything that is kept is there. */
  async function openAndKeep({ link, id }: CreatedBrief): Promise<Page> {
    const { page } = await openPage(browser, `${instance.baseUrl}${link}`, { width: 820, isKept: true });
    await waitForBrief(page);
    await page.evaluate(() => navigator.serviceWorker.ready.then(() => undefined));
    await soon(() => page.evaluate((name) => caches.match(`/kept-shared/${name}`).then(Boolean), id)).toBe(
      true,
    );
    return page;
  }

  it('opens again without a connection, under its age, and says what is unknown of it', async () => {
    const made = await share();
    const page = await openAndKeep(made);
    const before = await page.locator('svg.section .bands').innerHTML();
    await page.context().setOffline(true);
    await page.reload();
    await waitForBrief(page);
    expect(await page.locator('svg.section .bands').innerHTML()).toBe(before);
    expect(await band(page).locator('.kept-age').textContent()).toMatch(/^Shared (just now|\d+ min ago)$/);
    expect(await band(page).textContent()).toMatch(
      /service gives no answer, so whether it was taken back is unknown/,
    );
    await soon(() => band(page).textContent()).toMatch(/What has changed since is unknown/);
    expect(await page.locator('.kept-band').count()).toBe(1);
    await keepScreenshot(page, 'shared-offline-820-light');
    await page.goto(`${instance.baseUrl}/`);
    const kept = page.getByRole('region', { name: 'Shared briefs opened on this device' });
    await kept.getByRole('link', { name: /KBTV → KBGR/ }).click();
    await waitForBrief(page);
    expect(await band(page).textContent()).toMatch(/Kept on this device/);
    // With the connection it is the service's again.
    await page.context().setOffline(false);
    await soon(() => band(page).textContent()).not.toMatch(/Kept on this device/);
    await page.close();
  });

  it('is kept no longer than this device hears that it was taken back', async () => {
    const made = await share();
    const page = await openAndKeep(made);
    await takeBack(made);
    await page.reload();
    await soon(() => page.locator('body').textContent()).toContain('This shared brief was taken back');
    await page.context().setOffline(true);
    await page.reload();
    await soon(() => page.locator('body').textContent()).toContain('The service is not reached');
    expect(await page.locator('svg.section').count()).toBe(0);
    await page.close();
  });

  it('is not opened from the device once its link has expired', async () => {
    const page = await openAndKeep(await share());
    await page.context().setOffline(true);
    await page.clock.setFixedTime(Date.now() + 31 * 86_400_000);
    await page.reload();
    await soon(() => page.locator('body').textContent()).toContain('The service is not reached');
    expect(await page.locator('svg.section').count()).toBe(0);
    await page.close();
  });

  it('one that was never opened here is not there without a connection, and nothing stands in for it', async () => {
    const page = await openAndKeep(await share());
    const { link } = await share();
    await page.context().setOffline(true);
    await page.goto(`${instance.baseUrl}${link}`);
    await soon(() => page.locator('body').textContent()).toContain('The service is not reached');
    expect(await page.locator('svg.section').count()).toBe(0);
    await page.close();
  });
});

describe('a brief shared when the contract was another', () => {
  /** The link opens what a released service answered. */
  async function openFrozen(change: object = {}): Promise<{ page: Page; asked: () => number }> {
    const { id, link } = await share();
    const { brief, about } = frozenShared('v1');
    const page = await browser.newPage({ viewport: { width: 820, height: 900 }, serviceWorkers: 'block' });
    let asked = 0;
    await page.route('**/api/brief', (route) => {
      asked += 1;
      return route.fallback();
    });
    await page.route(`**/api/briefs/${id}`, (route) =>
      route.fulfill({ body: brief, contentType: 'application/geo+json' }),
    );
    await page.route(`**${link}`, async (route) => {
      const html = await (await route.fetch()).text();
      const told = JSON.stringify({ ...about, id, ...change });
      const body = html.replace(
        /(id="shared-about">).*?(<\/script>)/,
        (_all, start, end) => `${start}${told}${end}`,
      );
      return route.fulfill({ body, contentType: 'text/html' });
    });
    await page.goto(`${instance.baseUrl}${link}`);
    await waitForBrief(page);
    return { page, asked: () => asked };
  }

  it('of the first released shape is drawn and compared', async () => {
    const { page } = await openFrozen();
    expect(await page.locator('h1').first().textContent()).toBe('KALB → KSWF');
    expect(await page.locator('svg.section .bands path').count()).toBeGreaterThan(3);
    await soon(() => band(page).textContent()).toMatch(/Briefed at|Changed since/);
    await page.close();
  });

  it('whose request is taken no more is drawn without comparison, and says so', async () => {
    const { page, asked } = await openFrozen({ request: null, storedRequest: { way: 'KALB KSWF' } });
    expect(await page.locator('svg.section .bands path').count()).toBeGreaterThan(3);
    expect(await band(page).textContent()).toMatch(
      /What has changed since is unknown: this service does not take what was asked then any more/,
    );
    expect(await page.getByRole('button', { name: 'Brief the leg now' }).count()).toBe(0);
    expect(await page.getByLabel('Leave').count()).toBe(0);
    expect(await page.locator('.share-card').textContent()).toContain('Not this one');
    await page.waitForTimeout(500);
    expect(asked()).toBe(0);
    await page.close();
  });
});

describe('a shared brief that is left open', () => {
  it('asks every five minutes what has changed since, and takes no older answer for a new one', async () => {
    const { link } = await share();
    const page = await browser.newPage({ viewport: { width: 820, height: 900 }, serviceWorkers: 'block' });
    await page.clock.install();
    let asked = 0;
    let isDown = false;
    await page.route('**/api/brief', (route) => {
      asked += 1;
      return isDown ? route.abort() : route.fallback();
    });
    await page.goto(`${instance.baseUrl}${link}`);
    await waitForBrief(page);
    await page.clock.runFor(3000);
    await soon(() => band(page).textContent()).toMatch(/it says the same/);
    expect(asked).toBe(1);
    await page.clock.runFor(4 * 60_000);
    expect(asked).toBe(1);
    isDown = true;
    await page.clock.runFor(90_000);
    await soon(() => asked).toBe(2);
    await soon(() => band(page).textContent()).toMatch(/What has changed since is unknown/);
    isDown = false;
    await page.clock.runFor(4 * 60_000);
    expect(asked).toBe(2);
    await page.clock.runFor(90_000);
    await soon(() => asked).toBe(3);
    await soon(() => band(page).textContent()).toMatch(/it says the same/);
    await page.close();
  });

  it('asks no more once another leg is opened', async () => {
    const { link } = await share();
    const page = await browser.newPage({ viewport: { width: 820, height: 900 }, serviceWorkers: 'block' });
    await page.clock.install();
    let asked = 0;
    await page.route('**/api/brief', (route) => {
      asked += 1;
      return route.fallback();
    });
    await page.goto(`${instance.baseUrl}${link}`);
    await waitForBrief(page);
    await page.clock.runFor(3000);
    await soon(() => asked).toBe(1);
    await page.getByRole('button', { name: 'Brief the leg now' }).click();
    await page.waitForURL(/\/\?route=/);
    await soon(() => asked).toBe(2);
    await page.clock.runFor(12 * 60_000);
    expect(asked).toBe(2);
    await page.close();
  });
});

it('says so where the service cannot read it, and shows nothing in its place', async () => {
  const { id, link } = await share();
  const page = await browser.newPage({ viewport: { width: 820, height: 900 }, serviceWorkers: 'block' });
  const problem = {
    type: 'about:blank',
    title: 'The service made an error',
    status: 500,
    detail: 'try again',
  };
  await page.route(`**/api/briefs/${id}**`, (route) =>
    route.fulfill({ status: 500, body: JSON.stringify(problem), contentType: 'application/problem+json' }),
  );
  await page.goto(`${instance.baseUrl}${link}`);
  await expect
    .poll(() => page.locator('.message-refused').textContent())
    .toContain('The service made an error');
  expect(await page.locator('svg.section').count()).toBe(0);
  await page.close();
});
