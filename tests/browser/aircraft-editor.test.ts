/** Figures of the aircraft are edited, sent, kept on the device and in the address, and given back; by keyboard too. */
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

let instance: TestInstance;
let browser: Browser;
const leg = demoLeg('quiet');

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
});

afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

async function openEditor(page: Page): Promise<void> {
  await page.locator('.change-leg summary').first().click();
  await page.locator('.aircraft-editor summary').click();
  await page.locator('.editor-note').waitFor();
}

const highest = (page: Page) =>
  page.locator('tr.row[data-altitude-ft]').first().getAttribute('data-altitude-ft');

it('a ceiling edited by keyboard changes the brief, and stays in the address and on the device', async () => {
  const { page, complaints } = await openPage(browser, legUrl(instance.baseUrl, leg));
  await page.locator('.cautions').waitFor();
  expect(Number(await highest(page))).toBeGreaterThan(8000);
  await openEditor(page);
  expect(await page.locator('.editor-note').textContent()).toContain('your flight manual');
  // The ceiling with ice may not lie above it.
  await page.locator('#figure-icedCeilingFt').fill('8000');
  await page.locator('#figure-ceilingFt').focus();
  await page.keyboard.press('Control+A');
  await page.keyboard.type('8000');
  await page.keyboard.press('Enter');
  await page.waitForURL((url) => url.search.includes('edited-generic'));
  await waitForBrief(page);
  expect(await highest(page)).toBe('8000');
  const again = await openPage(browser, page.url());
  await again.page.locator('.cautions').waitFor();
  expect(await highest(again.page)).toBe('8000');
  await page.goto(instance.baseUrl);
  await page
    .locator('#leg-aircraft option', { hasText: 'edited on this device' })
    .waitFor({ state: 'attached' });
  expect(complaints).toEqual([]);
  await page.close();
  await again.page.close();
});

it('a figure that does not fit says why, and is not sent', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
  await page.locator('.cautions').waitFor();
  const address = page.url();
  await openEditor(page);
  await page.locator('#figure-protection-normalFlowLPerMin').fill('fast');
  expect(await page.locator('#figure-protection-normalFlowLPerMin-complaint').textContent()).toBe(
    'a number is needed',
  );
  await page.keyboard.press('Enter');
  expect(
    await page.locator('#leg-aircraft-complaint, .field-aircraft .complaint').first().textContent(),
  ).toContain('protection.normalFlowLPerMin');
  expect(await page.evaluate(() => document.activeElement?.id)).toBe('figure-protection-normalFlowLPerMin');
  expect(page.url()).toBe(address);
  await keepScreenshot(page, 'editor-1280-light');
  await page.close();
});

it('the invented figures are one tap away', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
  await openEditor(page);
  await page.locator('#figure-ceilingFt').fill('8000');
  await page.getByRole('button', { name: 'Back to the invented figures' }).click();
  await page.locator('.aircraft-editor:not([open])').waitFor();
  await page.locator('.aircraft-editor summary').click();
  expect(await page.locator('#figure-ceilingFt').inputValue()).toBe('25000');
  expect(await page.locator('#leg-aircraft').inputValue()).toBe('generic-fluid-turboprop');
  expect(await page.locator('#leg-aircraft option', { hasText: 'edited on this device' }).count()).toBe(0);
  await page.close();
});

it('a profile too long for the address is named in it, and the page says that it lives here', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
  await openEditor(page);
  for (let row = 0; row < 14; row += 1) {
    await page.getByRole('button', { name: 'Add a row to cruise speed' }).click();
    const cells = page.locator('.performance').first().locator('tbody tr').last().locator('input');
    await cells.nth(1).fill(String(25100 + row * 100));
    await cells.nth(2).fill('180');
  }
  await page.getByRole('button', { name: 'Brief this leg' }).click();
  await page.waitForURL((url) => url.searchParams.get('aircraft')?.startsWith('on-this-device:') === true);
  await page.locator('.on-device').waitFor();
  await page.reload();
  await page.locator('.cautions').waitFor();
  const stranger = await openPage(browser, page.url());
  expect(await stranger.page.getByRole('alert').textContent()).toContain('kept on another device');
  await page.close();
  await stranger.page.close();
});

it('options that most legs do not need are folded, and open where they are used', async () => {
  const { page } = await openPage(browser, `${legUrl(instance.baseUrl, leg)}&hold=45&crossing=20:9000`);
  await page.locator('.cautions').waitFor();
  expect(await page.locator('.crossings path').count()).toBe(1);
  expect(await page.locator('.data').textContent()).toContain('hold 45 min');
  await page.locator('.change-leg summary').first().click();
  expect(await page.locator('#leg-hold').inputValue()).toBe('45');
  expect(await page.locator('#leg-crossing').isVisible()).toBe(true);
  expect(await page.locator('.part-planned', { hasText: 'hold' }).locator('td').first().textContent()).toBe(
    '45',
  );
  await page.locator('#leg-hold').fill('never');
  await page.keyboard.press('Enter');
  expect(await page.locator('.field-hold .complaint').textContent()).toContain('0 to 240');
  await page.locator('#leg-hold').fill('0');
  await page.locator('#leg-direction').selectOption('icao-annex-2');
  await page.getByRole('button', { name: 'Brief this leg' }).click();
  await page.waitForURL((url) => url.searchParams.get('direction') === 'icao-annex-2');
  await page.close();
});
