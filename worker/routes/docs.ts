/** GET /api/docs: this interface as a page for people. */
import type { Context } from 'hono';
import type { AppEnv } from './app-env.ts';
import { docsPage } from './docs-page.ts';

/** Nothing runs on it and nothing is fetched by it. */
const POLICY =
  "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

let drawn: string | undefined;

/** The same for everybody: drawn once an isolate, when somebody asks for it first. */
export function getDocs(_context: Context<AppEnv>): Response {
  drawn ??= docsPage();
  return new Response(drawn, {
    headers: {
      'content-type': 'text/html; charset=utf-8',
      'content-security-policy': POLICY,
      'cache-control': 'no-cache',
    },
  });
}
