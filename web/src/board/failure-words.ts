/** Why a call has no answer, in one sentence. */
import type { Answer } from '../client/answer.ts';

export function failureWords(answer: Answer<unknown>): string {
  if (answer.kind === 'problem') return answer.problem.detail;
  if (answer.kind === 'timeout')
    return `The service did not answer within ${Math.round(answer.afterMs / 1000)} s`;
  if (answer.kind === 'not-understood') return `The service’s answer was not understood (${answer.where})`;
  return 'The service was not reached';
}
