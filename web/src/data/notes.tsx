/** Everything said in sentences that does not fit the answer's own block: more reasons, operations, cues, cautions. */
import { REASONS_SHOWN } from '../answer/answer.tsx';
import type { BriefMember, Reason } from '../contract.ts';

export function Notes({ brief }: { readonly brief: BriefMember }) {
  return (
    <>
      <Sentences title="Cue card" reasons={brief.cues} />
      <Sentences title="Not about icing" reasons={brief.operational} />
      <Sentences title="Further reasons" reasons={brief.verdict.reasons.slice(REASONS_SHOWN)} />
    </>
  );
}

function Sentences({ title, reasons }: { readonly title: string; readonly reasons: readonly Reason[] }) {
  if (reasons.length === 0) return null;
  const id = `notes-${title.toLowerCase().replaceAll(' ', '-')}`;
  return (
    <section class="notes" aria-labelledby={id}>
      <h2 id={id}>{title}</h2>
      <ul>
        {reasons.map((reason) => (
          <li key={`${reason.code} ${reason.sentence}`}>{reason.sentence}</li>
        ))}
      </ul>
    </section>
  );
}

export function Cautions({ cautions }: { readonly cautions: readonly string[] }) {
  return (
    <footer class="cautions">
      {cautions.map((caution) => (
        <p key={caution}>{caution}</p>
      ))}
    </footer>
  );
}
