/** The few facts that would change the decision. */
import type { Reason } from '../contract.ts';

export function Changes({ changes }: { readonly changes: readonly Reason[] }) {
  if (changes.length === 0) return null;
  return (
    <section class="changes" aria-labelledby="changes-title">
      <h3 id="changes-title">What would change it</h3>
      <ul>
        {changes.map((change) => (
          <li key={change.code}>{change.sentence}</li>
        ))}
      </ul>
    </section>
  );
}
