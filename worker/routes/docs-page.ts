/** The interface as a page for people, drawn from the same table as everything else. */
import { CAUTIONS, METHOD_VERSION } from '../brief/method.ts';
import type { Call, CallAnswer } from '../schema/call.ts';
import { CALL_GROUPS, type CallName } from '../schema/calls.ts';
import { EXAMPLE_BODIES, EXAMPLE_PARAMETERS, EXAMPLE_QUERIES } from './call-examples.ts';
import { ACCESS_WORDS, limitWords, STATUS_WORDS, UNITS } from './call-words.ts';
import { shapeHtml, typeHtml } from './docs-shapes.ts';
import { DOCS_STYLE } from './docs-style.ts';
import { escaped } from './escaped.ts';
import { parametersOf } from './openapi.ts';
import { type Schemas, schemasOf } from './openapi-schemas.ts';

/** A whole document without a script, and with no text in it that is markup. */
export function docsPage(): string {
  const groups = CALL_GROUPS.map(({ title, calls }) => ({ title, calls: inReadingOrder(calls) }));
  const schemas = schemasOf(groups.flatMap(({ calls }) => calls));
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Rimeway: the interface</title><style>${DOCS_STYLE}</style></head><body>
<header><h1>Rimeway: the interface</h1>
<p class="soft">Method ${escaped(METHOD_VERSION)}. The same as <a href="/api/openapi.json">OpenAPI 3.1</a>. <a href="/">The page</a></p>
<div class="caution">${CAUTIONS.slice(0, 2)
    .map((caution) => `<p>${escaped(caution)}</p>`)
    .join('')}</div>
<p>${escaped(UNITS)}</p>
<p>A key goes as <code>Authorization: Bearer</code>. What cannot be done is answered as <code>application/problem+json</code> (RFC 9457), with the <code>field</code> that does not fit where there is one. Everything in the examples is invented.</p></header>
<nav aria-label="Calls"><h2>Calls</h2>${groups.map(({ title, calls }) => `<h3>${escaped(title)}</h3><ul>${calls.map(linkHtml).join('')}</ul>`).join('')}</nav>
<main>${groups.map(({ title, calls }) => `<h2>${escaped(title)}</h2>${calls.map((call) => callHtml(call, schemas)).join('')}`).join('')}
<h2>Shapes</h2>${shapesHtml(schemas)}</main></body></html>`;
}

/** As the paths have them, reading before writing. */
function inReadingOrder(calls: readonly Call[]): readonly Call[] {
  const order = ['GET', 'POST', 'PUT', 'DELETE'];
  return calls.toSorted(
    (a, b) =>
      (a.path === b.path ? 0 : a.path < b.path ? -1 : 1) || order.indexOf(a.method) - order.indexOf(b.method),
  );
}

/** A long path breaks before a part of it, not within one. */
const pathHtml = (path: string) => escaped(path).replace(/(?!^)\//g, '<wbr>/');

const headHtml = ({ method, path }: Call) =>
  `<span class="method">${escaped(method)}</span><span>${pathHtml(path)}</span>`;

const linkHtml = ({ name, method, path }: Call) =>
  `<li class="head"><span class="method">${escaped(method)}</span><a href="#${escaped(name)}">${pathHtml(path)}</a></li>`;

function callHtml(call: Call, schemas: Schemas): string {
  const rows: (readonly [string, string])[] = [
    ['Who', escaped(ACCESS_WORDS[call.access])],
    ...(limitWords(call) === '' ? [] : [['How often', escaped(limitWords(call))] as const]),
    ...listRow('Parameters', parameterLines(call)),
    ...listRow('Body', bodyLines(call, schemas)),
    ...listRow('Answers', answerLines(call, schemas)),
  ];
  return `<section class="call" id="${escaped(call.name)}"><h3 class="head">${headHtml(call)}</h3><p>${escaped(call.summary)}.</p><dl>${rows
    .map(([term, html]) => `<dt>${term}</dt><dd>${html}</dd>`)
    .join('')}</dl><pre>${escaped(exampleOf(call))}</pre></section>`;
}

function listRow(term: string, lines: readonly string[]): (readonly [string, string])[] {
  if (lines.length === 0) return [];
  return [[term, `<ul>${lines.map((line) => `<li>${line}</li>`).join('')}</ul>`]];
}

const PLACE_WORDS = { path: 'in the path', query: 'in the query', header: 'a header' } as const;

function parameterLines(call: Call): string[] {
  return parametersOf(call).map(({ name, in: place, required, schema }) => {
    const optional = required ? '' : ', may be left out';
    return `<code>${escaped(name)}</code> ${PLACE_WORDS[place]}${optional}: ${typeHtml(schema)}`;
  });
}

function bodyLines({ request, raw }: Call, schemas: Schemas): string[] {
  return [
    ...(request === undefined ? [] : [`<code>application/json</code> ${typeHtml(schemas.of(request))}`]),
    ...(raw?.contentTypes ?? []).map((type) => `<code>${escaped(type)}</code>`),
  ];
}

function answerLines({ answer }: Call, schemas: Schemas): string[] {
  return Object.entries(answer).map(([status, each]) => {
    const words = STATUS_WORDS[Number(status)] ?? 'Done';
    return `<code>${escaped(status)}</code> ${escaped(words)}${answerHtml(each, schemas)}`;
  });
}

function answerHtml(answer: CallAnswer, schemas: Schemas): string {
  if (answer === null) return '';
  if (typeof answer === 'string') return `: <code>${escaped(answer)}</code>`;
  const schema = 'contentType' in answer ? answer.schema : answer;
  return `: ${typeHtml(schemas.of(schema))}`;
}

function shapesHtml({ components }: Schemas): string {
  return Object.entries(components)
    .map(
      ([name, schema]) =>
        // A link to what stands inside opens it.
        `<details><summary>${escaped(name)}</summary><div id="${escaped(name)}">${shapeHtml(schema)}</div></details>`,
    )
    .join('');
}

/** For a command line; what a call needs of a key stands in a variable. */
function exampleOf(call: Call): string {
  const name = call.name as CallName;
  const path = call.path.replace(/\{(\w+)\}/g, (_, part: string) => EXAMPLE_PARAMETERS[part] ?? part);
  const query = EXAMPLE_QUERIES[name];
  const url = `"$RIMEWAY${path}${query === undefined ? '' : `?${query}`}"`;
  if (call.keyIn === 'subprotocol')
    return `new WebSocket(\`wss://\${host}${path}\`, ['rimeway-board', \`key.\${secret}\`])`;
  const isKeyed = call.access !== 'open' && call.access !== 'read';
  return [
    `curl ${call.method === 'GET' ? '' : `-X ${call.method} `}${url}`,
    ...(isKeyed ? ['-H "Authorization: Bearer $KEY"'] : []),
    ...bodyArguments(call),
  ].join(' \\\n  ');
}

function bodyArguments({ name, request, raw }: Call): string[] {
  const body = EXAMPLE_BODIES[name as CallName];
  if (body !== undefined) {
    const text = JSON.stringify(body).replaceAll("'", "'\\''");
    return ["-H 'Content-Type: application/json'", `-d '${text}'`];
  }
  if (raw !== undefined) return [`-H 'Content-Type: ${raw.contentTypes[0]}'`, '--data-binary @file'];
  return request === undefined ? [] : ["-H 'Content-Type: application/json'", '-d @body.json'];
}
