/** Reports and warnings on the page: marked where they are, listed wherever they are. The texts are invented. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { demoLeg, keepScreenshot, launchBrowser, legUrl, openPage } from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
const leg = demoLeg('over-the-deck');
const atUtc = leg.request.departure.atUtc;

/** Day, hour and minute so many minutes after the departure. */
function group(minutes: number): string {
  return new Date(Date.parse(atUtc) + minutes * 60_000).toISOString().replace(/[-:T]/g, '').slice(6, 12);
}

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser()]);
  const text = [
    `METAR KBGR ${group(-10)}Z 09010KT 2SM -FZRA OVC010 M02/M03 A2990 RMK <b>bold</b>=`,
    `CZUL SIGMET 2 VALID ${group(-60)}/${group(180)} CWUL-`,
    'CZUL MONTREAL FIR SEV ICE FCST WI N43 W072 - N43 W070 - N46 W070 - N46 W072 - N43 W072 FL040/100 STNR NC=',
    `CZUL SIGMET 4 VALID ${group(-60)}/${group(180)} CWUL-`,
    'CZUL MONTREAL FIR SEV ICE FCST WI N43 W0 - N4 FL040/100 STNR NC=',
    `KBTV UA /OV KBTV090040/TM ${group(-35).slice(2)}/FL150/TP BE99/SK OVC030-TOP165/IC NEG=`,
    `KBGR UA /OV KBGR270050/TM ${group(-20).slice(2)}/FL160/TP BE99/TA M14=`,
  ].join('\n');
  const response = await fetch(`${instance.baseUrl}/api/reports?near=${atUtc}`, {
    method: 'POST',
    body: text,
    headers: { authorization: `Bearer ${instance.operatorKey}` },
  });
  expect(((await response.json()) as { stored: number }).stored).toBe(5);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

it.each(['light', 'dark'] as const)('are marked in the plan and listed with their age, %s', async (theme) => {
  const { page, complaints } = await openPage(browser, legUrl(instance.baseUrl, leg), { theme });
  const list = page.getByRole('region', { name: 'Reports and warnings' });
  await list.waitFor();
  expect(await list.locator('b').allTextContents()).toEqual([
    expect.stringMatching(/^KBGR reports freezing rain at /),
    expect.stringMatching(/^SIGMET [24]: severe icing FL040 to FL100 until /),
    expect.stringMatching(/^SIGMET [24]: severe icing FL040 to FL100 until /),
  ]);
  expect(await list.textContent()).toMatch(/10 min old at departure/);
  expect(await list.locator('.source-lacks').count()).toBe(1);
  expect(await page.locator('.plan-svg .plan-warnings path').count()).toBe(1);
  expect(await page.locator('.plan-marks .report-serious text').allTextContents()).toEqual(['R']);
  await keepScreenshot(page, `reports-${theme}`);
  expect(complaints).toEqual([]);
});

it('are boxes in the cross-section, and the readout says them before its figures', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
  const boxes = page.locator('.section .hazards');
  await boxes.waitFor();
  expect(await boxes.locator('[data-severity="large-drops"] [fill="url(#paint-large-drops)"]').count()).toBe(
    1,
  );
  expect(await boxes.locator('[data-severity="severe"] .hazard-edge').count()).toBeGreaterThan(0);
  expect((await page.locator('.label-hazard').allTextContents()).join()).toMatch(/large drops.*severe ice/);
  await page.locator('.handle-distance').focus();
  await page.keyboard.press('End');
  const readout = page.locator('.readout');
  const reported = () => readout.locator('.readout-reported li').first().textContent();
  await expect.poll(reported).toMatch(/^reported: KBGR reports/);
  expect(await readout.locator('.readout-place').textContent()).not.toMatch(/no ice found/i);
  await keepScreenshot(page, 'reports-end-light');
  await page.close();
});

it('that no ice was met, and cloud, are marked as notes of their own, with age and distance', async () => {
  const { page, complaints } = await openPage(browser, legUrl(instance.baseUrl, leg));
  await page.clock.setFixedTime(Date.parse(atUtc));
  await page.reload();
  const list = page.locator('.reports .note-list');
  await list.waitFor();
  expect(await list.locator('li').allTextContents()).toEqual([
    expect.stringMatching(/^Pilot report: −14 °C, 16,000 ft.*20 min old now.*\d NM off at 1\d\d NM/),
    expect.stringMatching(
      /^Pilot report: no ice met, 15,000 ft, tops 16,500 ft, .*35 min old now.*\d NM off at \d+ NM/,
    ),
  ]);
  expect(await list.textContent()).toContain('a report of no ice lowers nothing');
  const section = page.locator('.section-over .pilot-notes');
  expect((await section.locator('.note-label text').allTextContents()).join('; ')).toMatch(
    /no ice reported, 35 min.*tops 16,500 reported, 35 min/,
  );
  expect(await section.locator('.note-note circle').count()).toBeGreaterThan(0);
  expect(await section.locator('.note-tops').count()).toBe(1);
  expect(await page.locator('.plan-marks .mark-note text').allTextContents()).toEqual(['N', 'N']);
  expect(await page.locator('.plan-marks .mark-report text').allTextContents()).toEqual(['R']);
  const words = `${await section.textContent()} ${await list.textContent()}`;
  expect(words).not.toMatch(/clear|safe|ice-free|free of ice/i);
  await keepScreenshot(page, 'reports-notes-light');
  expect(complaints).toEqual([]);
  await page.close();
});
