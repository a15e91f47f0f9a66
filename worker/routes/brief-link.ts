/** GET /b/{id}: the page, with what a preview of the link shows; robots are asked to keep none of it. */
import type { Context } from 'hono';
import { PICTURE_HEIGHT_PX, PICTURE_WIDTH_PX } from '../brief/brief-picture.ts';
import { faultLine } from '../log.ts';
import { endOf, isSharedBriefId, type SharedBrief } from '../sources/shared-briefs.ts';
import { aboutAnswer } from './about-brief.ts';
import type { AppEnv } from './app-env.ts';
import { escaped } from './escaped.ts';
import { PRIVATE_HEADERS } from './shared-briefs.ts';

const HEAD_END = '</head>';

/** A link that names nothing opens the page all the same: that says what became of it. */
export async function getBriefLink(context: Context<AppEnv>): Promise<Response> {
  const { deps } = context.var;
  const { origin } = new URL(context.req.url);
  const id = context.req.param('id') ?? '';
  const [html, shared] = await Promise.all([
    deps.page.html(origin),
    isSharedBriefId(id) ? deps.sharedBriefs.find(id).catch(noPreview) : undefined,
  ]);
  const isOpen = shared !== undefined && endOf(shared, deps.nowMs()) === undefined;
  const tags = isOpen ? `${previewTags(shared, origin)}${earlyTags(shared, html)}` : NO_ROBOTS;
  return new Response(
    html.replace(HEAD_END, () => `${tags}${HEAD_END}`),
    {
      headers: { ...PRIVATE_HEADERS, 'content-type': 'text/html; charset=utf-8' },
    },
  );
}

/** The page asks for the brief itself, and says what became of it. */
function noPreview(error: unknown): undefined {
  console.error(faultLine('no-preview-of-a-link', error));
}

/**
 * The page is to draw the brief as soon as it can: its bytes are on their way while the scripts are, and what is told of it comes with
 * the page.
 */
function earlyTags(shared: SharedBrief, html: string): string {
  // No sign of it can end the element.
  const about = JSON.stringify(aboutAnswer(shared)).replaceAll('<', '\\u003c');
  const scripts = SHARED_VIEW.exec(html)?.[1]?.split(' ') ?? [];
  return [
    `<link rel="preload" as="fetch" crossorigin href="/api/briefs/${shared.id}">`,
    ...scripts.map((name) => `<link rel="modulepreload" crossorigin href="/${name}.js">`),
    ...(about.length > MOST_ABOUT
      ? []
      : [`<script type="application/json" id="shared-about">${about}</script>`]),
  ].join('');
}

/** A route may be a long file: the page then asks for what is told of it. */
const MOST_ABOUT = 20_000;
/** Where the build names what pages of shared briefs load beside the rest. */
const SHARED_VIEW = /<meta name="shared-view" content="([\w/ -]+)"/;

const NO_ROBOTS = '<meta name="robots" content="noindex, nofollow">';

function previewTags({ id, title, sentence }: SharedBrief, origin: string): string {
  const link = `${origin}/b/${id}`;
  const properties = {
    'og:type': 'article',
    'og:site_name': 'Rimeway',
    'og:title': title,
    'og:description': `${sentence}. Advice only: the pilot in command and the official briefing decide`,
    'og:url': link,
    'og:image': `${link}/picture.png`,
    'og:image:type': 'image/png',
    'og:image:width': String(PICTURE_WIDTH_PX),
    'og:image:height': String(PICTURE_HEIGHT_PX),
    'og:image:alt': `${title}. ${sentence}`,
  };
  const metas = Object.entries(properties).map(
    ([property, content]) => `<meta property="${property}" content="${escaped(content)}">`,
  );
  return [NO_ROBOTS, ...metas].join('');
}
