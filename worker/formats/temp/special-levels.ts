/** What follows the standard levels of parts A and C: tropopauses (88) and greatest winds (77, 66). */
import type { Rejection } from '../sounding.ts';
import { pressurePa } from './code-figures.ts';
import type { ReportHeader } from './header.ts';
import { badGroup, isSectionMark, levelRecord, type RunLevels, type TempLevel } from './level-values.ts';
import type { Group } from './reports.ts';

/** Opens a tropopause (88) or a greatest wind (77, 66). */
export function isSpecialMark(text: string): boolean {
  return /^(?:88|77|66)\d{3}$/.test(text);
}

/** 88999, 77999 or 66999: there is none. */
export function isNone(text: string): boolean {
  return isSpecialMark(text) && text.endsWith('999');
}

/** Tropopause: PPP TTTDD dddff. Greatest wind: PPP ddfff and perhaps the shear 4vbvbvava. 999 means none. */
export function readSpecialLevels(
  groups: readonly Group[],
  start: number,
  part: { readonly header: ReportHeader; readonly isPartC: boolean },
): RunLevels {
  const levels: TempLevel[] = [];
  const rejected: Rejection[] = [];
  let at = start;
  while (at < groups.length && !isSectionMark(groups[at]!.text)) {
    const size = specialSize(groups, at);
    if (size === undefined) {
      const resumed = seekMark(groups, at + 1);
      const lost = groups
        .slice(at, resumed)
        .map(({ text }) => text)
        .join(' ');
      rejected.push(
        badGroup({ text: lost, line: groups[at]!.line }, 'tropopause 88PPP TTTDD dddff or wind 77PPP dddff'),
      );
      at = resumed;
      continue;
    }
    if (size > 1) levels.push(...specialLevel(groups.slice(at, at + size), part, rejected));
    at += size;
  }
  return { levels, rejected, end: at };
}

/** Count of groups of the tropopause or wind that opens here, when another, a section or the end follows it. */
function specialSize(groups: readonly Group[], at: number): number | undefined {
  const text = groups[at]!.text;
  if (!isSpecialMark(text)) return undefined;
  if (isNone(text)) return 1;
  const hasShear = /^4[\d/]{4}$/.test(groups[at + 2]?.text ?? '');
  const size = text.startsWith('88') || hasShear ? 3 : 2;
  const values = groups.slice(at + 1, at + size);
  if (values.some((value) => isNone(value.text))) return undefined;
  const after = groups[at + size]?.text;
  if (after === undefined) return at + size === groups.length ? size : undefined;
  return isSpecialMark(after) || isSectionMark(after) ? size : undefined;
}

function specialLevel(
  groups: readonly Group[],
  { header, isPartC }: { readonly header: ReportHeader; readonly isPartC: boolean },
  rejected: Rejection[],
): TempLevel[] {
  const indicator = groups[0]!;
  const figures = indicator.text.slice(2);
  const levelPa = pressurePa(figures, isPartC);
  if (levelPa === undefined || Number.isNaN(levelPa) || (!isPartC && levelPa >= 100_000)) {
    rejected.push(badGroup(indicator, `a pressure ${isPartC ? 'in tenths of hPa' : 'of 100 to 998 hPa'}`));
    return [];
  }
  const isTropopause = indicator.text.startsWith('88');
  const record = levelRecord(
    {
      indicator,
      pressurePa: levelPa,
      temperature: isTropopause ? groups[1] : undefined,
      wind: groups[isTropopause ? 2 : 1],
    },
    header.speedUnitMps,
    rejected,
  );
  return [{ kind: 'other', record, heightChoices: [] }];
}

function seekMark(groups: readonly Group[], from: number): number {
  let at = from;
  while (at < groups.length && !isSpecialMark(groups[at]!.text) && !isSectionMark(groups[at]!.text)) at += 1;
  return at;
}
