/** The cards for before take-off and in flight: one thumb, without a connection, on paper, and a report that is stored. */
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
beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

async function open(id: string, width: number): Promise<Page> {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg(id)), { width });
  await waitForBrief(page);
  await page.locator('.cue-part').first().waitFor();
  return page;
}

const press = async (page: Page, name: string, times = 1) => {
  for (let time = 0; time < times; time += 1) await page.getByRole('button', { name, exact: true }).click();
};

it('every card has targets for a thumb, and the caution stands on the page', async () => {
  const page = await open('over-the-deck', 360);
  const small: string[] = [];
  for (const target of await page
    .locator('.flight-cards :is(button, label:has(input), input:not([type="checkbox"]))')
    .all()) {
    const box = await target.boundingBox();
    if (box !== null && box.height < 44) small.push((await target.textContent()) ?? '');
  }
  expect(small).toEqual([]);
  expect(await page.locator('.flight-cards button').count()).toBeGreaterThan(20);
  expect(await page.locator('main').textContent()).toContain(
    'Advice only, never a statement that a flight is safe',
  );
  const isTooWide = await page.evaluate(() => document.documentElement.scrollWidth > innerWidth);
  expect(isTooWide).toBe(false);
  await keepScreenshot(page, 'flight-360-light');
  await page.close();
});

it('the list before take-off is of this leg, and is ticked for this leg alone', async () => {
  const page = await open('over-the-deck', 820);
  const list = page.locator('.checklist');
  expect(await list.textContent()).toMatch(
    /Within limits.*clean.*Probe heat on.*Inlet separator on before take-off.*Fluid primed/,
  );
  const first = list.getByRole('checkbox').first();
  await first.check();
  expect(await first.isChecked()).toBe(true);
  await page.goto(legUrl(instance.baseUrl, demoLeg('quiet')));
  await waitForBrief(page);
  expect(await page.locator('.checklist').getByRole('checkbox').first().isChecked()).toBe(false);
  await page.close();
});

it('the cards are of the altitude that is considered, once the keys rest, and on paper at once', async () => {
  const page = await open('over-the-deck', 1280);
  const title = page.locator('#cue-title');
  const feet = async () =>
    Number(/([\d,]+) ft/.exec((await title.textContent()) ?? '')![1]!.replace(',', ''));
  const filedFt = await feet();
  await page.locator('.handle-altitude').focus();
  await page.keyboard.press('ArrowDown');
  await expect.poll(feet).toBeLessThan(filedFt);
  const lowerFt = await feet();
  const onPaperFt = await page.evaluate(() => {
    const handle = document.querySelector('.handle-altitude')!;
    handle.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowUp', bubbles: true }));
    dispatchEvent(new Event('beforeprint'));
    return Promise.resolve().then(() => document.querySelector('#cue-title')!.textContent);
  });
  expect(onPaperFt).not.toContain(`${lowerFt.toLocaleString('en')} ft`);
  await page.close();
});

it('a thinner rod shows more, and is remembered', async () => {
  const page = await open('over-the-deck', 820);
  const high = async () =>
    Number(
      await page
        .locator('.cue-part[data-part="climb"] .cue-grown tbody tr:last-child td')
        .last()
        .textContent(),
    );
  const rod = page.getByLabel('Rod that you watch, diameter in mm');
  await rod.fill('40');
  const thick = await high();
  await rod.fill('500');
  expect(await page.locator('.rod-choice').textContent()).toContain('3 to 60 mm: counted as 40');
  await rod.fill('5');
  await expect.poll(high).toBeGreaterThan(thick);
  await page.reload();
  await waitForBrief(page);
  expect(await rod.inputValue()).toBe('5');
  await page.close();
});

it('what is seen is judged without a connection: little says nothing, much and a sign say leave', async () => {
  const page = await open('over-the-deck', 820);
  await page.context().setOffline(true);
  const result = page.locator('.seen-result');
  expect(await result.count()).toBe(0);
  await press(page, 'Ice, thickness: more', 1);
  expect(await result.textContent()).toMatch(/Fluid on.*mm\/min on the rod; water .* g\/m³/);
  await press(page, 'Ice, thickness: more', 20);
  await expect.poll(() => page.locator('.seen-leave').textContent()).toMatch(/severe/i);
  await press(page, 'ice on side windows');
  expect(await page.locator('.seen-leave li').first().textContent()).toContain(
    'Signs of large drops: leave at once',
  );
  await page.close();
});

it('signs say leave at once in air that nobody knows', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg('out-of-data')), { width: 360 });
  await waitForBrief(page);
  await page.locator('.seen-keys').waitFor();
  await press(page, '+5 NM', 20);
  await press(page, 'ice on side windows');
  expect(await page.locator('.seen-leave').textContent()).toContain('Signs of large drops: leave at once');
  await press(page, 'New look: forget what was entered');
  expect(await page.locator('.seen-leave').count()).toBe(0);
  await page.close();
});

it('the minutes since the first ice survive a reload', async () => {
  const page = await open('over-the-deck', 820);
  await press(page, 'First ice now');
  await page.reload();
  await waitForBrief(page);
  expect(await page.locator('.first-ice-since').textContent()).toMatch(/^First ice \d\d:\d\d UTC, 1 min ago/);
  await page.close();
});

it('a report is composed from what was entered, waits for a key, and is stored with one', async () => {
  const page = await open('over-the-deck', 820);
  const text = page.locator('.report-composed code');
  expect(await text.textContent()).not.toContain('/IC');
  await page.locator('.report-card').getByRole('button', { name: 'moderate', exact: true }).click();
  await page.locator('.report-card').getByRole('button', { name: 'rime', exact: true }).click();
  await page.getByLabel('Cloud tops, ft').fill('9500');
  await page.getByRole('button', { name: '11,000 ft, as planned here' }).click();
  await expect
    .poll(() => text.textContent())
    .toMatch(/^KBTV UA \/OV .*\/FL110\/TP UNKN\/SK TOP095\/IC MOD RIME$/);
  await press(page, 'Keep and send');
  // The next report begins empty.
  expect(await text.textContent()).not.toContain('/IC');
  const own = page.locator('.own-reports li');
  await expect.poll(() => own.textContent()).toMatch(/waiting: waits for the key/);
  const key = page.getByLabel('Key of your operator');
  await key.fill(instance.operatorKey);
  await press(page, 'Send now');
  await expect.poll(() => own.getAttribute('data-state')).toBe('stored');
  await page.close();
});

it('what the form cannot carry is said by its field and its place, and nothing is sent', async () => {
  const page = await open('over-the-deck', 820);
  await page.getByLabel('Remarks').fill('ICE = MUCH');
  expect(await page.locator('.report-faults').textContent()).toMatch(/Remarks: found .*, expected /);
  expect(await page.locator('.report-send').count()).toBe(0);
  await page.close();
});

/** Letter paper, 279.4 mm, halved, less a margin of 8 mm, at 96 px an inch. */
const HALF_PAGE_PX = (279.4 / 2 - 8) * (96 / 25.4);

it('the cue card prints alone, on half a page, with the ages of its data', async () => {
  const page = await open('over-the-deck', 1000);
  await page.evaluate(() => {
    window.print = () => undefined;
  });
  await press(page, 'Print this card, half a page');
  await page.emulateMedia({ media: 'print' });
  const card = page.locator('.cue-card');
  expect((await card.boundingBox())!.height).toBeLessThanOrEqual(HALF_PAGE_PX);
  const shown = await page.evaluate(() =>
    [...document.querySelectorAll('h1, h2')].filter((one) => one.checkVisibility()).map((one) => one.id),
  );
  expect(shown).toEqual(['cue-title']);
  const text = (await card.textContent())!;
  expect(text).toMatch(/Cue card, 11,000 ft.*KBTV → KBGR, 14 Jan 2026 11:30 UTC, fluid 80 L.*Within limits/s);
  expect(text).toMatch(/Invented data.*Printed \d/s);
  expect(text).toMatch(/Advice only/);
  await page.evaluate(() => dispatchEvent(new Event('afterprint')));
  await expect.poll(() => page.locator('body').getAttribute('data-print-alone')).toBeNull();
  await page.close();
});
