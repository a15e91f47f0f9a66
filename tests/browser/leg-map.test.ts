/** The map on which a leg is picked, mounted alone from its source over the real service. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { build, type PreviewServer, preview } from 'vite';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { keepScreenshot, launchBrowser, openPage } from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
let server: PreviewServer;
let baseUrl: string;
const outDir = mkdtempSync(join(tmpdir(), 'leg-map-'));

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser()]);
  const common = {
    configFile: false as const,
    root: fileURLToPath(new URL('leg-map-page', import.meta.url)),
    logLevel: 'error' as const,
  };
  await build({
    ...common,
    json: { stringify: true },
    worker: { format: 'es' },
    build: { outDir, emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 1200 },
  });
  server = await preview({
    ...common,
    build: { outDir },
    preview: { port: 0, proxy: { '/api': instance.baseUrl } },
  });
  baseUrl = server.resolvedUrls!.local[0]!;
}, 60_000);
afterAll(async () => {
  await server?.close();
  await browser?.close();
  await instance?.stop();
  rmSync(outDir, { recursive: true, force: true });
});

async function tap(page: Page, ident: string): Promise<void> {
  const box = (await page.locator(`.leg-map [data-feature-id="${ident}"]`).boundingBox())!;
  await page.mouse.click(box.x + box.width / 2, box.y + box.height / 2);
}

it.each(['light', 'dark'] as const)(
  'takes the departure with the first tap and the destination with the second, %s',
  async (theme) => {
    const { page, complaints } = await openPage(browser, baseUrl, { theme });
    const says = page.locator('.leg-map [role="status"]');
    await page.locator('.leg-map [data-feature-id="KBGR"]').waitFor();
    expect(await says.textContent()).toMatch(/^Departure/);
    await keepScreenshot(page, `leg-map-${theme}`);
    await tap(page, 'KBTV');
    expect(await says.textContent()).toMatch(/^From KBTV, .+ Destination/);
    expect(await page.title()).toBe('');
    await tap(page, 'KBGR');
    expect(await page.title()).toBe('KBTV DCT KBGR;');
    await tap(page, 'KPWM');
    expect(await says.textContent()).toMatch(/^From KPWM/);
    await keepScreenshot(page, `leg-map-picked-${theme}`);
    expect(complaints).toEqual([]);
    await page.close();
  },
);

it('takes the aerodrome in its middle by keyboard', async () => {
  const { page } = await openPage(browser, `${baseUrl}?box=-73.3033,44.3719,-73.0033,44.5719`);
  await page.locator('.leg-map [data-feature-id="KBTV"]').waitFor();
  await page.locator('.leg-map canvas').focus();
  await page.keyboard.press('Enter');
  expect(await page.locator('.leg-map [role="status"]').textContent()).toMatch(/^From KBTV/);
  expect(await page.locator('.leg-map-middle').isVisible()).toBe(true);
  await page.close();
});

it('says to zoom in where more is in view than the service tells', async () => {
  const { page } = await openPage(browser, baseUrl);
  await page.locator('.leg-map [data-feature-id="KBGR"]').waitFor();
  for (let step = 0; step < 3; step += 1) {
    await page.getByRole('button', { name: 'Zoom out' }).click();
    await page.waitForTimeout(400);
  }
  await page.locator('.leg-map [role="status"]', { hasText: 'Zoom in' }).waitFor();
  expect(await page.locator('.leg-map .mark-aerodrome').count()).toBe(0);
  await page.close();
});

it('is not offered without WebGL', async () => {
  const bare = await launchBrowser(['--disable-3d-apis']);
  const { page } = await openPage(bare, baseUrl);
  await page.waitForLoadState('networkidle');
  expect(await page.locator('main').count()).toBe(1);
  expect(await page.locator('.leg-map').count()).toBe(0);
  await bare.close();
});
