/** Ascents into the store: parts of TEMP joined with those that came before, levels thinned, what cannot be placed refused. */
import { AppBug } from '../errors.ts';
import type { ReportText, Sounding } from '../formats/sounding.ts';
import { joinedSounding, type TempContext } from '../formats/temp/read-temp.ts';
import { thinnedSounding } from '../formats/thin/thin-sounding.ts';
import type { SoundingRepository } from './ports.ts';

/** A round more is run for every part that somebody else sends meanwhile. */
const MOST_ROUNDS = 20;
/** A nominal hour is at most an hour after the release; more after now is a wrong clock or a wrong month. */
export const MOST_AHEAD_MS = 3 * 3_600_000;

export interface KeptSoundings {
  readonly stored: number;
  readonly refused: readonly { readonly station: string; readonly reason: string }[];
  /** Every ascent in the order given, as it is stored, or would be. */
  readonly soundings: readonly Sounding[];
}

/**
 * Stores ascents of one operator. A TEMP ascent stands in the store as all its parts together make it: parts only ever
 * gather, the ascent follows from them and the order in which they came, and who stores it looks once more whether
 * another part came meanwhile. Writers at the same time so end with the same ascent.
 *
 * @throws AppBug  when parts of one ascent come faster than it can be stored.
 */
export async function keepSoundings(
  repository: SoundingRepository,
  operator: string,
  soundings: readonly Sounding[],
  { context, nowMs }: { readonly context: TempContext; readonly nowMs: number },
): Promise<KeptSoundings> {
  const refused: { station: string; reason: string }[] = [];
  const result = [...soundings];
  const stored = new Set<number>();
  const refuse = (index: number, reason: string) =>
    refused.push({ station: soundings[index]!.stationId, reason });
  const placed = soundings.flatMap((sounding, index) => {
    const reason = refusalOf(sounding, nowMs);
    if (reason !== undefined) refuse(index, reason);
    return reason === undefined ? [index] : [];
  });

  /** Joins, thins and stores; gives the indexes of what was stored. */
  const store = async (indexes: readonly number[], parts: readonly (readonly ReportText[])[]) => {
    const kept = indexes.filter((index, at) => {
      const whole = thinnedSounding(joinedSounding(parts[at]!, soundings[index]!, context));
      if (whole.kind === 'refused') refuse(index, whole.reason);
      else result[index] = whole.sounding;
      return whole.kind === 'kept';
    });
    await repository.put(
      operator,
      kept.map((index) => result[index]!),
      nowMs,
    );
    for (const index of kept) stored.add(index);
    return kept;
  };

  const ascentsOf = (indexes: readonly number[]) => indexes.map((index) => soundings[index]!);
  let pending = await store(placed, await repository.keepReports(operator, ascentsOf(placed)));
  for (let round = 0; ; round += 1) {
    pending = pending.filter((index) => result[index]!.reports.length > 0);
    if (pending.length === 0) break;
    if (round === MOST_ROUNDS) throw new AppBug(`parts of an ascent came ${round} times while it was stored`);
    const parts = await repository.reports(operator, ascentsOf(pending));
    const grown = pending
      .map((index, at) => ({ index, parts: parts[at]! }))
      .filter((one) => one.parts.length !== result[one.index]!.reports.length);
    pending = await store(
      grown.map(({ index }) => index),
      grown.map((one) => one.parts),
    );
  }
  return { stored: stored.size, refused, soundings: result };
}

/** Why an ascent that reads cannot be kept: a brief could not place it in space or time. */
function refusalOf(sounding: Sounding, nowMs: number): string | undefined {
  const { timeMs } = sounding;
  if (!Number.isFinite(timeMs)) return 'time: found none, expected a date and an hour';
  if (timeMs > nowMs + MOST_AHEAD_MS) {
    const found = new Date(timeMs).toISOString();
    return `time: found ${found}, expected an ascent that has been made (it is ${new Date(nowMs).toISOString()})`;
  }
  if (!Number.isFinite(sounding.latDeg) || !Number.isFinite(sounding.lonDeg)) {
    return 'position: found none, expected latitude and longitude';
  }
  if (sounding.levels.levelCount === 0) return 'levels: found none with a pressure, expected at least one';
  return undefined;
}
