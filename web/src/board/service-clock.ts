/** The service's clock as this device goes on counting it: the device's own may be wrong. A board that stands at an instant has that. */

export interface ServiceClock {
  /** What the service said it was. */
  readonly asOfMs: number;
  readonly isStanding: boolean;
  /** The device's two clocks when it said so: the day's, and one that never jumps. */
  readonly deviceMs: number;
  readonly ticksMs: number;
}

/**
 * The one that counts since boot may stop while the device sleeps, the day's may be set: the one that went on further decides, so
 * that nothing looks younger than it is.
 */
export function serviceNowMs(clock: ServiceClock, deviceMs: number, ticksMs: number): number {
  if (clock.isStanding) return clock.asOfMs;
  return clock.asOfMs + Math.max(0, ticksMs - clock.ticksMs, deviceMs - clock.deviceMs);
}

/** An instant of the device's clock on the service's; as it is on a board that stands still. */
export function serviceInstantMs(clock: ServiceClock, deviceInstantMs: number): number {
  return clock.isStanding ? deviceInstantMs : clock.asOfMs + (deviceInstantMs - clock.deviceMs);
}
