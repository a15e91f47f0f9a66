/** Everything said in sentences that does not fit the answer's own block: more reasons, operations, cautions. */
import { REASONS_SHOWN } from '../answer/answer.tsx';
import type { BriefMember, Reason } from '../contract.ts';

/** What ice does to the aeroplane comes among the operational facts, and is about icing all the same. */
const ICING_CODES: ReadonlySet<string> = new Set(['landing-with-ice', 'inlet-separator']);

export function Notes({ brief }: { readonly brief: BriefMember }) {
  const { icing, others } = operationalParts(brief.operational);
  return (
    <>
      <Sentences
        title="More about icing"
        reasons={[...icing, ...brief.verdict.reasons.slice(REASONS_SHOWN)]}
      />
      <Sentences title="Not about icing" reasons={others} />
    </>
  );
}

function operationalParts(reasons: readonly Reason[]) {
  const isIcing = ({ code }: Reason) => ICING_CODES.has(code);
  return { icing: reasons.filter(isIcing), others: reasons.filter((reason) => !isIcing(reason)) };
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
