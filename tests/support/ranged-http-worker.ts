/** A Worker that asks a bucket as it is told, so that requests can be judged as workerd makes them. */
import { SourceError } from '../../worker/errors.ts';
import { platformHttp } from '../../worker/sources/platform-http.ts';
import { createRangedHttp } from '../../worker/sources/ranged-http.ts';

export interface Errand {
  readonly baseUrl: string;
  readonly path: string;
  readonly range: { readonly firstByte: number; readonly lastByte: number; readonly isEndOpen: boolean };
  /** Asked so often, each time for the version that came first. */
  readonly times?: number;
}

export default {
  async fetch(request: Request): Promise<Response> {
    const { baseUrl, path, range, times = 1 } = (await request.json()) as Errand;
    const http = createRangedHttp(platformHttp(), {
      allowed: { hosts: [], rehearsalBaseUrl: baseUrl },
      retry: { attempts: 2, firstWaitMs: 1, greatestWaitMs: 10, greatestRetryAfterMs: 10 },
      answerTimeoutMs: 500,
      wholeTimeoutMs: 1000,
    });
    try {
      let answer = await http.range(baseUrl + path, range);
      for (let time = 1; time < times; time += 1) {
        answer = await http.range(baseUrl + path, range, { version: answer.version });
      }
      return Response.json({ bytes: [...answer.bytes], version: answer.version });
    } catch (error) {
      if (!(error instanceof SourceError)) throw error;
      return Response.json({ fault: error.fault, found: error.found });
    }
  },
};
