/**
 * Shared briefs: how long one takes to make and to open, to the drawn answer in Chromium too, and how many are opened a second beside a
 * static file of the same size, in turns in one run. Expects a build.
 * Run: node tests/bench/shared-briefs.ts
 */
import { rmSync, writeFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import type { CreatedBrief } from '../../worker/schema/shared-brief.ts';
import { demoLeg, launchBrowser } from '../browser/open-page.ts';
import { startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { figure, printTable } from '../support/print-table.ts';

const OPENINGS = 40;
const MADE = 8;
const LOADS = 7;
const ROUNDS = 5;
const ROUND_MS = 2000;
/** Requests under way at once. */
const AT_ONCE = 24;

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

async function timesMs(count: number, act: () => Promise<unknown>): Promise<number[]> {
  const times: number[] = [];
  for (let each = 0; each < count; each += 1) {
    const startMs = performance.now();
    await act();
    times.push(performance.now() - startMs);
  }
  return times;
}

async function bytesOf(url: string): Promise<ArrayBuffer> {
  const response = await fetch(url);
  if (response.status !== 200) throw new Error(`${url}: found ${response.status}, expected 200`);
  return response.arrayBuffer();
}

async function makeOne({ baseUrl }: TestInstance): Promise<CreatedBrief> {
  const body = JSON.stringify(demoLeg('over-the-deck').request);
  const response = await fetch(`${baseUrl}/api/briefs`, { method: 'POST', body });
  return (await response.json()) as CreatedBrief;
}

/** From the start of the navigation to the frame that shows the cross-section, nothing in the browser's cache, CPU not slowed. */
async function drawnMs(browser: Browser, url: string): Promise<number> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  await page.addInitScript(() => {
    const look = () => {
      if (document.querySelector('svg.section .bands path'))
        Object.assign(globalThis, { drawnMs: performance.now() });
      else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  });
  await page.goto(url);
  const handle = await page.waitForFunction('globalThis.drawnMs');
  const ms = (await handle.jsonValue()) as number;
  await context.close();
  return ms;
}

interface Load {
  readonly perSecond: number;
  readonly errors: number;
}

async function underLoad(url: string, size: number): Promise<Load> {
  const endMs = performance.now() + ROUND_MS;
  let [done, errors] = [0, 0];
  const one = async () => {
    while (performance.now() < endMs) {
      const response = await fetch(url);
      const { byteLength } = await response.arrayBuffer();
      if (response.status === 200 && byteLength === size) done += 1;
      else errors += 1;
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, one));
  return { perSecond: (done / ROUND_MS) * 1000, errors };
}

const fileName = `bench-${process.pid}.txt`;
const filePath = new URL(`../../web/dist/${fileName}`, import.meta.url);
let instance = await startLocalInstance();
const sizeOfOne = (await bytesOf(`${instance.baseUrl}/api/briefs/${(await makeOne(instance)).id}`))
  .byteLength;
await instance.stop();
// The assets are listed at the start.
writeFileSync(filePath, 'x'.repeat(sizeOfOne));
try {
  instance = await startLocalInstance();
  const { id, link } = await makeOne(instance);
  const url = `${instance.baseUrl}/api/briefs/${id}`;
  const staticUrl = `${instance.baseUrl}/${fileName}`;
  const times = (count: number, path: string) => timesMs(count, () => bytesOf(`${instance.baseUrl}${path}`));
  const made = await timesMs(MADE, () => makeOne(instance));
  const opened = await times(OPENINGS, `/api/briefs/${id}`);
  const page = await times(OPENINGS, link);
  const picture = await times(OPENINGS, `${link}/picture.png`);
  const browser = await launchBrowser(['--disable-3d-apis']);
  await drawnMs(browser, `${instance.baseUrl}${link}`);
  const drawn: number[] = [];
  for (let each = 0; each < LOADS; each += 1)
    drawn.push(await drawnMs(browser, `${instance.baseUrl}${link}`));
  await browser.close();
  const rounds: { readonly shared: Load; readonly file: Load }[] = [];
  for (let each = 0; each < ROUNDS; each += 1)
    rounds.push({ file: await underLoad(staticUrl, sizeOfOne), shared: await underLoad(url, sizeOfOne) });
  const row = (what: string, values: readonly number[], decimals = 0) => [
    what,
    figure(median(values), decimals),
    `${figure(Math.min(...values), decimals)} to ${figure(Math.max(...values), decimals)}`,
  ];
  printTable(
    `Shared briefs of ${sizeOfOne} bytes, ${AT_ONCE} requests at once`,
    ['what', 'median', 'least to most'],
    [
      row('made, ms', made),
      row('its bytes, ms', opened),
      row('the page of its link, ms', page),
      row('the picture of its link, ms', picture),
      row('navigation to answer and cross-section drawn, ms', drawn),
      row(
        'opened a second',
        rounds.map(({ shared }) => shared.perSecond),
      ),
      row(
        'a static file of that size a second',
        rounds.map(({ file }) => file.perSecond),
      ),
      row(
        'ratio of the two',
        rounds.map(({ shared, file }) => shared.perSecond / file.perSecond),
        2,
      ),
      row(
        'errors',
        rounds.map(({ shared }) => shared.errors),
      ),
    ],
  );
} finally {
  await instance.stop();
  rmSync(filePath, { force: true });
}
process.exit(0);
