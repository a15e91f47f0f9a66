/** The QR code of this page's address, on paper alone: whoever holds the print opens the same leg. */
import { type Signal, useSignal, useSignalEffect } from '@preact/signals';
import { useEffect, useMemo, useState } from 'preact/hooks';
import { isOnDeviceOnly } from '../device-aircraft.ts';
import { addressOfBrief, isPrinting } from '../state.ts';
import { whenIdle } from '../when-idle.ts';
import { CodeDrawing } from './code-drawing.tsx';

type LinkCodes = typeof import('./link-code.ts');

export function PrintCode() {
  const [codes, setCodes] = useState<LinkCodes>();
  // Nobody prints before the brief is drawn.
  useEffect(() => whenIdle(() => void import('./link-code.ts').then(setCodes, () => undefined)), []);
  const link = useWhenIdle(addressOfBrief);
  const code = useMemo(() => codes?.linkCode(link), [codes, link]);
  if (isOnDeviceOnly(new URL(link).searchParams.get('aircraft') ?? ''))
    return <p class="print-code print-code-none">No code: this link opens on this device only.</p>;
  if (codes === undefined) return null;
  if (code === undefined) return <p class="print-code print-code-none">No code: the link is too long.</p>;
  return <CodeDrawing code={code} name="print-code" label="QR code of the link to this leg" />;
}

/** A code takes a while to work out, and the address follows every altitude that is considered. */
function useWhenIdle(address: Signal<string>): string {
  const shown = useSignal(address.peek());
  useSignalEffect(() => {
    const now = address.value;
    if (isPrinting.value) shown.value = now;
    else return whenIdle(() => (shown.value = now));
  });
  return shown.value;
}
