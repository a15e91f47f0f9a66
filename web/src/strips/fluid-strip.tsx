/** Fluid left along the leg for the considered altitude, and where to have it on. */
import type { AircraftProfile } from '../../../worker/schema/aircraft.ts';
import type { BriefMember, Candidate, CurtainAnswer } from '../contract.ts';
import { Painted, rectPath } from '../section/paint.tsx';
import type { Sheet } from '../section/scales.ts';
import { pathPieces } from '../table/path-pieces.ts';
import { figureText } from '../units.ts';
import { type FluidLeft, fluidLeftAlong } from './fluid-left.ts';
import { NothingKnown } from './way-out-strip.tsx';

interface FluidStripProps {
  readonly brief: BriefMember;
  readonly candidate: Candidate | undefined;
  /** undefined where the page does not know the aeroplane's figures. */
  readonly aircraft: AircraftProfile | undefined;
  readonly sheet: Sheet;
  readonly heightPx: number;
}

/** Heights of the bars at the foot that say where it is on. */
const BAR_PX = { normal: 5, high: 10 } as const;
const FOOT_PX = 12;

export function FluidStrip({ brief, candidate, aircraft, sheet, heightPx }: FluidStripProps) {
  const plan = candidate?.fluidPlan ?? null;
  if (plan === null) return <NothingKnown words="not flown" sheet={sheet} heightPx={heightPx} />;
  const line = lineOf(brief, candidate, aircraft);
  return (
    <g class="fluid-strip">
      {brief.curtain !== undefined && candidate?.flownFt != null && (
        <UnknownAir curtain={brief.curtain} flownFt={candidate.flownFt} sheet={sheet} heightPx={heightPx} />
      )}
      {plan.on.map(({ fromNm, toNm, setting }) => (
        <path
          key={fromNm}
          class={`fluid-on fluid-${setting}`}
          data-setting={setting}
          d={rectPath(sheet.x(fromNm), heightPx - BAR_PX[setting], sheet.x(toNm), heightPx)}
        />
      ))}
      {line === undefined ? (
        <Note words={missingWords(brief)} sheet={sheet} y={(heightPx - FOOT_PX) / 2} />
      ) : (
        <LeftLine line={line} knownToNm={knownToNm(brief, candidate)} sheet={sheet} heightPx={heightPx} />
      )}
      {plan.runsOutNm !== null && <RunsOut runsOutNm={plan.runsOutNm} sheet={sheet} heightPx={heightPx} />}
    </g>
  );
}

function lineOf(
  { limits, leg }: BriefMember,
  candidate: Candidate | undefined,
  aircraft: AircraftProfile | undefined,
): FluidLeft[] | undefined {
  const { fluidOnBoardL } = limits;
  const plan = candidate?.fluidPlan ?? null;
  const exposure = candidate?.exposure ?? null;
  if (plan === null || exposure === null || fluidOnBoardL === null) return undefined;
  if (aircraft?.protection.kind !== 'fluid') return undefined;
  return fluidLeftAlong({
    plan,
    protection: aircraft.protection,
    onBoardL: fluidOnBoardL,
    points: leg.points,
    timeMinutes: exposure.timeMinutes,
  });
}

function missingWords({ limits }: BriefMember): string {
  return limits.fluidOnBoardL === null ? 'fluid on board not given' : 'flow of this aeroplane not known here';
}

interface UnknownAirProps {
  readonly curtain: CurtainAnswer;
  readonly flownFt: NonNullable<Candidate['flownFt']>;
  readonly sheet: Sheet;
  readonly heightPx: number;
}

/** Climb and descent too. What is used there is priced at the normal flow, and may be more. */
function UnknownAir({ curtain, flownFt, sheet, heightPx }: UnknownAirProps) {
  return (
    <g class="fluid-unknown">
      {pathPieces(curtain, flownFt)
        .filter(({ look }) => look.kind === 'unknown')
        .map(({ fromNm, toNm, look }) => (
          <Painted key={fromNm} look={look} d={rectPath(sheet.x(fromNm), 0, sheet.x(toNm), heightPx)} />
        ))}
    </g>
  );
}

function Note({ words, sheet, y }: { readonly words: string; readonly sheet: Sheet; readonly y: number }) {
  return (
    <text class="note" x={(sheet.plot.left + sheet.plot.right) / 2} y={y} dy="0.35em" text-anchor="middle">
      {words}
    </text>
  );
}

/** Up to where what is left is known; the whole leg where no air on the path is unknown. */
function knownToNm({ curtain }: BriefMember, candidate: Candidate | undefined): number {
  const flownFt = candidate?.flownFt ?? null;
  if (curtain === undefined || flownFt === null) return Number.POSITIVE_INFINITY;
  const unknown = pathPieces(curtain, flownFt).find(({ look }) => look.kind === 'unknown');
  return unknown?.fromNm ?? Number.POSITIVE_INFINITY;
}

interface LeftLineProps {
  readonly knownToNm: number;
  readonly line: readonly FluidLeft[];
  readonly sheet: Sheet;
  readonly heightPx: number;
}

function LeftLine({ line, knownToNm, sheet, heightPx }: LeftLineProps) {
  const topL = Math.max(1, line[0]?.leftL ?? 1);
  const endL = line.at(-1)?.leftL ?? 0;
  const y = (leftL: number) => 4 + (1 - leftL / topL) * (heightPx - FOOT_PX - 6);
  const d = line
    .map(({ distanceNm, leftL }, index) => `${index === 0 ? 'M' : 'L'}${sheet.x(distanceNm)} ${y(leftL)}`)
    .join('');
  const { left, right } = sheet.plot;
  const knownPx = sheet.x(Math.min(sheet.lengthNm, Math.max(0, knownToNm)));
  return (
    <>
      <Part d={d} fromPx={left} toPx={knownPx} heightPx={heightPx} />
      {knownPx < right && <Part d={d} fromPx={knownPx} toPx={right} heightPx={heightPx} isAtMost />}
      <text class="strip-scale" x={left - 8} y={12} text-anchor="end">
        {figureText(String(Math.round(topL)), 'L')}
      </text>
      <text class="strip-scale" x={left - 8} y={heightPx - 1} text-anchor="end">
        0
      </text>
      <text class="strip-scale" x={right + 6} y={y(endL)} dy="0.35em">
        {knownPx < right && '≤'}
        {figureText(String(Math.floor(endL)), 'L')}
      </text>
    </>
  );
}

interface PartProps {
  readonly d: string;
  readonly fromPx: number;
  readonly toPx: number;
  readonly heightPx: number;
  /** No more is left than this, and perhaps less. */
  readonly isAtMost?: boolean;
}

/** The line between two places. */
function Part({ d, fromPx, toPx, heightPx, isAtMost = false }: PartProps) {
  const widthPx = toPx - fromPx;
  if (widthPx <= 0) return null;
  return (
    <svg
      aria-hidden="true"
      x={fromPx}
      width={widthPx}
      height={heightPx}
      viewBox={`${fromPx} 0 ${widthPx} ${heightPx}`}
    >
      <path class={isAtMost ? 'strip-line strip-line-at-most' : 'strip-line'} d={d} />
    </svg>
  );
}

function RunsOut({ runsOutNm, sheet, heightPx }: { runsOutNm: number; sheet: Sheet; heightPx: number }) {
  const x = sheet.x(runsOutNm);
  const isRight = x > (sheet.plot.left + sheet.plot.right) / 2;
  return (
    <g class="runs-out">
      <path d={`M${x} 0V${heightPx}`} />
      <text x={isRight ? x - 6 : x + 6} y={14} text-anchor={isRight ? 'end' : 'start'}>
        empty at {Math.round(runsOutNm)} NM
      </text>
    </g>
  );
}
