/** When what this device keeps stands in for an answer. */
import type { Answer } from '../client/answer.ts';

/** A service that is this slow may not come at all: what is kept is shown meanwhile, under its age. */
export const KEPT_MEANWHILE_AFTER_MS = 5000;

/** It says nothing of the leg: no connection, or something between that answered in its place. */
export function isOfTheService(answer: Answer<unknown>): boolean {
  if (answer.kind === 'problem') return answer.problem.status >= 500;
  return answer.kind === 'unreachable' || answer.kind === 'timeout' || answer.kind === 'not-understood';
}
