/** A brief that was shared before the contract became what it is today is read by today's page, whole. */
import { describe, expect, it } from 'vitest';
import { checkedBrief } from '../../web/src/api.ts';
import { legTextOfShared } from '../../web/src/share/of-sender.ts';
import { aboutBriefSchema } from '../../worker/schema/shared-brief.ts';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';
import { frozenShared } from '../support/frozen-shared.ts';

describe.each(['v1'] as const)('a shared brief of shape %s', (version) => {
  const { brief: text, about } = frozenShared(version);

  it('is the one that was shared', async () => {
    expect(await sha256Hex(text)).toBe(about.sha256);
  });

  it('keeps to the contract of the page, and loses nothing that it draws', () => {
    const told = JSON.parse(text) as NonNullable<ReturnType<typeof checkedBrief>>;
    const checked = checkedBrief(told);
    expect(checked).toBeDefined();
    expect(checked!.features).toHaveLength(told.features.length);
    expect(checked!.brief.curtain).toEqual(told.brief.curtain);
    for (const part of [
      'leg',
      'verdict',
      'file',
      'alternatives',
      'departures',
      'cautions',
      'ground',
    ] as const)
      expect(checked!.brief[part], part).toEqual(told.brief[part]);
  });

  it('tells what was asked, and the same leg can be briefed anew with it', () => {
    const told = aboutBriefSchema.parse(about);
    expect(told.request).toEqual(about.request);
    expect(legTextOfShared(told.request!).route).toBe('KALB DCT KSWF');
  });
});
