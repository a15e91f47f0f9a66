/** A button for what cannot be taken back: the first touch asks, the second does it. */
import { useState } from 'preact/hooks';

interface SureButtonProps {
  readonly label: string;
  /** Says what will be lost. */
  readonly question: string;
  readonly answer: string;
  readonly isDisabled?: boolean;
  readonly onSure: () => void;
}

export function SureButton({ label, question, answer, isDisabled = false, onSure }: SureButtonProps) {
  const [isAsking, setAsking] = useState(false);
  if (!isAsking)
    return (
      <button type="button" disabled={isDisabled} onClick={() => setAsking(true)}>
        {label}
      </button>
    );
  const sure = () => {
    setAsking(false);
    onSure();
  };
  return (
    <span class="setup-sure">
      <span role="alert">{question}</span>
      <button type="button" class="setup-grave" onClick={sure}>
        {answer}
      </button>
      <button type="button" onClick={() => setAsking(false)}>
        Keep
      </button>
    </span>
  );
}
