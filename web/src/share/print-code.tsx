/** The QR code of this page's address, on paper alone: whoever holds the print opens the same leg. */
import { useEffect, useMemo, useState } from 'preact/hooks';
import { isOnDeviceOnly } from '../device-aircraft.ts';
import { addressOfBrief } from '../state.ts';
import { whenIdle } from '../when-idle.ts';

type LinkCodes = typeof import('./link-code.ts');

export function PrintCode() {
  const [codes, setCodes] = useState<LinkCodes>();
  // Nobody prints before the brief is drawn.
  useEffect(() => whenIdle(() => void import('./link-code.ts').then(setCodes, () => undefined)), []);
  const link = addressOfBrief.value;
  const code = useMemo(() => codes?.linkCode(link), [codes, link]);
  if (isOnDeviceOnly(new URL(link).searchParams.get('aircraft') ?? ''))
    return <p class="print-code print-code-none">No code: this link opens on this device only.</p>;
  if (codes === undefined) return null;
  if (code === undefined) return <p class="print-code print-code-none">No code: the link is too long.</p>;
  return (
    <svg
      class="print-code"
      viewBox={`0 0 ${code.modules} ${code.modules}`}
      shape-rendering="crispEdges"
      role="img"
      aria-label="QR code of the link to this leg"
    >
      <rect width={code.modules} height={code.modules} fill="#fff" />
      <path d={code.path} fill="#000" />
    </svg>
  );
}
