/** Every figure of an aircraft profile, as the editor shows it. Names are the contract's own. */

export interface Figure {
  /** Place in the profile, with dots. */
  readonly path: string;
  readonly label: string;
}

export interface FigureGroup {
  readonly title: string;
  readonly figures: readonly Figure[];
}

export const FIGURE_GROUPS: readonly FigureGroup[] = [
  {
    title: 'Flight',
    figures: [
      { path: 'weightKg', label: 'Take-off weight, kg' },
      { path: 'ceilingFt', label: 'Ceiling, ft' },
      { path: 'climbTrueAirspeedKt', label: 'Climb speed, kt true' },
      { path: 'descentTrueAirspeedKt', label: 'Descent speed, kt true' },
    ],
  },
  {
    title: 'In icing',
    figures: [
      { path: 'icedCeilingFt', label: 'Ceiling with ice, ft' },
      { path: 'minimumIcingAirspeedKt', label: 'Least speed in icing, kt indicated' },
      { path: 'iceLoss.airspeedPctPerMm', label: 'Speed lost, % a mm' },
      { path: 'iceLoss.climbRatePctPerMm', label: 'Climb lost, % a mm' },
      { path: 'iceLoss.fuelFlowGainPctPerMm', label: 'Fuel flow more, % a mm' },
      { path: 'inletSeparator.airspeedLossPct', label: 'Inlet separator: speed lost, %' },
      { path: 'inletSeparator.climbRateLossPct', label: 'Inlet separator: climb lost, %' },
      { path: 'inletSeparator.fuelFlowGainPct', label: 'Inlet separator: fuel more, %' },
      { path: 'landingWithIce.landingDistanceGainPct', label: 'Landing distance with ice, % more' },
      { path: 'wingNoseRadiusMm', label: 'Wing nose radius, mm' },
      { path: 'rodRadiusMm', label: 'Reference rod radius, mm' },
      { path: 'temperatureRecoveryRatio', label: 'Thermometer recovery, 0 to 1' },
    ],
  },
];

export const PROTECTION_FIGURES: Readonly<Record<'fluid' | 'boots' | 'none', readonly Figure[]>> = {
  fluid: [
    { path: 'protection.usableL', label: 'Usable fluid, L' },
    { path: 'protection.minimumDispatchL', label: 'Least fluid at dispatch, L' },
    { path: 'protection.normalFlowLPerMin', label: 'Flow, normal, L/min' },
    { path: 'protection.highFlowLPerMin', label: 'Flow, high, L/min' },
    { path: 'protection.primingL', label: 'Priming, L' },
    { path: 'protection.reserveMinutes', label: 'Reserve, min' },
    { path: 'protection.maximumFlowLPerMin', label: 'Flow of a burst, L/min' },
    { path: 'protection.maximumBurstS', label: 'Length of a burst, s' },
    { path: 'protection.windshieldL', label: 'One clearing of the windshield, L' },
    { path: 'protection.densityKgPerL', label: 'Density, kg/L' },
  ],
  boots: [
    { path: 'protection.cycleS', label: 'Cycle, s' },
    { path: 'protection.minimumThicknessMm', label: 'Ice before a cycle, mm' },
  ],
  none: [],
};

export interface FigureTable {
  readonly path: 'trueAirspeedKt' | 'climbRateFtPerMin' | 'descentRateFtPerMin' | 'fuelFlowKgPerH';
  readonly label: string;
  readonly unit: string;
}

export const FIGURE_TABLES: readonly FigureTable[] = [
  { path: 'trueAirspeedKt', label: 'Cruise speed', unit: 'kt true' },
  { path: 'climbRateFtPerMin', label: 'Rate of climb', unit: 'ft/min' },
  { path: 'descentRateFtPerMin', label: 'Rate of descent', unit: 'ft/min' },
  { path: 'fuelFlowKgPerH', label: 'Fuel flow in cruise', unit: 'kg/h' },
];
