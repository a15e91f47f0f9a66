/** Shared briefs: the same bytes for whoever has the link, whatever comes after; gone for good once taken back. */
import { describe, expect, it } from 'vitest';
import { type AboutBrief, aboutBriefSchema } from '../../worker/schema/shared-brief.ts';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';
import { readIndexedPng } from '../support/read-indexed-png.ts';
import { OPERATOR_KEYS, sharingService } from '../support/sharing-service.ts';
import { DECK_AIR, LEG, NOON_MS, over } from '../support/winter-leg.ts';

const OTHER_KEY = OPERATOR_KEYS.other;
const DAY_MS = 86_400_000;

/** Moister air from the same place, loaded an hour after the brief was shared. */
const newer = () => over(DECK_AIR, NOON_MS);

describe('creating one', () => {
  it('answers a link of 128 random bits and a key of 256, told once, and where it stands', async () => {
    const { share, ask } = await sharingService();
    const [one, other] = [await share(), await share()];
    expect(one.id).toMatch(/^[A-Za-z0-9_-]{22}$/);
    expect(one.key).toMatch(/^[A-Za-z0-9_-]{43}$/);
    expect([one.id, one.key]).not.toEqual([other.id, other.key]);
    expect(one.link).toBe(`/b/${one.id}`);
    expect(Date.parse(one.expiresUtc) - Date.parse(one.createdUtc)).toBe(30 * DAY_MS);
    const about = await (await ask(`/api/briefs/${one.id}/about`)).text();
    expect(about).not.toContain(one.key);
    expect(about).not.toContain(await sha256Hex(one.key));
  });

  it('refuses what a brief refuses, with the field', async () => {
    const { ask } = await sharingService();
    const response = await ask('/api/briefs', { method: 'POST', body: JSON.stringify({ ...LEG, extra: 1 }) });
    expect(response.status).toBe(422);
    expect(await response.json()).toMatchObject({ field: 'extra' });
  });

  it('is limited for one address within ten minutes, and counted anew after them', async () => {
    const { ask, later } = await sharingService();
    const send = (address: string) =>
      ask('/api/briefs', { method: 'POST', body: '{}', headers: { 'cf-connecting-ip': address } });
    for (let each = 0; each < 60; each += 1) expect((await send('192.0.2.1')).status).toBe(422);
    const refused = await send('192.0.2.1');
    expect(refused.status).toBe(429);
    expect(Number(refused.headers.get('retry-after'))).toBeGreaterThan(0);
    expect((await send('192.0.2.2')).status).toBe(422);
    later(10 * 60_000);
    expect((await send('192.0.2.1')).status).toBe(422);
  });
});

describe('opening one', () => {
  it('gives exactly the bytes that a brief had then, with their hash, for nobody to keep and no robot to list', async () => {
    const { share, ask, brief } = await sharingService();
    const expected = await brief();
    const { id, sha256 } = await share();
    const response = await ask(`/api/briefs/${id}`);
    expect(await response.text()).toBe(expected);
    expect(await sha256Hex(expected)).toBe(sha256);
    expect(response.headers.get('etag')).toBe(`"${sha256}"`);
    expect(response.headers.get('content-type')).toBe('application/geo+json');
    expect(response.headers.get('x-robots-tag')).toMatch(/noindex/);
    expect(response.headers.get('cache-control')).toMatch(/private/);
    expect((await ask(`/api/briefs/${id}`, { headers: { 'if-none-match': `"${sha256}"` } })).status).toBe(
      304,
    );
  });

  it('gives the same bytes after newer data have come, although the leg is briefed otherwise now', async () => {
    const { share, ask, brief, stores, later } = await sharingService();
    const { id } = await share();
    const before = await (await ask(`/api/briefs/${id}`)).text();
    later(3_600_000);
    await stores.soundings.put('demo', [newer()], stores.nowMs());
    expect(await (await ask(`/api/briefs/${id}`)).text()).toBe(before);
    expect(await brief()).not.toBe(before);
  });

  it('tells what was asked, so that the leg can be briefed anew', async () => {
    const { share, ask } = await sharingService();
    const { id } = await share();
    const about: AboutBrief = aboutBriefSchema.parse(await (await ask(`/api/briefs/${id}/about`)).json());
    expect(about.request).toMatchObject({
      route: LEG.route,
      departure: LEG.departure,
      options: { curtain: true },
    });
  });
});

describe('an end to it', () => {
  it('takes the key of the operator whose it was shared with, and no other operator’s', async () => {
    const { share, ask, remove } = await sharingService();
    const { id } = await share(OPERATOR_KEYS.other);
    expect((await remove(id, OPERATOR_KEYS.third)).status).toBe(401);
    expect((await ask(`/api/briefs/${id}`)).status).toBe(200);
    expect((await remove(id, OPERATOR_KEYS.other)).status).toBe(204);
    expect((await ask(`/api/briefs/${id}`)).status).toBe(410);
  });

  it('takes the operator’s key for what was shared with a key of one of its boards', async () => {
    const { share, stores, remove } = await sharingService();
    const { id } = await share();
    const row = (await stores.sharedBriefs.find(id))!;
    const maker = { operator: 'other', boardKeyId: 'k1' };
    await stores.sharedBriefs.put({ ...row, maker }, { brief: new Uint8Array(), picture: new Uint8Array() });
    expect((await remove(id, OPERATOR_KEYS.third)).status).toBe(401);
    expect((await remove(id, OPERATOR_KEYS.other)).status).toBe(204);
  });

  it('takes the key that was told: none, a wrong one and an operator’s take nothing back', async () => {
    const { share, ask, remove } = await sharingService();
    const { id, key } = await share();
    const { key: ofAnother } = await share();
    for (const wrong of [undefined, ofAnother, OTHER_KEY, `${key}x`]) {
      expect((await remove(id, wrong)).status).toBe(401);
      expect((await ask(`/api/briefs/${id}`)).status).toBe(200);
    }
    expect((await remove(id, key)).status).toBe(204);
    for (const path of [`/api/briefs/${id}`, `/api/briefs/${id}/about`, `/b/${id}/picture.png`])
      expect((await ask(path)).status).toBe(410);
    expect((await remove(id, key)).status).toBe(410);
  });

  it('comes by itself after thirty days', async () => {
    const { share, ask, later } = await sharingService();
    const { id } = await share();
    later(30 * DAY_MS - 1);
    expect((await ask(`/api/briefs/${id}`)).status).toBe(200);
    later(1);
    expect((await ask(`/api/briefs/${id}`)).status).toBe(410);
  });

  it.each(['', 'x', 'A'.repeat(22), '../../../etc/passwd', "' OR 1=1 --"])(
    '%j was never shared',
    async (id) => {
      const { ask } = await sharingService();
      expect((await ask(`/api/briefs/${encodeURIComponent(id)}`)).status).toBe(404);
    },
  );
});

describe('the link', () => {
  it('opens the page with a preview of altitude and sentence, and asks robots to leave it alone', async () => {
    const { share, ask } = await sharingService();
    const { id } = await share();
    const response = await ask(`/b/${id}`);
    const html = await response.text();
    expect(response.headers.get('x-robots-tag')).toMatch(/noindex/);
    expect(html).toContain('<meta name="robots" content="noindex, nofollow">');
    expect(html).toMatch(
      /<meta property="og:title" content="AAAA to BBBB, \d{4}-\d\d-\d\d \d\d:\d\d UTC: file [\d,]+ ft">/,
    );
    expect(html).toMatch(
      /og:description" content="(Invented data\. )?As of 20\d\d-\d\d-\d\d \d\d:\d\d UTC: [^"]*Advice only/,
    );
    expect(html).toContain(`<meta property="og:url" content="http://rimeway.test/b/${id}">`);
  });

  it('names a picture of the brief, which no robot keeps', async () => {
    const { share, ask } = await sharingService();
    const { id } = await share();
    const html = await (await ask(`/b/${id}`)).text();
    const url = /<meta property="og:image" content="([^"]+)">/.exec(html)![1]!;
    expect(url).toBe(`http://rimeway.test/b/${id}/picture.png`);
    const response = await ask(new URL(url).pathname);
    expect(response.headers.get('content-type')).toBe('image/png');
    expect(response.headers.get('x-robots-tag')).toMatch(/noindex/);
    const { width, height } = readIndexedPng(new Uint8Array(await response.arrayBuffer()));
    expect([width, height].map(String)).toEqual(
      ['width', 'height'].map((side) => new RegExp(`og:image:${side}" content="(\\d+)"`).exec(html)![1]),
    );
  });

  it('sends for the bytes and tells of the brief with the page, so that neither is waited for', async () => {
    const { share, ask, remove } = await sharingService();
    const { id, key } = await share();
    const html = await (await ask(`/b/${id}`)).text();
    expect(html).toContain(`<link rel="preload" as="fetch" crossorigin href="/api/briefs/${id}">`);
    for (const script of ['one-x', 'two'])
      expect(html).toContain(`<link rel="modulepreload" crossorigin href="/assets/${script}.js">`);
    const told = /<script type="application\/json" id="shared-about">(.*?)<\/script>/.exec(html)![1]!;
    expect(JSON.parse(told)).toEqual(await (await ask(`/api/briefs/${id}/about`)).json());
    await remove(id, key);
    const after = await (await ask(`/b/${id}`)).text();
    expect(after).not.toContain('preload');
    expect(after).not.toContain('shared-about');
  });

  it('is told of with nothing that could end the element or begin another', async () => {
    const { stores, share, ask } = await sharingService();
    const { id } = await share();
    const row = (await stores.sharedBriefs.find(id))!;
    const request = { ...LEG, route: '</script><script>x</script><!--$&' };
    const made = { brief: new Uint8Array(), picture: new Uint8Array() };
    await stores.sharedBriefs.put({ ...row, request: JSON.stringify(request) }, made);
    const html = await (await ask(`/b/${id}`)).text();
    const told = /id="shared-about">(.*?)<\/script>/.exec(html)![1]!;
    expect(told).not.toContain('<');
    expect(JSON.parse(told).request.route).toBe(request.route);
  });

  it('opens the page while the rows cannot be read, and the page is told so', async () => {
    const { stores, share, ask } = await sharingService();
    const { id } = await share();
    const fault = () => Promise.reject(new Error('D1_ERROR: no such thing'));
    Object.assign(stores, { sharedBriefs: { ...stores.sharedBriefs, find: fault } });
    const page = await ask(`/b/${id}`);
    expect(page.status).toBe(200);
    expect(await page.text()).toContain('noindex');
    for (const path of ['', '/about', '/inputs']) {
      const response = await ask(`/api/briefs/${id}${path}`);
      expect(response.status).toBe(500);
      expect(await response.text()).not.toContain('D1_ERROR');
    }
  });

  it('of what is gone or never was opens the page without a word of the leg', async () => {
    const { share, ask, remove } = await sharingService();
    const { id, key } = await share();
    await remove(id, key);
    for (const link of [`/b/${id}`, '/b/nothing']) {
      const html = await (await ask(link)).text();
      expect(html).toContain('noindex');
      expect(html).not.toContain('AAAA');
    }
  });

  it('takes neither markup nor a sign with a meaning out of a text', async () => {
    const { stores, share, ask } = await sharingService();
    const { id } = await share();
    const kept = (await stores.sharedBriefs.find(id))!;
    const made = { brief: new Uint8Array(), picture: new Uint8Array() };
    const title = `"><script>x</script>&'$&$\`$'`;
    await stores.sharedBriefs.put({ ...kept, title }, made);
    expect(await (await ask(`/b/${id}`)).text()).toContain(
      'og:title" content="&quot;&gt;&lt;script&gt;x&lt;/script&gt;&amp;&#39;$&amp;$`$&#39;">',
    );
  });
});
