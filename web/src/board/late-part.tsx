/** A part that is loaded when it is first shown: a line stands for it meanwhile, and when it does not come. */
import { useSignal } from '@preact/signals';
import type { ComponentType } from 'preact';
import { useEffect } from 'preact/hooks';

interface LatePartProps<Props extends object> {
  readonly part: () => Promise<ComponentType<Props>>;
  readonly name: string;
  readonly props: Props;
}

type Loaded<Props extends object> =
  | { readonly kind: 'loading' | 'failed' }
  | { readonly kind: 'here'; readonly Part: ComponentType<Props> };

export function LatePart<Props extends object>({ part, name, props }: LatePartProps<Props>) {
  const loaded = useSignal<Loaded<Props>>({ kind: 'loading' });
  const load = () => {
    loaded.value = { kind: 'loading' };
    part().then(
      (Part) => (loaded.value = { kind: 'here', Part }),
      () => (loaded.value = { kind: 'failed' }),
    );
  };
  // Once: the part of a place never changes.
  useEffect(load, []);
  const now = loaded.value;
  if (now.kind === 'here') return <now.Part {...props} />;
  if (now.kind === 'loading') return <p class="quiet">{name}: loading</p>;
  return (
    <p class="complaint">
      {name}: not loaded{' '}
      <button type="button" onClick={load}>
        Try again
      </button>
    </p>
  );
}
