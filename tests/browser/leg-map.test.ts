/** The map on which a leg is picked, in the entry form of the real page. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { keepScreenshot, type Looks, launchBrowser, openPage, waitForBrief } from './open-page.ts';

let instance: TestInstance;
let browser: Browser;

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser()]);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

/** The start page with the map unfolded. */
async function openMap(looks: Looks = {}, within = browser) {
  const opened = await openPage(within, instance.baseUrl, looks);
  await opened.page.getByText('Pick the leg on a map').click();
  return opened;
}

const routeOf = (page: Page) => page.locator('#leg-route').inputValue();

async function tap(page: Page, ident: string): Promise<void> {
  const box = (await page.locator(`.leg-map [data-feature-id="${ident}"]`).boundingBox())!;
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
}

it.each(['light', 'dark'] as const)(
  'takes the departure with the first tap and the destination with the second, %s',
  async (theme) => {
    const { page, complaints } = await openMap({ theme });
    const says = page.locator('.leg-map [role="status"]');
    await page.locator('.leg-map [data-feature-id="KBGR"]').waitFor();
    expect(await says.textContent()).toMatch(/^Departure/);
    await keepScreenshot(page, `leg-map-${theme}`);
    await tap(page, 'KBTV');
    expect(await says.textContent()).toMatch(/^From KBTV, .+ Destination/);
    expect(await routeOf(page)).toBe('');
    await tap(page, 'KBGR');
    expect(await routeOf(page)).toBe('KBTV DCT KBGR');
    await page.waitForURL((url) => url.searchParams.get('route') === 'KBTV DCT KBGR');
    await waitForBrief(page);
    await tap(page, 'KPWM');
    expect(await says.textContent()).toMatch(/^From KPWM/);
    await keepScreenshot(page, `leg-map-picked-${theme}`);
    expect(complaints).toEqual([]);
    await page.close();
  },
);

it('takes the aerodrome in its middle by keyboard', async () => {
  const { page } = await openPage(browser, instance.baseUrl);
  await page.route('**/api/sources', (route) =>
    route.fulfill({ json: { soundings: [{ latDeg: 44.4719, lonDeg: -73.1533 }] } }),
  );
  await page.getByText('Pick the leg on a map').click();
  await page.locator('.leg-map [data-feature-id="KBTV"]').waitFor();
  await page.locator('.leg-map canvas').focus();
  await page.keyboard.press('Enter');
  expect(await page.locator('.leg-map [role="status"]').textContent()).toMatch(/^From KBTV/);
  expect(await page.locator('.leg-map-middle').isVisible()).toBe(true);
  await page.close();
});

it('says to zoom in where more is in view than the service tells', async () => {
  const { page } = await openMap();
  await page.locator('.leg-map [data-feature-id="KBGR"]').waitFor();
  for (let step = 0; step < 3; step += 1) {
    await page.getByRole('button', { name: 'Zoom out' }).click();
    await page.waitForTimeout(400);
  }
  await page.locator('.leg-map [role="status"]', { hasText: 'Zoom in' }).waitFor();
  expect(await page.locator('.leg-map .mark-aerodrome').count()).toBe(0);
  await page.close();
});

it('says without WebGL that the route is typed', async () => {
  const bare = await launchBrowser(['--disable-3d-apis']);
  const { page } = await openMap({}, bare);
  await page.locator('.map-fold').getByText('no map can be drawn: type the route').waitFor();
  expect(await page.locator('.leg-map').count()).toBe(0);
  await bare.close();
});
