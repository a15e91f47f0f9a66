/** Aircraft profiles that the service knows, by identifier and name. */
import { useEffect, useState } from 'preact/hooks';
import * as z from 'zod/mini';
import { answerOf } from '../../client/answer.ts';

const TIMEOUT_MS = 10_000;
/** Of each profile no more than its choice needs. */
const schema = z.object({ aircraft: z.array(z.object({ id: z.string(), name: z.string() })) });

export type KnownAircraft = z.infer<typeof schema>['aircraft'][number];

/** Empty until they are known, and where they cannot be. */
export function useAircraft(): readonly KnownAircraft[] {
  const [aircraft, setAircraft] = useState<readonly KnownAircraft[]>([]);
  useEffect(() => {
    const stop = new AbortController();
    const send = (signal: AbortSignal) => fetch('/api/aircraft', { signal });
    answerOf(send, stop.signal, { timeoutMs: TIMEOUT_MS, schema }).then((answer) => {
      if (answer.kind === 'ok') setAircraft(answer.value.aircraft);
    });
    return () => stop.abort();
  }, []);
  return aircraft;
}
