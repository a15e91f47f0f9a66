/** What stands over everything else: the year, the altimeter setting, invented data, and an answer of the past. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type { Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  demoLeg,
  fetchBrief,
  keepScreenshot,
  launchBrowser,
  legUrl,
  openPage,
  WITHOUT_MAP,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
let brief: Brief;
const leg = demoLeg('over-the-deck');

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
  brief = await fetchBrief(instance.baseUrl, leg);
});
afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

async function openAnswer(
  change: (answer: Brief) => void,
  url = legUrl(instance.baseUrl, leg),
): Promise<Page> {
  const answer = structuredClone(brief);
  change(answer);
  const { page } = await openPage(browser, 'about:blank');
  await page.route('**/api/brief', (route) => route.fulfill({ json: answer }));
  await page.goto(url);
  await page.locator('.answer').waitFor();
  return page;
}

function made(answer: Brief): void {
  for (const data of answer.brief.data) data.invented = false;
}

it('the head has the year and the setting, and says of one that nobody gave that it is assumed', async () => {
  const page = await openAnswer(() => undefined);
  expect(await page.locator('.leg-line').textContent()).toMatch(/\d [A-Z][a-z]{2} 20\d\d \d\d:\d\d UTC/);
  expect(await page.locator('.leg-line').textContent()).toMatch(/ on 1017 hPa, (?!assumed)/);
  await page.close();
  const { setting: _given, ...rest } = Object.fromEntries(
    new URL(legUrl(instance.baseUrl, leg)).searchParams,
  );
  const without = `${instance.baseUrl}/?${new URLSearchParams(rest)}`;
  const assumed = await openAnswer((answer) => (answer.brief.limits.altimeterSettingHPa = 1013.25), without);
  expect(await assumed.locator('.leg-line').textContent()).toContain('on 1013.25 hPa, assumed');
  await assumed.close();
});

it('invented data is called so across the top, and its verdict keeps its tone', async () => {
  const page = await openAnswer(() => undefined);
  expect(await page.locator('.answer > .answer-band').allTextContents()).toEqual([
    'Invented data, for trying only',
  ]);
  expect(await page.locator('.answer-past').count()).toBe(0);
  await page.close();
});

it('an answer of the past says so across the top and has the outline of its verdict only', async () => {
  const page = await openAnswer((answer) => {
    made(answer);
    answer.brief.staleAtUtc = '2026-01-14T11:00:00Z';
  });
  expect(await page.locator('.answer-band-past').textContent()).toMatch(
    /^Departed \d+ Jan 2026 .* UTC\. Stale since 14 Jan 2026 11:00 UTC: brief again$/,
  );
  const fills = await page
    .locator('.answer-verdict .verdict-shape > *')
    .evaluateAll((parts) => parts.map((part) => getComputedStyle(part).fill));
  expect(new Set(fills)).toEqual(new Set(['none']));
  await keepScreenshot(page, 'past-1280-light');
  await page.close();
});

it('an answer that is neither stale nor departed has no band', async () => {
  const page = await openAnswer((answer) => {
    made(answer);
    answer.brief.leg.departureUtc = '2126-01-14T11:30:00Z';
    answer.brief.staleAtUtc = '2126-01-14T11:00:00Z';
  });
  expect(await page.locator('.answer-band').count()).toBe(0);
  await page.close();
});

it('the print says when it was briefed and when it was printed', async () => {
  const page = await openAnswer(() => undefined);
  expect(await page.locator('.leg-line .print-only').isVisible()).toBe(false);
  await page.emulateMedia({ media: 'print' });
  expect(await page.locator('.leg-line .print-only').textContent()).toMatch(
    /^Briefed .* UTC, printed .* UTC$/,
  );
  expect(await page.locator('.leg-line .print-only').isVisible()).toBe(true);
  await page.close();
});

it('the answer names where the minimum altitude is unknown, hatched', async () => {
  const page = await openAnswer((answer) => {
    for (const { properties } of answer.features)
      if (properties.kind === 'minimum-altitude') properties.altitudeFt = null;
  });
  const words = await page.locator('.unknown-place').allTextContents();
  expect(words.join().replaceAll('\u2060', '')).toMatch(/Minimum altitude unknown 0–\d+ NM/);
  await page.close();
});

it('the phases call the taxi priming, and fluid is unknown where the air is', async () => {
  const page = await openAnswer((answer) => {
    const filed = answer.brief.alternatives.find((one) => one.altitudeFt === answer.brief.file!.altitudeFt)!;
    const [climb, cruise] = ['climb', 'cruise'].map(
      (name) => filed.exposure!.parts.find(({ part }) => part === name)!,
    );
    climb!.unknownMinutes = climb!.minutes / 2;
    cruise!.unknownMinutes = cruise!.minutes;
  });
  const rows = page.locator('.parts tbody tr');
  expect(await rows.first().locator('th').textContent()).toBe('priming');
  const fluidOf = (part: string) => rows.filter({ hasText: part }).first().locator('td').last().textContent();
  expect(await fluidOf('climb')).toMatch(/\d\+$/);
  expect(await fluidOf('cruise')).toBe('?unknown');
  await page.close();
});

it('ice at landing and the inlet separator stand with the icing', async () => {
  const codes = ['landing-with-ice', 'inlet-separator', 'oxygen'];
  const page = await openAnswer((answer) => {
    answer.brief.operational = codes.map((code) => ({ code, sentence: `Sentence of ${code}`, numbers: {} }));
  });
  const sentencesOf = (name: string) => page.getByRole('region', { name }).locator('li').allTextContents();
  const icing = await sentencesOf('More about icing');
  expect(icing.slice(0, 2)).toEqual(['Sentence of landing-with-ice', 'Sentence of inlet-separator']);
  expect(await sentencesOf('Not about icing')).toEqual(['Sentence of oxygen']);
  await page.close();
});

it('a leg that is refused leaves the last brief below, whole, and says why in plain words', async () => {
  const { page, complaints } = await openPage(browser, legUrl(instance.baseUrl, leg));
  await page.locator('.altitude-figure').waitFor();
  await page.getByText('Change the leg').click();
  await page.locator('#leg-route').fill('QQQQ DCT KBGR');
  await page.getByRole('button', { name: 'Brief this leg' }).click();
  const alert = page.getByRole('alert');
  await alert.waitFor();
  expect(await alert.textContent()).toContain('QQQQ');
  expect(await alert.locator('p').last().textContent()).toMatch(/^Found QQQQ, /);
  const last = page.getByRole('region', { name: /^The last brief: KBTV → KBGR/ });
  expect(await last.locator('.leg-line, p').first().textContent()).toContain('on 1017 hPa, ');
  const other = brief.brief.alternatives.find(
    (one) => one.exposure !== null && one.altitudeFt !== brief.brief.file!.altitudeFt,
  )!;
  await last.locator(`tr[data-altitude-ft="${other.altitudeFt}"]`).click();
  expect(await last.locator('.altitude-word').textContent()).toBe('Looking at');
  await keepScreenshot(page, 'refused-1280-light');
  expect(complaints.filter((one) => !one.includes('status of 4'))).toEqual([]);
  await page.close();
});
