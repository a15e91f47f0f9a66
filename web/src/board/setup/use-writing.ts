/** One write at a time, and what became of the last in words. */
import { useState } from 'preact/hooks';
import type { Answer } from '../../client/answer.ts';
import { faultWords } from './fault-words.ts';

export interface Said {
  readonly isFault: boolean;
  readonly sentence: string;
}

export interface Writing {
  readonly isBusy: boolean;
  readonly said: Said | undefined;
  readonly say: (said: Said | undefined) => void;
  /** @returns whether it was done; why not is said. */
  readonly write: <T>(ask: () => Promise<Answer<T>>, done: (value: T) => string) => Promise<boolean>;
}

export function useWriting(): Writing {
  const [isBusy, setBusy] = useState(false);
  const [said, say] = useState<Said>();
  const write = async <T>(ask: () => Promise<Answer<T>>, done: (value: T) => string): Promise<boolean> => {
    setBusy(true);
    say(undefined);
    const answer = await ask();
    setBusy(false);
    if (answer.kind === 'abandoned') return false;
    if (answer.kind !== 'ok') say({ isFault: true, sentence: faultWords(answer) });
    else say({ isFault: false, sentence: done(answer.value) });
    return answer.kind === 'ok';
  };
  return { isBusy, said, say, write };
}
