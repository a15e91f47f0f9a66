/** The main job on the real page: enter a leg, read the altitude, look at another one. */
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { feetText } from '../../web/src/numbers.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import {
  demoLeg,
  fetchBrief,
  keepReadmePicture,
  keepScreenshot,
  launchBrowser,
  legUrl,
  openPage,
  waitForBrief,
  withFluid,
} from './open-page.ts';

let instance: TestInstance;
let browser: Browser;
let brief: Brief;
/** With enough fluid for an altitude to file. */
const leg = withFluid(demoLeg('over-the-deck'), 80);

beforeAll(async () => {
  [instance, browser] = await Promise.all([startLocalInstance(), launchBrowser()]);
  brief = await fetchBrief(instance.baseUrl, leg);
});

afterAll(async () => {
  await browser?.close();
  await instance?.stop();
});

const altitudeToFile = () => {
  const { file } = brief.brief;
  if (file === null) throw new Error(`${leg.id}: found no altitude to file, expected one`);
  return file.altitudeFt;
};

/** An altitude that can be flown and is not the one to file. */
const otherAltitude = () =>
  brief.brief.alternatives.find((one) => one.exposure !== null && one.altitudeFt !== altitudeToFile())!
    .altitudeFt;

/** Every panel that names the considered altitude; some follow a picture later. */
async function consideredEverywhere(page: Page, altitudeFt: number): Promise<(string | null)[]> {
  await page.locator('#plan-title', { hasText: feetText(altitudeFt) }).waitFor();
  return Promise.all([
    page.locator('.handle-altitude').textContent(),
    page.locator('#readout-title').textContent(),
    page.locator('#plan-title').textContent(),
    page.locator('.strip figcaption').nth(1).textContent(),
    page.locator('.row-considered .row-altitude').textContent(),
  ]);
}

/** Temperature of the cell at a place, read from the answer without the page's own code. */
function temperatureC(distanceNm: number, altitudeFt: number): number {
  const curtain = brief.brief.curtain!;
  const gaps = curtain.distanceNm.map((nm) => Math.abs(nm - distanceNm));
  const point = gaps.indexOf(Math.min(...gaps));
  const cell = Math.floor((altitudeFt - curtain.lowestFt) / curtain.cellDepthFt);
  const { scale, values } = curtain.quantities.temperature!;
  return values[point * curtain.cellCount + cell]! * scale;
}

describe('by mouse', () => {
  it('one tap on a demo leg gives the altitude to file, its verdict in words, and an address that opens it again', async () => {
    const quiet = demoLeg('quiet');
    const filed = feetText((await fetchBrief(instance.baseUrl, quiet)).brief.file!.altitudeFt);
    const { page, complaints } = await openPage(browser, instance.baseUrl);
    await page.getByRole('button', { name: quiet.title }).click();
    await page.locator('.altitude-figure').waitFor();
    expect(await page.locator('.altitude-figure').textContent()).toBe(filed);
    expect(await page.locator('#answer-title').textContent()).toMatch(/^(No ice found|Within limits)$/);
    const again = await openPage(browser, page.url());
    await again.page.locator('.altitude-figure').waitFor();
    expect(await again.page.locator('.altitude-figure').textContent()).toBe(filed);
    expect([...complaints, ...again.complaints]).toEqual([]);
    await page.close();
    await again.page.close();
  });

  it('the brief of a leg over the deck has no complaint in the console', async () => {
    const { page, complaints } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.locator('.plan-has-map').waitFor();
    expect(complaints).toEqual([]);
    await keepScreenshot(page, 'brief-1280-light');
    await keepReadmePicture(page);
    await page.close();
  });

  it('a click on a table row moves the considered altitude in every panel', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.locator(`tr[data-altitude-ft="${otherAltitude()}"]`).click();
    for (const words of await consideredEverywhere(page, otherAltitude()))
      expect(words).toContain(feetText(otherAltitude()));
    await page.close();
  });

  it('a click in the cross-section moves it to the candidate nearest to the pointer', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    const row = (await page.locator(`tr[data-altitude-ft="${otherAltitude()}"]`).boundingBox())!;
    const section = (await page.locator('svg.section').boundingBox())!;
    await page.mouse.click(section.x + section.width / 3, row.y + row.height / 2 + 3);
    for (const words of await consideredEverywhere(page, otherAltitude()))
      expect(words).toContain(feetText(otherAltitude()));
    await page.close();
  });
});

describe('by keyboard', () => {
  it('a leg is entered, with an identifier taken from the list, and the altitude is moved', async () => {
    const { page, complaints } = await openPage(browser, instance.baseUrl);
    await page.locator('#leg-aircraft option').first().waitFor({ state: 'attached' });
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.type('kbtv');
    await page.getByRole('option').first().waitFor();
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Enter');
    expect(await page.locator('#leg-route').inputValue()).toBe('KBTV ');
    await page.keyboard.type('DCT 4420N07130W DCT KBGR');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Control+A');
    await page.keyboard.type('2026-01-14');
    await page.keyboard.press('Tab');
    await page.keyboard.type('1130');
    await page.keyboard.press('Enter');
    await page.waitForURL((url) => url.searchParams.get('departure') === '2026-01-14T11:30Z');
    await waitForBrief(page);
    await page.locator('.handle-altitude').focus();
    const before = Number(await page.locator('.handle-altitude').getAttribute('aria-valuenow'));
    await page.keyboard.press('ArrowUp');
    const after = Number(await page.locator('.handle-altitude').getAttribute('aria-valuenow'));
    expect(after - before).toBe(1000);
    expect(new URL(page.url()).searchParams.get('departure')).toBe('2026-01-14T11:30Z');
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('the values at the cursor are spoken, and are those of the answer', async () => {
    const { page } = await openPage(browser, legUrl(instance.baseUrl, leg));
    await page.locator('.handle-altitude').focus();
    await page.keyboard.press('Home');
    await page.keyboard.press('ArrowUp');
    const altitudeFt = Number(await page.locator('.handle-altitude').getAttribute('aria-valuenow'));
    const spoken = page.locator('[aria-live="polite"]', {
      hasText: `${feetText(altitudeFt)} ft at 0 NM, 11:30 UTC`,
    });
    await spoken.waitFor({ state: 'attached' });
    const celsius = Math.round(temperatureC(0, altitudeFt));
    expect(await spoken.textContent()).toContain(`temperature ${String(celsius).replace('-', '−')} °C`);
    await page.close();
  });
});

describe('by touch', () => {
  it('a demo leg is opened, another altitude tapped, and said to be the one given', async () => {
    const { page, complaints } = await openPage(browser, instance.baseUrl, { width: 360, isTouch: true });
    await page.getByRole('button', { name: leg.title }).tap();
    await waitForBrief(page);
    await page.locator(`tr[data-altitude-ft="${otherAltitude()}"]`).tap();
    for (const words of await consideredEverywhere(page, otherAltitude()))
      expect(words).toContain(feetText(otherAltitude()));
    const section = page.locator('svg.section');
    const { width, height } = (await section.boundingBox())!;
    await section.tap({ position: { x: width / 2, y: height / 2 } });
    const title = () => page.locator('#readout-title').textContent();
    await expect.poll(title).not.toContain(feetText(otherAltitude()));
    expect(complaints).toEqual([]);
    await page.close();
  });
});

describe('what is not answered is said in words', () => {
  it('a refused route shows the reason, the field’s path, and marks the field', async () => {
    const { page } = await openPage(
      browser,
      `${instance.baseUrl}/?route=QQQQ+DCT+KBGR&departure=2026-01-14T11:30Z&aircraft=${leg.request.aircraft}`,
    );
    const alert = page.getByRole('alert');
    await alert.waitFor();
    expect(await alert.textContent()).toMatch(/QQQQ/);
    expect(await page.locator('#leg-route').getAttribute('aria-invalid')).toBe('true');
    await page.close();
  });

  it('an address that does not hold a whole leg says what is missing', async () => {
    const { page, complaints } = await openPage(browser, `${instance.baseUrl}/?route=KBTV+DCT+KBGR`);
    expect(await page.getByRole('alert').textContent()).toContain('departure');
    expect(complaints).toEqual([]);
    await page.close();
  });

  it('a service that is not reached leaves words and the form, and no old answer', async () => {
    const { page } = await openPage(browser, instance.baseUrl);
    await page.route('**/api/brief', (route) => route.abort());
    await page.getByRole('button', { name: leg.title }).click();
    expect(await page.getByRole('alert').textContent()).toContain('The service is not reached');
    expect(await page.locator('.answer').count()).toBe(0);
    await page.close();
  });

  it('an answer that breaks the contract is not shown at all', async () => {
    const { page } = await openPage(browser, instance.baseUrl);
    const broken = structuredClone(brief);
    broken.brief.curtain!.state.pop();
    await page.route('**/api/brief', (route) => route.fulfill({ json: broken }));
    await page.getByRole('button', { name: leg.title }).click();
    expect(await page.getByRole('alert').textContent()).toContain('does not keep to the contract');
    await page.close();
  });

  it('markup in a name stays text', async () => {
    const { page } = await openPage(browser, instance.baseUrl);
    const marked = structuredClone(brief);
    marked.brief.data[0]!.name = '<img src=x onerror=alert(1)>';
    marked.brief.verdict.sentence = '<b id="injected">bold</b>';
    await page.route('**/api/brief', (route) => route.fulfill({ json: marked }));
    await page.getByRole('button', { name: leg.title }).click();
    await waitForBrief(page);
    expect(await page.locator('.answer-sentence').textContent()).toBe('<b id="injected">bold</b>');
    expect(await page.locator('.data').textContent()).toContain('<img src=x onerror=alert(1)>');
    expect(await page.locator('#injected, .data img').count()).toBe(0);
    await page.close();
  });
});
