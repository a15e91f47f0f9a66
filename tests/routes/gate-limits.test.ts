/** How much may be written, by whom it is counted, and that nobody can be found by the counts. */
import { describe, expect, it } from 'vitest';
import { senderBlock } from '../../worker/routes/sender-address.ts';
import type { Call } from '../../worker/schema/call.ts';
import { postFlightMark, postFlightShared } from '../../worker/schema/calls-board.ts';
import { postBrief, postProof, postSharedBrief } from '../../worker/schema/calls-brief.ts';
import { postReports } from '../../worker/schema/calls-reports.ts';
import { type Gated, gated, KEYS, LET_IN, pathOfCall, withKey } from './gated.ts';

const DAY_MS = 86_400_000;
const WINDOW_MS = 600_000;

/** Status of the last of so many. */
async function sendMany({ ask }: Gated, call: Call, many: number, headers: Record<string, string>) {
  let response = new Response();
  for (let each = 0; each < many; each += 1)
    response = await ask(pathOfCall(call), { method: call.method, headers });
  return response;
}
const from = (address: string) => ({ 'cf-connecting-ip': address });

describe('without a key', () => {
  it('an address shares sixty briefs within ten minutes, and hears when it may again', async () => {
    const service = await gated();
    expect((await sendMany(service, postSharedBrief, 60, from('192.0.2.1'))).status).toBe(LET_IN);
    service.later(60_000);
    const refused = await sendMany(service, postSharedBrief, 1, from('192.0.2.1'));
    expect(refused.status).toBe(429);
    expect(refused.headers.get('retry-after')).toBe('540');
    expect((await sendMany(service, postSharedBrief, 1, from('192.0.2.2'))).status).toBe(LET_IN);
    service.later(WINDOW_MS);
    expect((await sendMany(service, postSharedBrief, 1, from('192.0.2.1'))).status).toBe(LET_IN);
  });

  it('an address shares two hundred briefs a day', async () => {
    const service = await gated();
    for (let window = 0; window < 4; window += 1) {
      expect((await sendMany(service, postSharedBrief, 50, from('192.0.2.1'))).status).toBe(LET_IN);
      service.later(WINDOW_MS);
    }
    const refused = await sendMany(service, postSharedBrief, 1, from('192.0.2.1'));
    expect(refused.status).toBe(429);
    // 11:40 to midnight.
    expect(refused.headers.get('retry-after')).toBe(String(12 * 3600 + 20 * 60));
    expect((await sendMany(service, postProof, 1, from('192.0.2.1'))).status).toBe(LET_IN);
    service.later(DAY_MS);
    expect((await sendMany(service, postSharedBrief, 1, from('192.0.2.1'))).status).toBe(LET_IN);
  });

  it('one network is one sender, however many addresses it has', async () => {
    const service = await gated();
    for (let each = 0; each < 60; each += 1)
      await sendMany(service, postSharedBrief, 1, from(`2001:db8:1:2::${each.toString(16)}`));
    const send = async (address: string) =>
      (await sendMany(service, postSharedBrief, 1, from(address))).status;
    expect(await send('2001:db8:1:2:ffff:ffff:ffff:ffff')).toBe(429);
    expect(await send('2001:db8:1:3::1')).toBe(LET_IN);
  });

  it('briefs that store nothing are as many as anybody asks for', async () => {
    expect((await sendMany(await gated(), postBrief, 300, from('192.0.2.1'))).status).toBe(LET_IN);
  });
});

describe('with a key', () => {
  it('a link to a board writes six hundred times, whatever its addresses; another link and the operator go on', async () => {
    const service = await gated();
    const edit = withKey(postFlightMark, KEYS.edit);
    expect((await sendMany(service, postFlightMark, 600, edit)).status).toBe(LET_IN);
    expect((await sendMany(service, postFlightMark, 1, { ...edit, ...from('192.0.2.9') })).status).toBe(429);
    expect((await sendMany(service, postFlightShared, 1, edit)).status).toBe(429);
    const own = withKey(postFlightMark, KEYS.own);
    expect((await sendMany(service, postFlightMark, 1, own)).status).toBe(LET_IN);
    expect(service.audited).toHaveLength(601);
  });

  it('an operator loads files by the thousand, and no day ends it', async () => {
    const service = await gated();
    const own = withKey(postReports, KEYS.own);
    expect((await sendMany(service, postReports, 6000, own)).status).toBe(LET_IN);
    expect((await sendMany(service, postReports, 1, own)).status).toBe(429);
    expect((await sendMany(service, postReports, 1, withKey(postReports, KEYS.other))).status).toBe(LET_IN);
  });

  it('what is refused counts for nobody', async () => {
    const service = await gated();
    const names = countedNames(service);
    await sendMany(service, postFlightMark, 3, withKey(postFlightMark, KEYS.view));
    await sendMany(service, postFlightMark, 3, withKey(postFlightMark, KEYS.wrong));
    expect(names).toEqual([]);
  });
});

/** Names that are counted from now on. */
function countedNames({ stores }: Gated): string[] {
  const names: string[] = [];
  const { count } = stores.writeCounts;
  stores.writeCounts.count = (sender, windowMs) => {
    names.push(sender);
    return count(sender, windowMs);
  };
  return names;
}

describe('the name that an address is counted by', () => {
  it('is another every day, and another on an instance with other keys', async () => {
    const service = await gated();
    const names = countedNames(service);
    await sendMany(service, postProof, 1, from('192.0.2.1'));
    service.later(WINDOW_MS);
    await sendMany(service, postProof, 1, from('192.0.2.1'));
    service.later(DAY_MS);
    await sendMany(service, postProof, 1, from('192.0.2.1'));
    expect(names).toHaveLength(3);
    expect(names[0]).toBe(names[1]);
    expect(names[2]).not.toBe(names[0]);
    expect(names.join()).not.toContain('192.0.2.1');
  });
});

describe('senderBlock', () => {
  it.each([
    ['192.0.2.1', '192.0.2.1'],
    [' 192.0.2.1 ', '192.0.2.1'],
    ['::ffff:192.0.2.1', '192.0.2.1'],
    ['::FFFF:c000:0201', '192.0.2.1'],
    ['0:0:0:0:0:ffff:192.0.2.1', '192.0.2.1'],
    ['2001:db8:1:2:3:4:5:6', '2001:db8:1:2'],
    ['2001:0db8:0001:0002::', '2001:db8:1:2'],
    ['2001:DB8:1:2::9', '2001:db8:1:2'],
    ['2001:db8::9', '2001:db8:0:0'],
    ['::1', '0:0:0:0'],
    ['::', '0:0:0:0'],
    ['64:ff9b::192.0.2.1', '64:ff9b:0:0'],
    ['', 'unknown'],
    ['unknown', 'unknown'],
    ['2001:db8', 'unknown'],
    ['1::2::3', 'unknown'],
    ['1:2:3:4:5:6:7:8:9', 'unknown'],
    ['1:2:3:4:5:6:7::', '1:2:3:4'],
    ['1:2:3:4:5:6:7::8', 'unknown'],
    ['1:2:3:4:5:6:7:8::', 'unknown'],
    ['12345::', 'unknown'],
    ['g::', 'unknown'],
  ])('%j is of %j', (address, block) => {
    expect(senderBlock(address)).toBe(block);
  });
});
