/** What stands below the answer and its cross-section: drawn one picture after them, so that they come sooner. */
import { signal } from '@preact/signals';
import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { isPrinting } from './state.ts';

/** The first brief stands: all that waits comes together, and from then on nothing waits. */
const isTime = signal(false);

/** To be called where the answer and the cross-section are drawn. */
export function useNextPicture(): void {
  useEffect(() => {
    isTime.value = true;
  }, []);
}

interface NextPictureProps {
  /** Nothing comes before it. */
  readonly isFirst?: boolean;
  readonly children: ComponentChildren;
}

export function NextPicture({ isFirst = false, children }: NextPictureProps) {
  const isThere = useRef(false);
  isThere.current ||= isFirst || isTime.value || isPrinting.value;
  return <>{isThere.current && children}</>;
}
