/**
 * Where a leg is entered: the whole start page, and folded into the masthead over a brief. It stays the same form all along, so
 * that a brief may appear under it while somebody types.
 */
import { useLayoutEffect, useRef } from 'preact/hooks';
import { ANSWER_TITLE } from '../answer/answer.tsx';
import { KeptBriefs } from '../kept/kept-list.tsx';
import { LateKeptShared } from '../kept/late-kept-shared.tsx';
import { NextPicture } from '../next-picture.tsx';
import { briefState, isEntryOpen, leadingBrief, openedLeg } from '../state.ts';
import { DemoLegs } from './demo-legs.tsx';
import { LegForm } from './leg-form.tsx';
import { StateMessage } from './state-message.tsx';

interface LegEntryProps {
  /** There is no brief yet. */
  readonly isLeading: boolean;
}

export function LegEntry({ isLeading }: LegEntryProps) {
  const body = useRef<HTMLDivElement>(null);
  const isFolded = !isLeading && !isEntryOpen.value;
  const wasInForm = useRef(false);
  const hasBrief = leadingBrief.value !== undefined;
  useLayoutEffect(() => {
    // Who was in the form hears the answer next.
    wasInForm.current ||= isFolded && body.current?.contains(document.activeElement) === true;
    if (!isFolded || !hasBrief || !wasInForm.current) return;
    wasInForm.current = false;
    answerTitle()?.focus({ preventScroll: true });
  }, [isFolded, hasBrief]);
  return (
    <details
      class={`change-leg${isLeading ? ' change-leg-leading' : ''}`}
      open={!isFolded}
      onToggle={(event) => {
        if (!isLeading) isEntryOpen.value = event.currentTarget.open;
      }}
    >
      <summary hidden={isLeading}>Change the leg</summary>
      <div class="change-leg-body" ref={body}>
        {isLeading && <h1>Which altitude keeps this leg out of the ice?</h1>}
        <StateMessage />
        <NextPicture isFirst={isLeading || isEntryOpen.value}>
          <LegForm />
        </NextPicture>
        <TypedAnswer />
        {isLeading ? (
          <>
            <KeptBriefs />
            <LateKeptShared />
            <DemoLegs />
          </>
        ) : (
          <p>
            <a href="/">Legs briefed on this device, demo legs</a>
          </p>
        )}
      </div>
    </details>
  );
}

/** What the leg being typed comes to, where the eyes are; the whole brief stands below. */
function TypedAnswer() {
  const state = briefState.value;
  const brief = leadingBrief.value;
  if (openedLeg.value.by !== 'typed' || state.kind !== 'ok' || brief === undefined) return null;
  return (
    <p class="typed-answer" role="status">
      {brief.brief.verdict.sentence}{' '}
      <button type="button" onClick={toAnswer}>
        The whole brief
      </button>
    </p>
  );
}

const answerTitle = () => document.getElementById(ANSWER_TITLE);

function toAnswer(): void {
  answerTitle()?.focus();
  answerTitle()?.scrollIntoView();
}
