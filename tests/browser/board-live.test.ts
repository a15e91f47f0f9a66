/** A real board of the running service in two browsers at once: what one does the other sees, and both see the brief itself. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { type BoardStage, makeBoard } from '../support/board-stage.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { keepScreenshot, launchBrowser, openPage, WITHOUT_MAP } from './open-page.ts';

const CSV = [
  'label,tail,route,weekdays,departureLocal,aircraft,alternate,plannedMinutes',
  '101,ZZ-ONE,KBTV DCT KBGR,wed,06:30,generic-fluid-turboprop,KPWM,75',
  '103,ZZ-TWO,KALB DCT KSWF,wed,07:30,generic-fluid-turboprop,,40',
  '107,ZZ-FIVE,KPQI DCT CYYY,wed,08:00,generic-boots-twin,,50',
].join('\n');

let instance: TestInstance;
let browsers: Browser[];
let stage: BoardStage;
beforeAll(async () => {
  [instance, ...browsers] = await Promise.all([
    startLocalInstance(),
    launchBrowser(WITHOUT_MAP),
    launchBrowser(WITHOUT_MAP),
  ]);
  stage = await makeBoard(instance);
  await stage.ask('POST', '/legs/import?replace=true', { body: CSV });
  await stage.settled();
});
afterAll(async () => {
  await Promise.all(browsers.map((browser) => browser.close()));
  await instance?.stop();
});

const open = async (browser: Browser, key: string) => {
  const opened = await openPage(browser, `${instance.baseUrl}/board/${stage.id}#${key}`);
  await opened.page.locator('.hearing-live').waitFor();
  await opened.page.locator('.flight-row').first().waitFor();
  return opened;
};

it('a mark made in one browser is seen in the other without asking for it, and nothing is complained of', async () => {
  const [desk, tablet] = await Promise.all([
    open(browsers[0]!, stage.editKey),
    open(browsers[1]!, stage.viewKey),
  ]);
  const row = (label: string) => `.flight-row:has(.leg-label:text-is("${label}"))`;
  await tablet.page.locator(row('107')).waitFor();
  const flight = (await stage.board()).flights.find(({ label }) => label === '107')!;
  const startMs = performance.now();
  const seen = tablet.page
    .locator(`${row('107')} .mark-done`)
    .first()
    .waitFor();
  const body = { mark: 'departed', atUtc: '2026-01-14T13:02:00Z', by: 'Ada' };
  expect((await stage.ask('POST', `/flights/${flight.id}/marks`, { body })).status).toBe(200);
  await Promise.all([
    seen,
    desk.page
      .locator(`${row('107')} .mark-done`)
      .first()
      .waitFor(),
  ]);
  const afterMs = performance.now() - startMs;
  process.stdout.write(`both browsers saw the mark after ${Math.round(afterMs)} ms\n`);
  // Aimed at two seconds; a machine in need may take longer, but nobody asked by then: that is done every twenty.
  expect(afterMs).toBeLessThan(15_000);
  expect(await tablet.page.locator(row('107')).textContent()).toContain('13:02');
  // The secret is gone from the address as soon as it is read.
  expect(tablet.page.url()).not.toContain(stage.viewKey);
  await keepScreenshot(desk.page, 'board-live');
  expect([...desk.complaints, ...tablet.complaints]).toEqual([]);
  await Promise.all([desk.page.close(), tablet.page.close()]);
});

it('a leg that is chosen opens its brief beside the list: the page itself, with what the board said', async () => {
  const { page, complaints } = await open(browsers[0]!, stage.viewKey);
  await page.locator('.flight-row:has(.leg-label:text-is("103"))').click();
  const brief = page.frameLocator('iframe');
  await brief.locator('main[aria-busy="false"] .cautions').waitFor();
  const said = (await stage.board()).flights.find(({ label }) => label === '103')!;
  expect(await brief.locator('main').textContent()).toContain(said.why.replace(/\.$/, ''));
  expect(complaints).toEqual([]);
  await page.close();
});

it('every button of the board’s parts can be read: its words are not of the color they stand on', async () => {
  const { page } = await open(browsers[0]!, stage.editKey);
  const unread: string[] = [];
  for (const part of ['Handover', 'Schedule and links', 'Messages to this device']) {
    await page.getByRole('button', { name: part, exact: true }).click();
    await page.locator('.beside-body h2, .beside-body h3').first().waitFor();
    unread.push(
      ...(await page.locator('button:visible').evaluateAll((buttons) =>
        buttons
          .filter((button) => {
            const { color, backgroundColor } = getComputedStyle(button);
            const ground = /, 0\)$/.test(backgroundColor)
              ? getComputedStyle(document.body).backgroundColor
              : backgroundColor;
            return color === ground;
          })
          .map((button) => button.textContent ?? ''),
      )),
    );
    await page.getByRole('button', { name: part, exact: true }).click();
  }
  expect(unread).toEqual([]);
  await page.close();
});
