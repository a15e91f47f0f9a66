/** The ramp on the page: what falls, what the aeroplane was found like, and a clock that survives sleep, reload and a changed clock. */
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

async function open(id: string, width = 820): Promise<Page> {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg(id)), { width });
  await waitForBrief(page);
  return page;
}

/** Nothing is chosen before somebody read the label. */
async function chooseFluid(page: Page): Promise<void> {
  expect(await page.locator('.holdover-outcome').count()).toBe(0);
  await page.getByLabel('Final fluid').selectOption({ index: 1 });
}

it('says what falls and what it calls for, and takes what somebody found by one tap', async () => {
  const page = await open('over-the-deck');
  const card = page.locator('.ground-card');
  expect(await card.textContent()).toContain('moderate snow');
  expect(await card.locator('.ground-need').textContent()).toBe('Treatment is called for');
  expect(await card.locator('.ground-steps li').count()).toBe(3);
  expect(await card.textContent()).toContain('135.227');
  // The report has -5.6 °C to the tenth.
  await chooseFluid(page);
  const outcome = () => card.locator('.holdover-outcome').textContent();
  const lowest = card.getByLabel('Lowest operational use temperature');
  expect((await lowest.boundingBox())!.height).toBeGreaterThanOrEqual(44);
  expect(await outcome()).toMatch(/^Holdover 0:/);
  for (const [entered, words] of [
    [
      '-5',
      /^No holdover time: the air may have -5\.\d+ °C, below the lowest operational use temperature of -5 °C/,
    ],
    ['25', /^Holdover time unknown: .*found 25, expected -60 to 0 °C/],
    ['\u221225', /^Holdover 0:/],
  ] as const) {
    await lowest.fill(entered);
    await expect.poll(outcome).toMatch(words);
  }
  expect(await card.textContent()).toContain('Used down to -25 °C, as was entered');
  await page.close();
  const quiet = await open('quiet', 360);
  const need = () => quiet.locator('.ground-need').textContent();
  expect(await need()).toBe('Treatment may be called for');
  await quiet.getByRole('button', { name: 'snow or ice' }).click();
  await expect.poll(need).toBe('Treatment is called for');
  for (const box of await quiet.locator('.big-choice button').all())
    expect((await box.boundingBox())!.height).toBeGreaterThanOrEqual(44);
  await keepScreenshot(quiet, 'ground-360-light');
  await quiet.close();
});

it('without a report it is unknown, in its own look', async () => {
  const page = await open('freezing-rain');
  expect(await page.locator('.ground-need').textContent()).toMatch(/^Unknown/);
  expect(await page.locator('.ground-card .readout-unknown').first().textContent()).toContain('no report');
  await chooseFluid(page);
  expect(await page.locator('.holdover-outcome').textContent()).toMatch(/^Holdover time unknown/);
  await page.close();
});

it('the clock tells time left and what must be checked, after a sleep, a reload and a clock set otherwise, and never that all is well', async () => {
  const page = await open('over-the-deck');
  const start = new Date('2026-01-14T11:00:00Z');
  await page.clock.install({ time: start });
  await page.reload();
  await waitForBrief(page);
  await chooseFluid(page);
  await page
    .getByRole('group', { name: 'The final application started' })
    .getByRole('button', { name: 'now' })
    .click();
  const clock = page.locator('.count-down');
  const time = () => page.locator('.count-down-time').textContent();
  expect(await time()).toMatch(/^[45]:\d\d to the shortest time, [89]:\d\d to the longest$/);
  // Two minutes in which no timer ran.
  await page.clock.setSystemTime(new Date(start.getTime() + 6 * 60_000));
  await page.clock.runFor(1000);
  await expect
    .poll(time)
    .toMatch(/^Past the shortest time by (0:5|1:0)\d: [23]:\d\d to the longest, it may have ended$/);
  await page.getByRole('button', { name: 'Checked now' }).click();
  await page.clock.runFor(1000);
  await expect
    .poll(() => clock.textContent())
    .toMatch(/The check of 11:06 is void at 11:11 UTC; it gives no time back/);
  await page.clock.setSystemTime(new Date(start.getTime() + 20 * 60_000));
  await page.reload();
  await waitForBrief(page);
  await page.clock.runFor(1000);
  await expect.poll(time).toMatch(/^Over for 1[01]:\d\d$/);
  expect(await clock.textContent()).toMatch(/treat again.*135\.227.*The check of 11:06 is void UTC/s);
  // Once it is over a check has no button.
  expect(await page.getByRole('button', { name: 'Checked now' }).count()).toBe(0);
  // Set back before the start.
  await page.clock.setSystemTime(new Date(start.getTime() - 60_000));
  await page.clock.runFor(1000);
  await expect.poll(time).toBe('The start lies ahead');
  expect(await clock.textContent()).not.toMatch(
    /\b(good|safe|ok|clear|take off|begin the take-off within)\b/i,
  );
  await page.close();
});

it('a heavier report cuts the clock short, and one that no fluid holds in ends it', async () => {
  const page = await open('over-the-deck');
  await page.clock.install({ time: new Date('2026-01-14T11:00:00Z') });
  let snow = 'moderate-snow';
  await page.route('**/api/brief', async (route) => {
    const response = await route.fetch();
    const brief = await response.json();
    brief.brief.ground.weather.falling = [snow];
    await route.fulfill({ json: brief });
  });
  snow = 'light-snow';
  await page.reload();
  await waitForBrief(page);
  await chooseFluid(page);
  await page.getByRole('button', { name: '3 min ago' }).click();
  const time = () => page.locator('.count-down-time').textContent();
  await expect.poll(time).toMatch(/^[56]:\d\d to the shortest time, 1[45]:\d\d to the longest$/);
  for (const [falls, words, left] of [
    ['moderate-snow', /^Shorter by the newest report$/, /^[12]:\d\d to the shortest time, [56]:\d\d/],
    ['heavy-snow', /^No time holds by the newest report: .*heavy snow/, /^No time to count$/],
  ] as const) {
    snow = falls;
    await page.reload();
    await waitForBrief(page);
    await expect.poll(() => page.locator('.count-down-changed').textContent()).toMatch(words);
    await expect.poll(time).toMatch(left);
  }
  // So does air that the fluid is not for; what was entered stays with the fluid that was applied.
  snow = 'light-snow';
  await page.reload();
  await waitForBrief(page);
  await chooseFluid(page);
  const tooCold =
    /^No time holds by the newest report: .*below the lowest operational use temperature of -5 °C/;
  await page.getByLabel('Lowest operational use temperature').fill('-5');
  await expect.poll(() => page.locator('.count-down-changed').textContent()).toMatch(tooCold);
  await page.reload();
  await waitForBrief(page);
  await expect.poll(() => page.locator('.count-down-changed').textContent()).toMatch(tooCold);
  expect(await time()).toBe('No time to count');
  await page.close();
});

it('a page that has outlived its report works nothing out from it any more, and says how old it is', async () => {
  const page = await open('quiet');
  await page.clock.install({ time: new Date('2026-01-14T12:30:00Z') });
  await page.route('**/api/brief', async (route) => {
    const brief = await (await route.fetch()).json();
    // As of a real morning: its clock goes on.
    for (const one of brief.brief.data) one.invented = false;
    await route.fulfill({ json: brief });
  });
  await page.reload();
  await waitForBrief(page);
  await page.getByRole('button', { name: 'nothing found' }).click();
  const need = page.locator('.ground-need');
  expect(await need.textContent()).toBe('Treatment may be called for');
  await page.clock.setSystemTime(new Date('2026-01-14T13:20:00Z'));
  await page.clock.runFor(30_000);
  await expect.poll(() => need.textContent()).toMatch(/^Unknown/);
  expect(await need.getAttribute('class')).toContain('readout-unknown');
  expect(await page.locator('.ground-card').textContent()).toMatch(/report is 8\d min old/);
  await page.close();
});

it('a report that is pasted makes the ramp known, and each piece that is refused says why; without a connection the text stays', async () => {
  const leg = demoLeg('freezing-rain');
  // From an aerodrome of its own: nobody else's ramp changes.
  const request = { ...leg.request, route: 'KPOU DCT KALB' };
  const { page } = await openPage(browser, legUrl(instance.baseUrl, { ...leg, request }), { width: 360 });
  await waitForBrief(page);
  const card = page.locator('.ground-card');
  const need = () => card.locator('.ground-need').textContent();
  expect(await need()).toMatch(/^Unknown/);
  await card.getByText('Paste or load reports').click();
  // The day of the month alone stands in it: read near the leg, which is long past.
  const metar = 'METAR KPOU 141220Z 02008KT 2SM -FZRA OVC009 M02/M03 A2980=';
  const text = page.getByLabel('METAR, TAF, SIGMET');
  await text.fill(`${metar}\nMETAR KPOU NOTHING=\n`);
  await card.getByLabel('Key of your operator').fill(instance.operatorKey);
  const send = card.getByRole('button', { name: 'Store them and brief again' });
  for (const target of [send, text, page.getByLabel('Or text files'), card.locator('summary')])
    expect((await target.boundingBox())!.height).toBeGreaterThanOrEqual(44);
  await page.context().setOffline(true);
  await send.click();
  await expect.poll(() => card.textContent()).toMatch(/text is kept: The service was not reached/);
  expect(await card.textContent()).toContain('There is no connection now');
  expect(await text.inputValue()).toContain(metar);
  await page.context().setOffline(false);
  await send.click();
  await expect.poll(need).toBe('Treatment is called for');
  expect(await card.textContent()).toMatch(/1 stored, 1 refused.*Line 2: .*METAR KPOU NOTHING/s);
  expect(await card.textContent()).toContain('light freezing rain');
  await keepScreenshot(page, 'ground-pasted-360-light');
  await page.close();
});
