/**
 * The page in Chromium slowed four times: from the address to answer and cross-section drawn, first-load JavaScript,
 * the considered altitude moved by a key, the longest task, the shift of the layout. Median of RUNS cold loads, without
 * the map (no WebGL). Expects a build.
 * Run: node tests/bench/page.ts
 */
import type { Browser, CDPSession, Page } from 'playwright-core';
import { demoLeg, launchBrowser, legUrl } from '../browser/open-page.ts';
import { startLocalInstance } from '../support/local-instance.ts';
import { figure, printTable } from '../support/print-table.ts';
import { measureSizes } from './sizes.ts';

const RUNS = 7;
const SLOWER = 4;
const KEY_PRESSES = 8;
const SETTLE_MS = 1500;

interface Load {
  readonly answerMs: number;
  readonly drawnMs: number;
  /** From the request of the brief to its last byte: the service, not the page. */
  readonly serviceMs: number;
  readonly longestTaskMs: number;
  readonly shift: number;
}

interface Run extends Load {
  readonly keyMs: number;
  readonly loadCpu: Cpu;
  /** Of one press. */
  readonly keyCpu: Cpu;
}

/** CPU of the page's main thread, ms, slowed as all the rest; other processes on the machine do not count. */
interface Cpu {
  readonly all: number;
  readonly script: number;
  readonly style: number;
  readonly layout: number;
}

async function mainThreadCpu(devtools: CDPSession): Promise<Cpu> {
  const { metrics } = await devtools.send('Performance.getMetrics');
  const ms = (name: string) => 1000 * (metrics.find((one) => one.name === name)?.value ?? Number.NaN);
  return {
    all: ms('TaskDuration'),
    script: ms('ScriptDuration'),
    style: ms('RecalcStyleDuration'),
    layout: ms('LayoutDuration'),
  };
}

function between(before: Cpu, after: Cpu, times: number): Cpu {
  const share = (part: keyof Cpu) => (after[part] - before[part]) / times;
  return { all: share('all'), script: share('script'), style: share('style'), layout: share('layout') };
}

/** Runs before anything of the page; what it gathers stays in `pageRecord`. */
function record(): void {
  const kept = { answerMs: 0, drawnMs: 0, longestTaskMs: 0, shift: 0, keysMs: [] as number[] };
  Object.assign(globalThis, { pageRecord: kept });
  const sum = (list: PerformanceObserverEntryList) => {
    for (const entry of list.getEntries()) {
      if (entry.entryType === 'longtask') kept.longestTaskMs = Math.max(kept.longestTaskMs, entry.duration);
      else kept.shift += (entry as PerformanceEntry & { value: number }).value;
    }
  };
  for (const type of ['longtask', 'layout-shift'])
    new PerformanceObserver(sum).observe({ type, buffered: true });
  /** Each frame looks what stands; what stood in the frame before is painted. */
  const look = () => {
    const nowMs = performance.now();
    if (kept.answerMs === 0 && document.querySelector('.altitude-figure')) kept.answerMs = nowMs;
    if (document.querySelector('svg.section .bands path')) kept.drawnMs = nowMs;
    if (kept.drawnMs === 0) requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
  addEventListener(
    'keydown',
    ({ timeStamp }) =>
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => kept.keysMs.push(performance.now() - timeStamp);
        port2.postMessage('painted');
      }),
    { capture: true },
  );
}

type PageRecord = Omit<Load, 'serviceMs'> & { readonly keysMs: readonly number[] };

const recordOf = (page: Page) =>
  page.evaluate(() => (globalThis as unknown as { pageRecord: PageRecord }).pageRecord);

/** One cold load in a context of its own, then some presses of the arrow key on the handle of the altitude. */
async function runOnce(browser: Browser, url: string): Promise<Run> {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  const devtools = await context.newCDPSession(page);
  await devtools.send('Performance.enable', { timeDomain: 'threadTicks' });
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
  const blankCpu = await mainThreadCpu(devtools);
  await page.addInitScript(record);
  await page.goto(url);
  await page.locator('svg.section .bands path').first().waitFor({ state: 'attached' });
  await page.waitForTimeout(SETTLE_MS);
  const load = await recordOf(page);
  const serviceMs = await page.evaluate(() => {
    const [call] = performance
      .getEntriesByType('resource')
      .filter(({ name }) => name.endsWith('/api/brief')) as PerformanceResourceTiming[];
    return call!.responseEnd - call!.startTime;
  });
  const loadedCpu = await mainThreadCpu(devtools);
  await page.locator('.handle-altitude').focus();
  for (let press = 0; press < KEY_PRESSES; press += 1) {
    await page.keyboard.press(press % 2 === 0 ? 'ArrowUp' : 'ArrowDown');
    await page.waitForTimeout(150);
  }
  const { keysMs } = await recordOf(page);
  const keyCpu = between(loadedCpu, await mainThreadCpu(devtools), KEY_PRESSES);
  await context.close();
  return { ...load, serviceMs, keyMs: median(keysMs), loadCpu: between(blankCpu, loadedCpu, 1), keyCpu };
}

const median = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

const instance = await startLocalInstance();
const browser = await launchBrowser(['--disable-3d-apis']);
const url = legUrl(instance.baseUrl, demoLeg('over-the-deck'));
await runOnce(browser, url);
const runs: Run[] = [];
for (let run = 0; run < RUNS; run += 1) runs.push(await runOnce(browser, url));
await browser.close();
await instance.stop();

/** Median, least and most of the runs. */
function row(what: string, of: (run: Run) => number, target: string, decimals = 0): string[] {
  const values = runs.map(of);
  const ends = `${figure(Math.min(...values), decimals)} to ${figure(Math.max(...values), decimals)}`;
  return [what, figure(median(values), decimals), ends, target];
}

const CPU_PARTS = ['script', 'style', 'layout'] as const;
const firstLoadKb = figure(measureSizes().firstLoadGzipBytes / 1000, 1);
printTable(
  `The page, CPU slowed ${SLOWER} times, ${RUNS} cold loads of the demo leg at 1280 px`,
  ['what', 'median', 'least to most', 'target'],
  [
    row('navigation to answer, ms', (run) => run.answerMs, '–'),
    row('navigation to answer and cross-section drawn, ms', (run) => run.drawnMs, '1000'),
    row('of it waiting for the brief, ms', (run) => run.serviceMs, '–'),
    row('arrow key to next paint, ms', (run) => run.keyMs, '50'),
    row('longest task of the load, ms', (run) => run.longestTaskMs, '–'),
    row('cumulative layout shift', (run) => run.shift, '0.05', 3),
    row('CPU of the load, ms', ({ loadCpu }) => loadCpu.all, '–'),
    ...CPU_PARTS.map((part) => row(`of it ${part}, ms`, ({ loadCpu }) => loadCpu[part], '–')),
    row('CPU of a key, ms', ({ keyCpu }) => keyCpu.all, '–', 1),
    ...CPU_PARTS.map((part) => row(`of it ${part}, ms`, ({ keyCpu }) => keyCpu[part], '–', 1)),
    ['first-load JavaScript, kB gzipped', firstLoadKb, '–', '100'],
  ],
);
process.exit(0);
