/** The HTTP application: mounts the handlers and one error handler; runs in any runtime. */
import { Hono } from 'hono';
import type { Settings } from './env.ts';
import { TooManyError } from './errors.ts';
import { getAircraft } from './routes/aircraft.ts';
import type { AppEnv } from './routes/app-env.ts';
import { postBrief } from './routes/brief.ts';
import { getBriefLink } from './routes/brief-link.ts';
import { postColumn } from './routes/column.ts';
import { postGrids } from './routes/grids.ts';
import { getHealth } from './routes/health.ts';
import { getHoldover, postHoldover } from './routes/holdover.ts';
import { getPlaces, postPlaces } from './routes/places.ts';
import { problemResponse, toProblem } from './routes/problem.ts';
import { postReports } from './routes/reports.ts';
import { postSequence } from './routes/sequences.ts';
import {
  deleteSharedBrief,
  getAboutBrief,
  getSharedBrief,
  getSharedInputs,
  getSharedPicture,
  postProof,
  postSharedBrief,
} from './routes/shared-briefs.ts';
import { getSkill } from './routes/skill.ts';
import { postSoundings } from './routes/soundings.ts';
import { getSources } from './routes/sources.ts';
import type { Dependencies } from './sources/ports.ts';

export function createApp(deps: Dependencies, settings: Settings): Hono<AppEnv> {
  const app = new Hono<AppEnv>();
  app.use(async (context, next) => {
    context.set('deps', deps);
    context.set('settings', settings);
    await next();
    context.header('x-content-type-options', 'nosniff');
  });
  app.post('/api/brief', postBrief);
  app.post('/api/briefs', postSharedBrief);
  app.get('/api/briefs/:id', getSharedBrief);
  app.delete('/api/briefs/:id', deleteSharedBrief);
  app.get('/api/briefs/:id/about', getAboutBrief);
  app.get('/api/briefs/:id/inputs', getSharedInputs);
  app.post('/api/briefs/:id/proof', postProof);
  app.post('/api/sequences', postSequence);
  app.post('/api/column', postColumn);
  app.post('/api/soundings', postSoundings);
  app.post('/api/grids', postGrids);
  app.post('/api/reports', postReports);
  app.get('/api/skill', getSkill);
  app.get('/b/:id', getBriefLink);
  app.get('/b/:id/picture.png', getSharedPicture);
  app.get('/api/holdover', getHoldover);
  app.post('/api/holdover', postHoldover);
  app.get('/api/sources', getSources);
  app.get('/api/places', getPlaces);
  app.post('/api/places', postPlaces);
  app.get('/api/aircraft', getAircraft);
  app.get('/api/health', getHealth);
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
    if (problem.status >= 500) console.error('unexpected error', error);
    return problemResponse(
      problem,
      error instanceof TooManyError ? { 'retry-after': String(error.retryAfterS) } : {},
    );
  });
  return app;
}
