/** The list of shared briefs that were opened here, loaded where there is one. */
import { useEffect, useState } from 'preact/hooks';
import { storedText } from '../device-value.ts';
import { whenIdle } from '../when-idle.ts';
import { OPENED_SHARED } from './opened-shared.ts';

type View = typeof import('../share/shared-view.tsx');

export function LateKeptShared() {
  const [view, setView] = useState<View>();
  useEffect(() => {
    if (storedText(OPENED_SHARED) === undefined) return undefined;
    return whenIdle(() => void import('../share/shared-view.tsx').then(setView, () => undefined));
  }, []);
  return view === undefined ? null : <view.KeptShared />;
}
