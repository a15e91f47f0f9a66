/** The HTTP application: mounts every call of the table behind the one gate, and one error handler; runs in any runtime. */
import { Hono } from 'hono';
import type { Settings } from './env.ts';
import { TooManyError } from './errors.ts';
import { faultLine } from './log.ts';
import type { AppEnv } from './routes/app-env.ts';
import type { Handler } from './routes/board-handlers.ts';
import { gate } from './routes/gate.ts';
import { HANDLERS } from './routes/handlers.ts';
import { problemResponse, toProblem } from './routes/problem.ts';
import { CALLS, type CallName } from './schema/calls.ts';
import type { Dependencies } from './sources/ports.ts';

/** Of a WebSocket the answer is handed on as it came. */
const SWITCHING_PROTOCOLS = 101;

/** @param handlers  Others in the place of the service's own, for tests of the gate. */
export function createApp(
  deps: Dependencies,
  settings: Settings,
  handlers: Readonly<Record<CallName, Handler>> = HANDLERS,
): Hono<AppEnv> {
  const app = new Hono<AppEnv>();
  app.use(async (context, next) => {
    context.set('deps', deps);
    context.set('settings', settings);
    await next();
    if (context.res.status !== SWITCHING_PROTOCOLS) context.header('x-content-type-options', 'nosniff');
  });
  for (const name of Object.keys(CALLS) as CallName[]) {
    const call = CALLS[name];
    app.on(call.method, mountedPath(call.path), gate(call), handlers[name]);
  }
  app.notFound((context) =>
    problemResponse({
      type: 'about:blank',
      title: 'No such call',
      status: 404,
      detail: `${context.req.method} ${context.req.path} is not part of this interface`,
    }),
  );
  app.onError((error) => {
    const problem = toProblem(error);
    if (problem.status >= 500) console.error(faultLine('unexpected-error', error));
    return problemResponse(
      problem,
      error instanceof TooManyError ? { 'retry-after': String(error.retryAfterS) } : {},
    );
  });
  return app;
}

/** As the router writes it. */
const mountedPath = (path: string) => path.replace(/\{(\w+)\}/g, ':$1');
