/** The list of shared briefs that were opened here, loaded where there is one. */
import { useEffect, useState } from 'preact/hooks';
import { storedText } from '../device-value.ts';
import { whenIdle } from '../when-idle.ts';
import { OPENED_SHARED } from './opened-shared.ts';

type List = typeof import('./kept-shared-list.tsx');

export function LateKeptShared() {
  const [list, setList] = useState<List>();
  useEffect(() => {
    if (storedText(OPENED_SHARED) === undefined) return undefined;
    return whenIdle(() => void import('./kept-shared-list.tsx').then(setList, () => undefined));
  }, []);
  return list === undefined ? null : <list.KeptShared />;
}
