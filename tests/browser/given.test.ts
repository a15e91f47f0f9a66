/** "I was given another altitude": everything follows at once, without a call, by mouse, by keyboard and by address. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { levelsText } from '../../web/src/considered.ts';
import { feetText } from '../../web/src/numbers.ts';
import { VERDICT_WORDS } from '../../web/src/words.ts';
import type { Brief, Candidate } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  type DemoLeg,
  demoLeg,
  fetchBrief,
  keepScreenshot,
  launchBrowser,
  legUrl,
  openPage,
  WITHOUT_MAP,
  waitForBrief,
  withFluid,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
let brief: Brief;
const leg = withFluid(demoLeg('over-the-deck'), 80);

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser(WITHOUT_MAP)]);
  brief = await fetchBrief(instance.baseUrl, leg);
});

afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

const filedFt = () => brief.brief.file!.altitudeFt;

/** Flown, and of another verdict than the one to file: every part of the answer must change. */
function badAltitude(): Candidate {
  const found = brief.brief.alternatives.find(
    (one) => one.exposure !== null && one.verdict !== brief.brief.verdict.code,
  );
  if (found === undefined) throw new Error('found no altitude of another verdict, expected one');
  return found;
}

async function expectGiven(
  page: Page,
  given: Candidate,
  word: 'given' | 'looking at' = 'given',
): Promise<void> {
  const feet = feetText(given.altitudeFt);
  expect(await page.locator('.altitude-word').textContent()).toBe(word === 'given' ? 'Given' : 'Looking at');
  expect(await page.locator('.altitude-figure').textContent()).toBe(feet);
  expect(await page.locator('#answer-title').textContent()).toBe(VERDICT_WORDS[given.verdict]);
  expect(await page.locator('.answer-verdict [data-verdict]').getAttribute('data-verdict')).toBe(
    given.verdict,
  );
  expect(await page.locator('.given-line').textContent()).toBe(
    `Filed ${feetText(filedFt())} · ${word} ${feet} ft`,
  );
  expect((await page.locator('.answer-sentence').textContent())?.toLowerCase()).toContain(
    given.inWords.toLowerCase(),
  );
  expect(await page.locator('.reasons li').first().textContent()).toBe(given.reasons[0]?.sentence);
  expect(await page.locator('.controller-file').textContent()).toContain(feetText(filedFt()));
  expect(await page.locator('.label-given').textContent()).toBe(`${word} ${feet}`);
  await page.locator('.strip figcaption', { hasText: feet }).first().waitFor();
  for (const caption of await page.locator('.strip figcaption').allTextContents())
    expect(caption).toContain(feet);
}

/** Fails the page when the answer needs a call. */
async function goOffline(page: Page): Promise<string[]> {
  const asked: string[] = [];
  await page.route('**/api/**', (route) => {
    asked.push(route.request().url());
    return route.abort();
  });
  return asked;
}

it('the answer says what to file, what to accept and what to refuse, each with its words', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
  const lines = page.locator('.controller');
  const { file } = brief.brief;
  const words = (await lines.textContent()) ?? '';
  expect(words).toContain(file!.acceptReason);
  for (const { reason } of file!.refuse) expect(words).toContain(reason);
  expect(`${await page.locator('.answer-sentence').textContent()} ${words}`).toContain(file!.reason);
  await page.close();
});

it('what would change the decision stands under the reasons', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
  await page.locator('.changes').waitFor();
  expect(await page.locator('.changes li').allTextContents()).toEqual(
    brief.brief.changes.map((change) => change.sentence),
  );
  expect(brief.brief.changes.length).toBeGreaterThan(0);
  await page.close();
});

describe('an altitude that was given, or is looked at', () => {
  it('by one tap on its row, offline, is the one that everything is about; one tap goes back', async () => {
    const given = badAltitude();
    const { page, complaints } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.locator('.altitude-figure').waitFor();
    await waitForBrief(page);
    const asked = await goOffline(page);
    await page.locator(`tr[data-altitude-ft="${given.altitudeFt}"]`).click();
    await expectGiven(page, given, 'looking at');
    await keepScreenshot(page, 'given-1280-light');
    await page.locator('.given-back').click();
    expect(await page.locator('.altitude-word').textContent()).toBe('File');
    expect(await page.locator('.altitude-figure').textContent()).toBe(feetText(filedFt()));
    expect(await page.locator('.given-line').textContent()).toBe('');
    expect(await page.locator('.label-given').count()).toBe(0);
    expect(asked).toEqual([]);
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('is chosen and given back by keyboard alone', async () => {
    const given = badAltitude();
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.getByLabel('I was given').focus();
    const steps = brief.brief.alternatives.filter((one) => one.exposure !== null);
    const at = (altitudeFt: number) => steps.findIndex((one) => one.altitudeFt === altitudeFt);
    // The first option is that nothing was given.
    for (let step = -1; step < at(given.altitudeFt); step += 1) await page.keyboard.press('ArrowDown');
    await expectGiven(page, given);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.locator('.altitude-figure').textContent()).toBe(feetText(filedFt()));
    await page.close();
  });

  it('is none until one is chosen', async () => {
    const given = badAltitude();
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    const select = page.getByLabel('I was given');
    await select.waitFor();
    const shown = () => select.evaluate((box: HTMLSelectElement) => box.selectedOptions[0]?.textContent);
    expect(await shown()).toBe('–');
    await select.selectOption(String(filedFt()));
    expect(await shown()).toBe(`${feetText(filedFt())} ft`);
    await page.locator(`tr[data-altitude-ft="${given.altitudeFt}"]`).click();
    // Only looked at: nobody gave it.
    expect(await shown()).toBe('–');
    await page.locator('.given-back').click();
    expect(await shown()).toBe('–');
    await select.selectOption(String(given.altitudeFt));
    await select.selectOption('–');
    expect(await page.locator('.altitude-word').textContent()).toBe('File');
    await page.close();
  });

  it.each([360, 820, 1280])('leaves its row under the finger, %i px wide', async (width) => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg), { width, height: 900 });
    await page.locator('.altitude-figure').waitFor();
    await waitForBrief(page);
    const rows = page.locator('tr.row:not(.row-run)');
    for (let index = 0; index < (await rows.count()); index += 1) {
      const row = rows.nth(index);
      await row.scrollIntoViewIfNeeded();
      const before = (await row.boundingBox())!;
      await page.mouse.click(before.x + 60, before.y + before.height / 2);
      await expect.poll(() => row.getAttribute('class')).toContain('row-considered');
      // Where it comes to rest: what stands above it changes first, then the page is scrolled by as much.
      await expect.poll(async () => Math.abs((await row.boundingBox())!.y - before.y)).toBeLessThan(2);
    }
    await page.close();
  });

  it('leaves the whole page still where the answer needs no more room, 1280 px wide', async () => {
    const given = badAltitude();
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.locator('.altitude-figure').waitFor();
    await waitForBrief(page);
    await page.locator(`tr[data-altitude-ft="${given.altitudeFt}"]`).click();
    const topPx = () => page.locator('.drawing').evaluate((one) => one.getBoundingClientRect().top + scrollY);
    const before = await topPx();
    await page.locator('.given-back').click();
    await expect.poll(() => page.locator('.altitude-word').textContent()).toBe('File');
    expect(Math.abs((await topPx()) - before)).toBeLessThan(2);
    await page.close();
  });

  it('keeps the height of an answer that follows another of the same height, too', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await waitForBrief(page);
    await page.route('**/api/brief', (route) => route.fulfill({ json: brief }));
    await page.locator('#departure-slider').focus();
    await page.keyboard.press('ArrowRight');
    await page.waitForURL((url) => url.searchParams.get('departure') !== leg.request.departure.atUtc);
    await waitForBrief(page);
    const kept = () =>
      page
        .locator('.answer')
        .evaluate((one: HTMLElement) => [
          one.style.getPropertyValue('--kept-height'),
          `${one.offsetHeight}px`,
        ]);
    await expect.poll(async () => new Set(await kept()).size).toBe(1);
    await page.close();
  });

  it('is kept in the address, without a step in the history', async () => {
    const given = badAltitude();
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.locator(`tr[data-altitude-ft="${given.altitudeFt}"]`).click();
    await page.waitForURL((url) => url.searchParams.get('at') === String(given.altitudeFt));
    await page.getByLabel('I was given').selectOption(String(given.altitudeFt));
    await page.waitForURL((url) => url.searchParams.get('given') === String(given.altitudeFt));
    expect(new URL(page.url()).searchParams.has('at')).toBe(false);
    expect(await page.evaluate(() => history.length)).toBe(2);
    const again = await openPage(browser, page.url());
    await again.page.locator('.altitude-figure').waitFor();
    await expectGiven(again.page, given);
    await again.page.locator('.given-back').click();
    await again.page.waitForURL((url) => !url.searchParams.has('given'));
    // Who opens the link of somebody who only looked is not told that it was given.
    const lookedAt = await openPage(browser, `${legUrl(instance.baseUrl, leg)}&at=${given.altitudeFt}`);
    await lookedAt.page.locator('.altitude-figure').waitFor();
    await expectGiven(lookedAt.page, given, 'looking at');
    await lookedAt.page.close();
    await page.close();
    await again.page.close();
  });

  it('that cannot be flown has no verdict shape and says why', async () => {
    const below = brief.brief.alternatives.find((one) => one.standing === 'below-minimum-altitude')!;
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.locator(`tr[data-altitude-ft="${below.altitudeFt}"]`).click();
    expect(await page.locator('#answer-title').textContent()).toBe('Not to be flown');
    expect(await page.locator('.answer-verdict .verdict-shape').count()).toBe(0);
    expect(await page.locator('.answer-sentence').textContent()).toContain('elow the minimum altitude');
    await page.close();
  });
});

/** The leg's answer with a stepped profile in it, made from the altitude to file. */
function withStepped(isRecommended: boolean): Brief {
  const made = structuredClone(brief);
  const { alternatives } = made.brief;
  const base = structuredClone(alternatives.find((one) => one.altitudeFt === filedFt())!);
  base.profile = [
    { fromNm: 0, altitudeFt: 9000 },
    { fromNm: 80, altitudeFt: base.altitudeFt },
  ];
  base.inWords = 'up to 5 min icing in climb';
  made.brief.stepped = base;
  if (isRecommended) made.brief.recommended = base;
  return made;
}

describe('a stepped profile', () => {
  const open = async (answer: Brief) => {
    const { page } = await openPage(browser, instance.baseUrl);
    await page.route('**/api/brief', (route) => route.fulfill({ json: answer }));
    await page.getByRole('button', { name: leg.title }).click();
    await page.locator('.altitude-figure').waitFor();
    return page;
  };

  it('has a row of its own, and considered, the strips follow its levels', async () => {
    const page = await open(withStepped(false));
    const row = page.locator('tr[data-altitude-ft="stepped"]');
    expect(await row.textContent()).toContain(levelsText(withStepped(false).brief.stepped!));
    await row.click();
    expect(await page.locator('.altitude-figure').textContent()).toBe('9,000 then 11,000');
    const strip = () => page.locator('.strip figcaption').first().textContent();
    const place = () => page.locator('.readout-place').textContent();
    await expect.poll(strip).toContain('9,000 then 11,000 ft');
    await page.locator('.handle-distance').focus();
    await page.keyboard.press('Home');
    await expect.poll(place).toContain('9,000 ft at 0 NM');
    await page.keyboard.press('End');
    await expect.poll(place).toContain('11,000 ft at');
    await page.close();
  });

  it('recommended, is filed with its steps drawn', async () => {
    const page = await open(withStepped(true));
    expect(await page.locator('.altitude-word').textContent()).toBe('File');
    expect(await page.locator('.altitude-figure').textContent()).toBe('9,000 then 11,000');
    expect(await page.locator('.filed-line').getAttribute('d')).toMatch(
      /^M[\d.]+ [\d.]+H[\d.]+V[\d.]+H[\d.]+$/,
    );
    expect(await page.locator('.label-filed').textContent()).toBe('file 9,000 then 11,000');
    await keepScreenshot(page, 'stepped-1280-light');
    await page.close();
  });
});

it('where the air is unknown the fluid that goes there is hatched, and nowhere else', async () => {
  const open = async (one: DemoLeg) => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, one));
    await page.locator('.fluid-strip').waitFor();
    return page;
  };
  const known = await open(leg);
  expect(await known.locator('.fluid-unknown > *').count()).toBe(0);
  await known.close();
  const unknown = await open(demoLeg('out-of-data'));
  expect(await unknown.locator('.fluid-unknown path[fill="url(#paint-unknown)"]').count()).toBeGreaterThan(0);
  await unknown.close();
  // Unknown below the level alone: the climb goes through it.
  const made = structuredClone(brief);
  const { curtain } = made.brief;
  const noData = curtain!.stateWords.indexOf('no-data');
  const code = noData === -1 ? curtain!.stateWords.push('no-data') - 1 : noData;
  for (let cell = 0; cell < 6; cell += 1)
    for (const point of [0, 1]) curtain!.state[point * curtain!.cellCount + cell] = code;
  const { page } = await openPage(browser, instance.baseUrl);
  await page.route('**/api/brief', (route) => route.fulfill({ json: made }));
  await page.getByRole('button', { name: leg.title }).click();
  await page.locator('.fluid-strip').waitFor();
  expect(await page.locator('.fluid-unknown > *').count()).toBeGreaterThan(0);
  await page.close();
});

describe('ways out', () => {
  it('of the considered altitude fill the strip; where there is none the line is barred', async () => {
    const made = structuredClone(brief);
    const filed = made.brief.alternatives.find((one) => one.altitudeFt === filedFt())!;
    const count = filed.ways!.way.length;
    for (let point = Math.floor(count / 2); point < Math.floor(count / 2) + 6; point += 1) {
      filed.ways!.way[point] = 'none';
      for (const list of [filed.ways!.toAltitudeFt, filed.ways!.minutes, filed.ways!.aerodrome])
        list[point] = null;
    }
    const { page } = await openPage(browser, instance.baseUrl);
    await page.route('**/api/brief', (route) => route.fulfill({ json: made }));
    await page.getByRole('button', { name: leg.title }).click();
    await page.locator('.way-none').waitFor();
    expect(await page.locator('.way-none title').textContent()).toBe('no way out');
    expect(await page.locator('.way-marks [data-way="none"]').count()).toBe(1);
    expect(await page.locator('.label-no-way').textContent()).toBe('no way out');
    expect(await page.locator('.answer-facts').textContent()).toContain(' NM none');
    await keepScreenshot(page, 'no-way-out-1280-light');
    const other = brief.brief.alternatives.find(
      (one) => one.exposure !== null && one.altitudeFt < filedFt(),
    )!;
    await page.locator(`tr[data-altitude-ft="${other.altitudeFt}"]`).click();
    expect(await page.locator('.way-marks [data-way="none"]').count()).toBe(0);
    await page.close();
  });

  it('that are not one a route point are not shown at all', async () => {
    const made = structuredClone(brief);
    made.brief.alternatives.find((one) => one.ways !== null)!.ways!.way.pop();
    const { page } = await openPage(browser, instance.baseUrl);
    await page.route('**/api/brief', (route) => route.fulfill({ json: made }));
    await page.getByRole('button', { name: leg.title }).click();
    expect(await page.getByRole('alert').textContent()).toContain('does not keep to the contract');
    await page.close();
  });
});

it('the flight stands phase by phase, with what is planned marked, and the failure case', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
  const { exposure } = brief.brief.alternatives.find((one) => one.altitudeFt === filedFt())!;
  await page.locator('.parts').waitFor();
  const beyondRows = ['windshield', 'reserve'];
  expect(await page.locator('.part-beyond th').allTextContents()).toEqual(
    beyondRows.map((words) => expect.stringContaining(words)),
  );
  expect(await page.locator('.parts tbody tr').count()).toBe(exposure!.parts.length + beyondRows.length);
  expect(await page.locator('.part-planned .planned-mark').count()).toBe(
    exposure!.parts.filter(({ part }) => !['taxi', 'climb', 'cruise', 'descent'].includes(part)).length +
      beyondRows.length,
  );
  expect(await page.locator('.phases').textContent()).toContain('If the protection fails');
  await page.close();
});

it('the headline of an unknown answer names the place and the cause', async () => {
  const { page } = await openPage(browser, legUrl(instance.baseUrl, demoLeg('out-of-data')));
  const words = (await page.locator('.unknown-place').textContent())?.replaceAll('\u2060', '');
  expect(words).toMatch(/\d+–2\d\d NM/);
  await page.close();
});
