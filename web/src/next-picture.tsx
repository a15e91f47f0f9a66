/** What stands below the answer and its cross-section: drawn one picture after them, so that they come sooner. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { isPrinting } from './state.ts';
import { afterPaint } from './when-idle.ts';

interface NextPictureProps {
  /** Nothing comes before it. */
  readonly isFirst?: boolean;
  readonly children: ComponentChildren;
}

export function NextPicture({ isFirst = false, children }: NextPictureProps) {
  const [isTime, setTime] = useState(isFirst);
  useEffect(() => afterPaint(() => setTime(true)), []);
  return <>{(isTime || isPrinting.value) && children}</>;
}
