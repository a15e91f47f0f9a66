/** GET /board/{id}: the page of a board. Its secret stands behind the # and never comes here. */
import type { Context } from 'hono';
import type { AppEnv } from './app-env.ts';

/** Any address of a board gives the same document: whether there is such a board is told to nobody without its key. */
export async function getBoardPage(context: Context<AppEnv>): Promise<Response> {
  const { origin } = new URL(context.req.url);
  return new Response(await context.var.deps.page.board(origin), {
    headers: {
      'content-type': 'text/html; charset=utf-8',
      'cache-control': 'private, no-cache',
      'x-robots-tag': 'noindex, nofollow',
      'referrer-policy': 'no-referrer',
    },
  });
}
