/** GET /b/{id}: the page, with what a preview of the link shows; robots are asked to keep none of it. */
import type { Context } from 'hono';
import { PICTURE_HEIGHT_PX, PICTURE_WIDTH_PX } from '../brief/brief-picture.ts';
import { faultLine } from '../log.ts';
import { endOf, isSharedBriefId, type SharedBrief } from '../sources/shared-briefs.ts';
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
  const tags = shared && endOf(shared, deps.nowMs()) === undefined ? previewTags(shared, origin) : NO_ROBOTS;
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
