/** Has this device told when a verdict worsens while nobody looks at the board. */
import { useEffect, useState } from 'preact/hooks';
import { faultWords } from '../setup/fault-words.ts';
import './notify.css';
import { type BoardPerson, type PushState, pushState, switchOff, switchOn } from './push-device.ts';

/** @param props.person  Who asks, as the log names them; '' keeps the switch shut. */
export function NotifySwitch(props: BoardPerson) {
  const { boardId, person } = props;
  const [state, setState] = useState<PushState>({ kind: 'asking' });
  const [isBusy, setBusy] = useState(false);
  useEffect(() => {
    const stop = new AbortController();
    pushState(boardId, stop.signal).then((found) => {
      if (!stop.signal.aborted) setState(found);
    });
    return () => stop.abort();
  }, [boardId]);
  const isOn = state.kind === 'on' || (state.kind === 'fault' && state.isOn);
  const isOpen = ['off', 'on', 'fault', 'not-made', 'refused'].includes(state.kind);
  const turn = async () => {
    setBusy(true);
    setState(await (isOn ? switchOff(props) : switchOn(props)));
    setBusy(false);
  };
  return (
    <section class="notify" aria-labelledby="notify-title">
      <h2 id="notify-title">Messages to this device</h2>
      <p>A message comes when a verdict of this board worsens, also while the board is shut.</p>
      {isOpen && (
        <button
          type="button"
          role="switch"
          aria-checked={isOn}
          disabled={isBusy || (!isOn && person.trim() === '')}
          onClick={() => void turn()}
        >
          {isOn ? 'Switch off' : 'Switch on'}
        </button>
      )}
      <p role="status">{isBusy ? 'One moment…' : stateWords(state, person)}</p>
    </section>
  );
}

function stateWords(state: PushState, person: string): string {
  if (state.kind === 'fault')
    return `${state.isOn ? 'Still on' : 'Not switched on'}: ${faultWords(state.why)}`;
  if (state.kind === 'not-made')
    return `Not switched on: the browser made no subscription (${state.sentence}).`;
  if (state.kind === 'off' && person.trim() === '')
    return 'Off on this device. Say first who you are: messages are kept under a name.';
  return {
    asking: 'Asking the service…',
    'no-browser':
      'This browser shows no messages of pages. On a phone or tablet it may once the page is put on the home screen.',
    refused:
      'The browser refuses messages of this page. They are allowed again in its settings of this site.',
    'none-sent': 'This service sends no messages: its operator set no key for them.',
    off: 'Off on this device.',
    on: 'On on this device. A message is no guarantee: look at the board.',
  }[state.kind];
}
