/**
 * A run of levels in a TEMP part: each level opens with an indicator group and takes a fixed count of groups. A group
 * has no mark of its own kind (a wind may look like a height, a temperature like an indicator), so a lost group would
 * shift all that follow. A level is believed only when the next one begins where it must.
 */
import type { Rejection } from '../sounding.ts';
import type { Group } from './reports.ts';

/** How the levels of one kind of run follow each other. */
export interface RunRules {
  /** The smallest position of at least `from` that a group can open, or undefined when it opens none. */
  position(group: string, from: number): number | undefined;
  /** Counts of groups that the level opening at an index may take, likeliest first; its indicator included. */
  sizes(position: number, groups: readonly Group[], at: number): readonly number[];
  /** True for a group that closes the run, if it stands where a level would begin. */
  closes(group: string): boolean;
  /** True for a closing group that no value can be, seen with the group after it. */
  surelyCloses(group: string, after: string | undefined): boolean;
  /** False when a level cannot come later in the run than another (its pressure would rise); asked only after a gap. */
  mayFollow(earlier: string, later: string): boolean;
  /** True for a level that a report may leave out. */
  mayLack(position: number): boolean;
  /** Names a position in a reason. */
  name(position: number): string;
}

/** One level of the run, the count of its groups proven. */
export interface RunLevel {
  readonly position: number;
  readonly indicator: Group;
  /** The groups after the indicator. */
  readonly values: readonly Group[];
  /** Groups, or a level that should be there, were lost between the level before and this one. */
  readonly isAfterLoss: boolean;
}

export interface Run {
  readonly levels: readonly RunLevel[];
  readonly rejected: readonly Rejection[];
  /** Index of the group that closed the run, or the count of groups. */
  readonly end: number;
}

/** Reads a run from `start` on. Never throws; what cannot be placed is rejected and the next sure level sought. */
export function readRun(groups: readonly Group[], start: number, rules: RunRules): Run {
  const levels: RunLevel[] = [];
  const rejected: Rejection[] = [];
  let at = start;
  let next = 0;
  /** The last group that opened a level, for what may follow it. */
  let last: string | undefined;
  /** The position whose absence the last rejection explains. */
  let explained = -1;
  let isAfterLoss = false;
  while (at < groups.length) {
    const { text } = groups[at]!;
    const position = rules.position(text, next);
    const size = position === undefined ? undefined : provenSize(groups, at, position, rules);
    if (position !== undefined && size !== undefined) {
      const lack = explained === next ? undefined : lacking(next, position, groups[at]!, rules);
      if (lack !== undefined) rejected.push(lack);
      isAfterLoss ||= lack !== undefined;
      levels.push({ position, indicator: groups[at]!, values: groups.slice(at + 1, at + size), isAfterLoss });
      isAfterLoss = false;
      next = position + 1;
      last = text;
      at += size;
      continue;
    }
    if (rules.closes(text)) break;
    // A level opened but not proven still bars what cannot come after it: its pressure is more likely right than not.
    const isInTurn = position !== undefined && lackingNames(next, position, rules).length === 0;
    if (isInTurn && (last === undefined || rules.mayFollow(last, text))) last = text;
    const resumed = seekLevel(groups, at + 1, { next, last }, rules);
    const lost = groups.slice(at, resumed);
    rejected.push(
      isInTurn
        ? miscounted(lost, rules.name(position), rules.sizes(position, groups, at)[0]!)
        : unplaced(lost, rules.name(next)),
    );
    explained = next;
    isAfterLoss = true;
    at = resumed;
  }
  return { levels, rejected, end: at };
}

/** How many groups the level that opens at an index takes, if what follows proves it. */
function provenSize(
  groups: readonly Group[],
  at: number,
  position: number,
  rules: RunRules,
): number | undefined {
  const sizes = rules.sizes(position, groups, at).filter((size) => !holdsNone(groups, at, size));
  return (
    sizes.find((size) => isBoundary(groups, at, size, { position, rules })) ??
    sizes.find((size) => isBoundaryAfterGap(groups, at, size, { position, rules }))
  );
}

/** True when a value of the level reads 88999, 77999 or 66999: that says "none", and a group before it is lost. */
function holdsNone(groups: readonly Group[], at: number, size: number): boolean {
  return groups.slice(at + 1, at + size).some(({ text }) => /^(?:88|77|66)999$/.test(text));
}

/** A level's place in the sequence, and the sequence. */
interface Place {
  readonly position: number;
  readonly rules: RunRules;
}

/** True where the level's groups end with the run, or the very next level opens and is no chance likeness. */
function isBoundary(
  groups: readonly Group[],
  start: number,
  size: number,
  { position, rules }: Place,
): boolean {
  const at = start + size;
  if (opensOrEnds(groups, at, { position: position + 1, rules })) {
    const next = groups[at]?.text;
    if (next === undefined || rules.closes(next) || rules.mayFollow(groups[start]!.text, next)) return true;
    // Its pressure is wrong, or it is no level at all: the one after it decides.
    return rules
      .sizes(position + 1, groups, at)
      .some((count) => opensOrEnds(groups, at + count, { position: position + 2, rules }));
  }
  return false;
}

function opensOrEnds(groups: readonly Group[], at: number, { position, rules }: Place): boolean {
  if (at >= groups.length) return at === groups.length;
  const { text } = groups[at]!;
  return rules.position(text, position) === position || rules.closes(text);
}

/**
 * True where the next indicator is visibly garbled or passes over levels, but the level after it begins, or the run
 * ends, where it must: the count up to here is right. A group of five figures that is no indicator proves the opposite,
 * and so does a value that closes runs.
 */
function isBoundaryAfterGap(groups: readonly Group[], start: number, size: number, place: Place): boolean {
  const { position, rules } = place;
  const at = start + size;
  if (at >= groups.length) return false;
  if (groups.slice(start + 1, at).some(({ text }) => rules.closes(text))) return false;
  const { text } = groups[at]!;
  const found = rules.position(text, position + 1);
  if (found === undefined && /^[\d/]{5}$/.test(text)) return false;
  if (found !== undefined && !rules.mayFollow(groups[start]!.text, text)) return false;
  const gap = found ?? position + 1;
  return rules
    .sizes(gap, groups, at)
    .some((count) => opensOrEnds(groups, at + count, { position: gap + 1, rules }));
}

/** The first index from `from` on where a level surely opens or the run surely closes. */
function seekLevel(
  groups: readonly Group[],
  from: number,
  { next, last }: { readonly next: number; readonly last: string | undefined },
  rules: RunRules,
): number {
  const opens = (at: number): boolean =>
    isSureLevel(groups, at, next, rules) && (last === undefined || rules.mayFollow(last, groups[at]!.text));
  for (let at = from; at < groups.length; at += 1) {
    if (opens(at)) return at;
    // Among lost groups a temperature may look like a closing group; then a level opens one or two groups on.
    const { text } = groups[at]!;
    const isFollowed = opens(at + 1) || opens(at + 2);
    if (rules.closes(text) && (!isFollowed || rules.surelyCloses(text, groups[at + 1]?.text))) return at;
  }
  return groups.length;
}

function isSureLevel(groups: readonly Group[], at: number, next: number, rules: RunRules): boolean {
  const position = at < groups.length ? rules.position(groups[at]!.text, next) : undefined;
  if (position === undefined) return false;
  return rules
    .sizes(position, groups, at)
    .some((size) => !holdsNone(groups, at, size) && isBoundary(groups, at, size, { position, rules }));
}

/** Names of the levels passed over that a report may not leave out. */
function lackingNames(next: number, position: number, rules: RunRules): string[] {
  const names: string[] = [];
  for (let lost = next; lost < position; lost += 1) {
    if (!rules.mayLack(lost)) names.push(rules.name(lost));
  }
  return names;
}

/** A rejection for the levels that a jump in the sequence leaves out; undefined when none is left out, or all may be. */
function lacking(next: number, position: number, group: Group, rules: RunRules): Rejection | undefined {
  const names = lackingNames(next, position, rules);
  if (names.length === 0) return undefined;
  const reason = `${names.join(', ')}: found none before ${JSON.stringify(group.text)}, expected every level in turn`;
  return { line: group.line, reason };
}

function unplaced(groups: readonly Group[], expected: string): Rejection {
  return {
    line: groups[0]!.line,
    reason: `${plural(groups)}: found ${shown(groups)}, expected ${expected}`,
  };
}

function miscounted(groups: readonly Group[], level: string, size: number): Rejection {
  return {
    line: groups[0]!.line,
    reason: `${level}: found ${shown(groups)}, expected ${size} groups and then the next level`,
  };
}

function plural(groups: readonly Group[]): string {
  return groups.length === 1 ? 'group' : 'groups';
}

function shown(groups: readonly Group[]): string {
  return JSON.stringify(
    groups
      .map(({ text }) => text)
      .join(' ')
      .slice(0, 60),
  );
}
