export const SetupPanel = () => null;
