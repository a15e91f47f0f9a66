/** A brief that is shared: one tap makes the link, whoever opens it sees the same, and what changed since stands beside it. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { CreatedBrief } from '../../worker/schema/shared-brief.ts';
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

it('is made by a tap, opened by its link, and taken back by another tap', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg('over-the-deck')), {
    width: 820,
  });
  await waitForBrief(page);
  const card = page.locator('.share-card');
  await card.getByRole('button', { name: 'Make a link' }).click();
  const link = card.locator('.share-made a');
  await link.waitFor();
  expect(await card.getByRole('img', { name: /QR code/ }).count()).toBe(1);
  const other = await openPage(browser, new URL((await link.getAttribute('href'))!, instance.baseUrl).href, {
    width: 820,
  });
  await waitForBrief(other.page);
  expect(await other.page.locator('h1').first().textContent()).toBe('KBTV → KBGR');
  expect(await other.page.locator('.shared-band .kept-age').textContent()).toMatch(
    /^Shared (just now|\d+ min ago)$/,
  );
  await expect
    .poll(() => other.page.locator('.shared-band').textContent())
    .toMatch(/Briefed at \d+ \w+ 20\d\d \d\d:\d\d UTC it says the same/);
  await keepScreenshot(other.page, 'shared-820-light');
  await card.getByRole('button', { name: 'Take it back' }).click();
  await expect.poll(() => card.textContent()).toContain('Taken back: the link');
  await other.page.reload();
  await expect
    .poll(() => other.page.locator('body').textContent())
    .toContain('This shared brief was taken back');
  await page.close();
  await other.page.close();
});

it('never changes under whoever reads it: what changed since stands beside it, and the leg is briefed anew by a tap', async () => {
  const { link } = await share();
  const report = 'KBTV UUA /OV KBTV090040/TM 1125/FL110/TP ZZZZ/IC SEV CLR 100-120=';
  const stored = await fetch(`${instance.baseUrl}/api/reports?near=2026-01-14T11:30:00Z`, {
    method: 'POST',
    body: report,
    headers: { authorization: `Bearer ${instance.operatorKey}` },
  });
  expect(stored.status).toBe(201);
  const { page } = await openPage(browser, `${instance.baseUrl}${link}`, { width: 820 });
  await waitForBrief(page);
  await page.locator('.shared-changes').waitFor();
  const changes = (await page.locator('.shared-changes').textContent()) ?? '';
  expect(changes).toMatch(/Altitude to file: 11,000 ft then, none now/);
  expect(changes).toMatch(/11,000 ft: Within limits then, Outside limits now: severe icing reported/);
  // The brief itself is the old one.
  expect(await page.locator('main').textContent()).toContain('File 11,000 ft');
  expect(await page.locator('.reports').count()).toBe(0);
  await page.getByRole('button', { name: 'Brief the leg now' }).click();
  await page.waitForURL(/\/\?route=/);
  await page.locator('.shared-band').waitFor({ state: 'detached' });
  await waitForBrief(page);
  await expect.poll(() => page.locator('.reports').textContent()).toMatch(/severe/);
  await page.goBack();
  await page.locator('.shared-band').waitFor();
  await page.close();
});

it('shows nothing of a shared brief without its band, also while the leg cannot be briefed now', async () => {
  const { link } = await share();
  const { page } = await openPage(browser, `${instance.baseUrl}${link}`, { width: 820 });
  await waitForBrief(page);
  await page.route('**/api/brief', (route) => route.abort());
  await page.getByRole('button', { name: 'Brief the leg now' }).click();
  await page.waitForURL(/\/\?route=/);
  const looks: { readonly isShown: boolean; readonly bands: number }[] = [];
  for (let look = 0; look < 10; look += 1) {
    looks.push(
      await page.evaluate(() => ({
        isShown: document.querySelector('svg.section') !== null,
        bands: document.querySelectorAll('.shared-band').length,
      })),
    );
    await page.waitForTimeout(100);
  }
  expect(looks.filter(({ isShown }) => isShown)).not.toEqual([]);
  expect(looks.filter(({ isShown, bands }) => isShown && bands !== 1)).toEqual([]);
  await page.close();
});
