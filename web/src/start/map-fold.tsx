/** The map that a leg is picked on, folded: it is loaded when somebody opens it. */
import { useSignal } from '@preact/signals';
import { canDrawMaps } from '../plan/can-draw-maps.ts';
import { LegMap } from '../plan/leg-map.tsx';

export function MapFold({ onRoute }: { readonly onRoute: (route: string) => void }) {
  const isOpen = useSignal(false);
  return (
    <details class="map-fold" onToggle={(event) => (isOpen.value = event.currentTarget.open)}>
      <summary>Pick the leg on a map</summary>
      {isOpen.value &&
        (canDrawMaps() ? (
          <LegMap onRoute={onRoute} />
        ) : (
          <p>On this device no map can be drawn: type the route.</p>
        ))}
    </details>
  );
}
