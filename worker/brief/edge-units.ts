/** Exact definitions of the units at the edge (International Civil Aviation Organization Annex 5). */
export const FT_IN_M = 0.3048;
export const NM_IN_M = 1852;
export const L_IN_M3 = 0.001;
