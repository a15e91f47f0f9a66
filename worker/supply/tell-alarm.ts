/** Tells one configured address of alarms. Its address is a secret: no error and no log holds it. */
import type { Alarm } from '../sources/alarms.ts';

const TIMEOUT_MS = 10_000;

/** What the address gets: readable by a person as it is, and by a program. */
interface AlarmMessage {
  readonly text: string;
  readonly code: string;
  readonly subject: string;
  readonly since: string;
  /** null while it lasts. */
  readonly ended: string | null;
}

export type Fetch = (url: string, init: RequestInit) => Promise<Response>;

/** @returns undefined where it was told, else why not, without the address. Never throws. */
export async function tellAlarm(
  fetch: Fetch,
  url: string,
  message: AlarmMessage,
): Promise<string | undefined> {
  try {
    const response = await fetch(url, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(message),
      redirect: 'manual',
      signal: AbortSignal.timeout(TIMEOUT_MS),
    });
    await response.body?.cancel();
    return response.ok ? undefined : `status ${response.status}`;
  } catch (error) {
    return error instanceof Error && error.name === 'TimeoutError' ? 'no answer within 10 s' : 'not reached';
  }
}

/** @param stage  What it is told of: that the alarm was raised, or that it ended. */
export function messageOf(alarm: Alarm, stage: 'raised' | 'ended'): AlarmMessage {
  const { code, subject, sentence, sinceMs, endedMs } = alarm;
  const ended = stage === 'raised' || endedMs === undefined ? null : utc(endedMs);
  return {
    text: `Rimeway ${ended === null ? 'alarm' : 'alarm ended'}: ${sentence}`,
    code,
    subject,
    since: utc(sinceMs),
    ended,
  };
}

const utc = (instantMs: number) => new Date(instantMs).toISOString();
