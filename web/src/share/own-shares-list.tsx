/** What was shared from this device and is still open: each can be opened and taken back. */
import { useSignal } from '@preact/signals';
import { datedText, instantText } from '../numbers.ts';
import { nowMs } from '../state.ts';
import { type OwnShare, openShares, ownShares } from './own-shares.ts';
import { TakeBack } from './take-back.tsx';

export function OwnShares() {
  const open = openShares(ownShares.value, nowMs.value);
  const takenBack = useSignal('');
  if (open.length === 0 && takenBack.value === '') return null;
  return (
    <details class="own-shares">
      <summary>Shared from this device ({open.length})</summary>
      <ul>
        {open.map((share) => (
          <ShareLine key={share.id} share={share} onTakenBack={() => (takenBack.value = titleOf(share))} />
        ))}
      </ul>
      <p role="status">{takenBack.value !== '' && `Taken back: ${takenBack.value}`}</p>
    </details>
  );
}

interface ShareLineProps {
  readonly share: OwnShare;
  readonly onTakenBack: () => void;
}

function ShareLine({ share, onTakenBack }: ShareLineProps) {
  const { id, createdUtc, expiresUtc } = share;
  return (
    <li>
      <a href={`/b/${id}`}>{titleOf(share)}</a>
      {createdUtc !== undefined && <span class="quiet"> shared {datedText(createdUtc)}</span>}
      {expiresUtc !== undefined && <span class="quiet">, open until {datedText(expiresUtc)}</span>}{' '}
      <TakeBack share={share} label={`Take back ${titleOf(share)}`} onTakenBack={onTakenBack} />
    </li>
  );
}

function titleOf({ id, title }: OwnShare): string {
  const [leg, departureUtc] = title?.split(', ') ?? [];
  if (leg === undefined || departureUtc === undefined) return `Link ${id.slice(0, 6)}…`;
  return `${leg}, ${instantText(departureUtc)}`;
}
