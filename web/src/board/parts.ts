/** Parts of the page that come when they are opened. */

export const networkPlan = () => import('./network/network-plan.tsx').then((module) => module.NetworkPlan);
export const handoverSheet = () =>
  import('./handover/handover-sheet.tsx').then((module) => module.HandoverSheet);
export const setupPanel = () => import('./setup/setup-panel.tsx').then((module) => module.SetupPanel);
export const notifySwitch = () => import('./notify/notify-switch.tsx').then((module) => module.NotifySwitch);
