/** Distance and time along the foot, feet on the left, flight levels on the right, the leg's fixes along the top. */
import type { BriefMember, RoutePoint } from '../contract.ts';
import { timeAt } from '../leg-time.ts';
import { feetText } from '../numbers.ts';
import { cursorNm } from '../state.ts';
import { zoneWord } from '../units.ts';
import { flightLevelTicks } from './flight-levels.ts';
import { altitudeTicksFt, distanceTicksNm, type Sheet } from './scales.ts';

interface AxesProps {
  readonly sheet: Sheet;
  readonly brief: BriefMember;
}

export function Axes({ sheet, brief }: AxesProps) {
  return (
    <g class="axes">
      <AltitudeAxis sheet={sheet} />
      <FlightLevelAxis sheet={sheet} settingHPa={brief.limits.altimeterSettingHPa} />
      <DistanceAxis sheet={sheet} points={brief.leg.points} />
      <Fixes sheet={sheet} points={brief.leg.points} />
    </g>
  );
}

function AltitudeAxis({ sheet }: { readonly sheet: Sheet }) {
  const { left, right, top } = sheet.plot;
  return (
    <g>
      <text class="axis-title" x={left - 8} y={top - 9} text-anchor="end">
        ft
      </text>
      {altitudeTicksFt(sheet, 22).map((feet) => (
        <g key={feet} data-axis-ft={feet}>
          <path class="grid-line" d={`M${left} ${sheet.y(feet)}H${right}`} />
          <text x={left - 8} y={sheet.y(feet)} dy="0.35em" text-anchor="end">
            {feetText(feet)}
          </text>
        </g>
      ))}
    </g>
  );
}

function FlightLevelAxis({ sheet, settingHPa }: { readonly sheet: Sheet; readonly settingHPa: number }) {
  const { right, top } = sheet.plot;
  return (
    <g class="flight-levels">
      <text class="axis-title" x={right + 8} y={top - 9}>
        FL
      </text>
      {flightLevelTicks(sheet.range, settingHPa, 20).map(({ flightLevel, indicatedFt }) => (
        <g key={flightLevel}>
          <path class="tick" d={`M${right} ${sheet.y(indicatedFt)}h5`} />
          <text x={right + 8} y={sheet.y(indicatedFt)} dy="0.35em">
            {String(flightLevel).padStart(3, '0')}
          </text>
        </g>
      ))}
    </g>
  );
}

function DistanceAxis({ sheet, points }: { readonly sheet: Sheet; readonly points: readonly RoutePoint[] }) {
  const { left, right, bottom } = sheet.plot;
  return (
    <g>
      <path class="axis-line" d={`M${left} ${bottom}H${right}`} />
      {distanceTicksNm(sheet, 84).map((nm) => (
        <g key={nm}>
          <path class="tick" d={`M${sheet.x(nm)} ${bottom}v5`} />
          {Math.abs(sheet.x(nm) - sheet.x(cursorNm.value)) > UNDER_HANDLE_PX && (
            <text x={sheet.x(nm)} y={bottom + 19} text-anchor="middle">
              {nm}
            </text>
          )}
          <text class="axis-time" x={sheet.x(nm)} y={bottom + 36} text-anchor="middle">
            {timeAt(points, nm)}
          </text>
        </g>
      ))}
      <text class="axis-title" x={left - 25 * sheet.textScale} y={bottom + 19} text-anchor="end">
        NM
      </text>
      <text class="axis-title" x={left - 25 * sheet.textScale} y={bottom + 36} text-anchor="end">
        {zoneWord()}
      </text>
    </g>
  );
}

/** The handle of the cursor stands here instead of the figure. */
const UNDER_HANDLE_PX = 38;
const FIX_CHAR_PX = 9;

/** Names at their places; a name that would run into the one before is left to the readout. */
function Fixes({ sheet, points }: { readonly sheet: Sheet; readonly points: readonly RoutePoint[] }) {
  const { top, left, right } = sheet.plot;
  let freeFromPx = Number.NEGATIVE_INFINITY;
  const named = points.filter((point) => point.fix !== null);
  return (
    <g class="fixes">
      {named.map((point, index) => {
        const x = sheet.x(point.distanceNm);
        const name = point.fix ?? '';
        const anchor = x - left < 20 ? 'start' : right - x < 20 ? 'end' : 'middle';
        const startPx =
          anchor === 'start'
            ? x
            : anchor === 'end'
              ? x - name.length * FIX_CHAR_PX
              : x - (name.length * FIX_CHAR_PX) / 2;
        const isLast = index === named.length - 1;
        if (startPx < freeFromPx && !isLast) return null;
        freeFromPx = startPx + name.length * FIX_CHAR_PX + 6;
        return (
          <g key={point.distanceNm}>
            <path class="tick" d={`M${x} ${top}v-5`} />
            <text x={x} y={top - 9} text-anchor={anchor}>
              {name}
            </text>
          </g>
        );
      })}
    </g>
  );
}
