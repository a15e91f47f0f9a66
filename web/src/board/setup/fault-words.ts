/** Why a call brought no answer, in one sentence. */
import { capitalized } from '../../../../worker/flight/words.ts';
import type { Answer } from '../../client/answer.ts';

/** With field, found and expected where the service names them. */
export function faultWords(answer: Exclude<Answer<unknown>, { readonly kind: 'ok' }>): string {
  switch (answer.kind) {
    case 'problem': {
      const { title, detail, status } = answer.problem;
      if (status === 401)
        return 'The key was refused: it is wrong, was taken back, or is of another board or operator.';
      if (status === 403)
        return 'This link may only look at the board: the call needs one that may change it.';
      return detail.startsWith('status ') ? `${title} (${detail}).` : `${capitalized(detail)}.`;
    }
    case 'timeout':
      return `No answer within ${Math.round(answer.afterMs / 1000)} seconds: what became of it is not known.`;
    case 'unreachable':
      return 'The service is not reached: check the connection and try again.';
    case 'not-understood':
      return `The answer does not keep to the contract${answer.where === '' ? '' : ` at ${answer.where}`}: what became of it is not known.`;
    case 'abandoned':
      return 'Given up.';
  }
}
