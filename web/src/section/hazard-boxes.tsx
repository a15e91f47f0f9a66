/** Reports and warnings in the cross-section: a dashed box over the stretch and the heights where each holds. */
import type { Brief } from '../contract.ts';
import { hazardsOf } from '../hazards.ts';
import { hazardBox } from './hazard-places.ts';
import { rectPath } from './paint.tsx';
import type { Sheet } from './scales.ts';

interface HazardBoxesProps {
  readonly brief: Brief;
  readonly sheet: Sheet;
}

export function HazardBoxes({ brief, sheet }: HazardBoxesProps) {
  return (
    <g class="hazards">
      {hazardsOf(brief).map((hazard) => {
        const { left, top, right, bottom } = hazardBox(hazard, sheet);
        const d = rectPath(left, top, right, bottom);
        return (
          <g
            key={hazard.id}
            data-feature-id={hazard.id}
            data-severity={hazard.properties.severity}
            class={`hazard hazard-${hazard.properties.severity}`}
          >
            <title>{hazard.properties.sentence}</title>
            {hazard.properties.severity === 'large-drops' && <path d={d} fill="url(#paint-large-drops)" />}
            <path class="hazard-halo" d={d} />
            <path class="hazard-edge" d={d} />
          </g>
        );
      })}
    </g>
  );
}
