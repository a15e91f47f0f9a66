export const NotifySwitch = () => null;
