/** The page of documentation: every call, nothing that runs, and no text that becomes markup. */
import { describe, expect, it } from 'vitest';
import { EXAMPLE_BODIES, EXAMPLE_PARAMETERS, EXAMPLE_QUERIES } from '../../worker/routes/call-examples.ts';
import { getDocs } from '../../worker/routes/docs.ts';
import { docsPage } from '../../worker/routes/docs-page.ts';
import { shapeHtml, typeHtml } from '../../worker/routes/docs-shapes.ts';
import type { Call } from '../../worker/schema/call.ts';
import { CALLS, type CallName } from '../../worker/schema/calls.ts';
import { PATH_PARAMETERS } from '../../worker/schema/path-parameters.ts';
import { gated } from './gated.ts';

const html = docsPage();
const CALL_OF: Readonly<Record<string, Call>> = CALLS;

describe('docsPage', () => {
  it.each(Object.values(CALLS).map((call: Call) => [call.name, call] as const))(
    'has %s with its summary',
    (name, call) => {
      const section = html.slice(html.indexOf(`<section class="call" id="${name}">`)).split('</section>')[0]!;
      expect(section).toContain(`<span class="method">${call.method}</span>`);
      expect(section.replaceAll('<wbr>', '')).toContain(call.path);
      expect(section).toContain(call.summary.replaceAll("'", '&#39;'));
      expect(section).toMatch(/<pre>.*(curl|WebSocket)/s);
    },
  );

  it('leads from every link to something on it', () => {
    const ids = [...html.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id);
    const targets = [...html.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
    expect(new Set(ids).size).toBe(ids.length);
    expect(targets.length).toBeGreaterThan(100);
    for (const target of new Set(targets)) expect(ids).toContain(target);
  });

  it('runs nothing and fetches nothing, whatever it says', async () => {
    const { ask } = await gated({ handlers: { getDocs } });
    const response = await ask('/api/docs');
    expect(await response.text()).toBe(html);
    expect(response.headers.get('content-type')).toBe('text/html; charset=utf-8');
    expect(response.headers.get('content-security-policy')).toMatch(
      /^default-src 'none'; style-src 'unsafe-inline';/,
    );
    expect(html).not.toMatch(/<script|<link|<img|@import|url\(| on\w+=/i);
  });

  it('carries the caution, and says what is unknown', () => {
    expect(html).toContain('pilot in command');
    expect(html).toContain('Unknown is not free of ice');
  });
});

describe('what schemas say', () => {
  const ODD = '<b onclick="x">&\'';
  const PLAIN = '&lt;b onclick=&quot;x&quot;&gt;&amp;&#39;';

  it.each([
    { pattern: ODD },
    { description: ODD },
    { format: ODD },
    { enum: [ODD] },
    { const: ODD },
    { type: ODD },
    { $ref: `#/components/schemas/${ODD}` },
    { type: 'object', properties: { [ODD]: { type: 'string' } } },
    { anyOf: [{ type: 'array', items: { pattern: ODD } }] },
  ])('%j becomes no markup', (schema) => {
    for (const drawn of [typeHtml(schema), shapeHtml(schema)]) {
      expect(drawn).not.toContain('<b');
      expect(drawn.replaceAll('\\&quot;', '&quot;')).toContain(PLAIN);
    }
  });

  it('is told in words', () => {
    expect(typeHtml({ type: 'number', minimum: 1, exclusiveMinimum: 0, maximum: 9 })).toBe(
      'number, from 1, above 0, to 9',
    );
    expect(typeHtml({ type: ['number', 'null'] })).toBe('number or null');
    expect(typeHtml({ type: 'array', maxItems: 3, items: { $ref: '#/components/schemas/Way' } })).toBe(
      'list of <a href="#Way">Way</a>, at most 3 entries',
    );
    expect(typeHtml({ prefixItems: [{ type: 'number' }, { type: 'string' }], type: 'array' })).toBe(
      '[number; string]',
    );
  });
});

describe('the examples', () => {
  it.each(Object.entries(EXAMPLE_BODIES))('%s has a body that the call takes', (name, body) => {
    expect(CALL_OF[name]!.request!.safeParse(body)).toMatchObject({ success: true });
  });

  it.each(Object.entries(EXAMPLE_QUERIES))('%s has a query that the call takes', (name, query) => {
    const parsed = CALL_OF[name]!.query!.safeParse(Object.fromEntries(new URLSearchParams(query)));
    expect(parsed).toMatchObject({ success: true });
  });

  it('have something for every parameter, and a query where one is needed', () => {
    for (const [name, schema] of Object.entries(PATH_PARAMETERS))
      expect(schema.safeParse(EXAMPLE_PARAMETERS[name]), name).toMatchObject({ success: true });
    const needy = Object.values(CALL_OF).filter(({ query }) => query?.safeParse({}).success === false);
    for (const { name } of needy) expect(Object.keys(EXAMPLE_QUERIES)).toContain(name as CallName);
  });
});
