/** The button that takes a shared brief back; while it could not, the link is open still, and it says so. */
import { useSignal } from '@preact/signals';
import { type OwnShare, takeBack } from './own-shares.ts';

interface TakeBackProps {
  readonly share: Pick<OwnShare, 'id' | 'key'>;
  /** For who does not see what it stands beside. */
  readonly label?: string;
  readonly onTakenBack?: () => void;
}

export function TakeBack({ share, label, onTakenBack }: TakeBackProps) {
  const state = useSignal<'rests' | 'asked' | 'failed'>('rests');
  const take = async () => {
    state.value = 'asked';
    if (await takeBack(share)) onTakenBack?.();
    else state.value = 'failed';
  };
  return (
    <>
      <button type="button" aria-label={label} disabled={state.value === 'asked'} onClick={() => void take()}>
        Take it back
      </button>
      {state.value === 'failed' && (
        <span class="complaint" role="alert">
          {' '}
          Not taken back, the link is open still: try again.
        </span>
      )}
    </>
  );
}
