/** What was shared from this device: listed with its keys, opened, taken back, and tried again where that failed. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
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

const card = (page: Page) => page.locator('.share-card');

async function openLeg(): Promise<Page> {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg('over-the-deck')), {
    width: 820,
  });
  await waitForBrief(page);
  return page;
}

/** @returns the link's path. */
async function share(page: Page): Promise<string> {
  const links = card(page).locator('.share-made > p a');
  const before = (await links.count()) === 0 ? '' : await links.getAttribute('href');
  await card(page).getByRole('button', { name: 'Make a link' }).click();
  const made = card(page).locator(`.share-made > p a:not([href="${before}"])`);
  return (await made.getAttribute('href'))!;
}

const statusOf = async (link: string) =>
  (await fetch(`${instance.baseUrl}/api/briefs/${link.slice(3)}`)).status;

it('stays open while taking it back fails, says so, and is taken back by the next try', async () => {
  const page = await openLeg();
  const link = await share(page);
  await page.route('**/api/briefs/*', (route) =>
    route.request().method() === 'DELETE' ? route.abort() : route.fallback(),
  );
  const button = card(page).locator('.share-made').getByRole('button', { name: 'Take it back' });
  await button.click();
  await soon(() => card(page).locator('.share-made').textContent()).toContain('Not taken back');
  expect(await statusOf(link)).toBe(200);
  // Of the service, or of something between: no end either.
  await page.route('**/api/briefs/*', (route) =>
    route.request().method() === 'DELETE' ? route.fulfill({ status: 500, body: '' }) : route.fallback(),
  );
  await button.click();
  await soon(() => button.isEnabled()).toBe(true);
  expect(await card(page).textContent()).toContain('the link is open still: try again');
  expect(await statusOf(link)).toBe(200);
  await page.unroute('**/api/briefs/*');
  await button.click();
  await soon(() => card(page).textContent()).toContain('Taken back: the link opens nothing any more');
  expect(await statusOf(link)).toBe(410);
  await page.close();
});

it('is listed by leg and time, also after the page was loaded again, and each is taken back by a tap', async () => {
  const page = await openLeg();
  const [one, other] = [await share(page), await share(page)];
  await page.reload();
  await waitForBrief(page);
  const list = card(page).locator('.own-shares');
  await list.getByText('Shared from this device (2)').click();
  const lines = list.locator('li');
  expect(
    await lines.locator('a').evaluateAll((links) => links.map((each) => each.getAttribute('href'))),
  ).toEqual([other, one]);
  expect(await lines.first().textContent()).toMatch(
    /KBTV → KBGR, 14 Jan 11:30 UTC shared \d+ \w+ 20\d\d \d\d:\d\d UTC, open until \d+ \w+ 20\d\d/,
  );
  await keepScreenshot(page, 'own-shares-820-light');
  await lines
    .last()
    .getByRole('button', { name: /Take back KBTV/ })
    .click();
  await soon(() => lines.count()).toBe(1);
  expect([await statusOf(one), await statusOf(other)]).toEqual([410, 200]);
  expect(await page.evaluate(() => localStorage.getItem('rimeway-shared-briefs'))).not.toContain(
    one.slice(3),
  );
  // Taken back elsewhere meanwhile: that is no failure.
  const key = await page.evaluate(
    () => JSON.parse(localStorage.getItem('rimeway-shared-briefs')!)[0].key as string,
  );
  await fetch(`${instance.baseUrl}/api/briefs/${other.slice(3)}`, {
    method: 'DELETE',
    headers: { authorization: `Bearer ${key}` },
  });
  await lines.getByRole('button').click();
  await soon(() => lines.count()).toBe(0);
  expect(await list.textContent()).toContain('Taken back: KBTV → KBGR');
  await page.close();
});

it('what was shared before more than its key was kept is listed too, and what expired is not', async () => {
  const page = await openLeg();
  const link = await share(page);
  await page.evaluate(() => {
    const [{ id, key }] = JSON.parse(localStorage.getItem('rimeway-shared-briefs')!);
    const expired = {
      id: 'x'.repeat(22),
      key,
      title: 'KALB → KSWF, 2026-01-14T12:30:00Z',
      expiresUtc: '2026-01-01T00:00:00Z',
    };
    localStorage.setItem('rimeway-shared-briefs', JSON.stringify([{ id, key }, expired]));
  });
  await page.reload();
  await waitForBrief(page);
  const list = card(page).locator('.own-shares');
  await list.getByText('Shared from this device (1)').click();
  expect(await list.locator('li a').textContent()).toBe(`Link ${link.slice(3, 9)}…`);
  await list.getByRole('button', { name: /Take back Link/ }).click();
  await soon(() => statusOf(link)).toBe(410);
  await page.close();
});
