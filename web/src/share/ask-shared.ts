/** A shared brief as it is opened: as the service has it, else as this device kept it when it was opened before. */
import { type AboutBrief, aboutBriefSchema } from '../../../worker/schema/shared-brief.ts';
import { briefOf, getJson, LIST_TIMEOUT_MS } from '../api.ts';
import type { Answer } from '../client/answer.ts';
import type { Brief } from '../contract.ts';
import { takeFirstAnswer } from '../first-ask.ts';
import { forgetShared, keepShared, readKeptShared } from '../kept/kept-shared.ts';
import { isOfTheService } from '../kept/no-answer.ts';
import { sharedBriefPath } from '../shared-link.ts';
import { whenIdle } from '../when-idle.ts';

export interface OpenedShared {
  readonly brief: Brief;
  readonly about: AboutBrief;
  /** Of this device: the service gave no answer. */
  readonly isKept: boolean;
}

/** What ended is kept no longer; what the service says nothing of may be kept. */
export async function askShared(id: string, signal: AbortSignal): Promise<Answer<OpenedShared>> {
  const [about, answer] = await Promise.all([askAbout(id, signal), askBytes(id, signal)]);
  if (answer.kind === 'ok' && about.kind === 'ok') {
    const opened = { brief: answer.value, about: about.value };
    whenIdle(() => void keepShared(opened));
    return { kind: 'ok', value: { ...opened, isKept: false } };
  }
  const failure = answer.kind === 'ok' ? (about as Exclude<typeof about, { kind: 'ok' }>) : answer;
  if (isEnd(failure)) await forgetShared(id);
  const kept = isOfTheService(failure) ? await keptShared(id) : undefined;
  return kept === undefined ? failure : { kind: 'ok', value: kept };
}

/** undefined where this device keeps none whose link is still open. */
export async function keptShared(id: string): Promise<OpenedShared | undefined> {
  const found = await readKeptShared(id, Date.now());
  return found && { ...found, isKept: true };
}

/** The bytes that were stored, whoever opens it and whenever. */
function askBytes(id: string, signal: AbortSignal): Promise<Answer<Brief>> {
  const path = sharedBriefPath(id);
  const send = (both: AbortSignal) => takeFirstAnswer(path, both) ?? fetch(path, { signal: both });
  return briefOf(send, signal, LIST_TIMEOUT_MS);
}

/** When it was made and what was asked: as the page of its link was told, else asked for. */
async function askAbout(id: string, signal: AbortSignal): Promise<Answer<AboutBrief>> {
  const told = aboutBriefSchema.safeParse(aboutOfPage()).data;
  if (told?.id === id) return { kind: 'ok', value: told };
  return getJson(`${sharedBriefPath(id)}/about`, aboutBriefSchema, signal);
}

/** What the service put into the page of a link; undefined where there is nothing. */
function aboutOfPage(): unknown {
  const text = document.getElementById('shared-about')?.textContent;
  return text ? JSON.parse(text) : undefined;
}

/** Taken back, expired, or never shared. */
function isEnd(answer: Answer<unknown>): boolean {
  return answer.kind === 'problem' && [404, 410].includes(answer.problem.status);
}
