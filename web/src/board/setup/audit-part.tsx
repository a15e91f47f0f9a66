/** Who wrote what to the board. */
import { useState } from 'preact/hooks';
import type { AuditAnswer } from '../../../../worker/schema/audit.ts';
import { getBoardAudit } from '../../../../worker/schema/calls-board.ts';
import { call } from '../../client/call.ts';
import { datedText } from '../../numbers.ts';
import type { Own } from './own-part.tsx';
import { SaidLine } from './said-line.tsx';
import { useWriting } from './use-writing.ts';

export function AuditPart({ boardId, ownKey }: Own) {
  const [entries, setEntries] = useState<AuditAnswer['entries']>();
  const writing = useWriting();
  const show = () =>
    void writing.write(
      async () => {
        const answer = await call(getBoardAudit, { path: { board: boardId } }, { key: ownKey });
        if (answer.kind === 'ok') setEntries(answer.value.entries);
        return answer;
      },
      ({ entries: found }) =>
        `The newest first: ${found.length === 1 ? '1 write' : `${found.length} writes`}.`,
    );
  return (
    <section aria-labelledby="setup-audit">
      <h3 id="setup-audit">Audit</h3>
      <button type="button" disabled={writing.isBusy} onClick={show}>
        {entries === undefined ? 'Show every write' : 'Ask again'}
      </button>
      <SaidLine {...writing} />
      {entries !== undefined && entries.length > 0 && <AuditTable entries={entries} />}
    </section>
  );
}

function AuditTable({ entries }: AuditAnswer) {
  return (
    <div class="setup-scroll">
      <table class="setup-table">
        <thead>
          <tr>
            {['When', 'Who', 'Call', 'On', 'Answered'].map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {entries.map(({ atUtc, principal, action, target, status }, at) => (
            <tr key={`${atUtc} ${at}`}>
              <td>{datedText(atUtc)}</td>
              <td>{principal}</td>
              <td>{action}</td>
              <td>{target}</td>
              <td>{status}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
