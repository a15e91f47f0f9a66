/** Unit conversions for the edges, both ways; inside everything is SI. Factors are exact by definition. */
import { FREEZING_K } from './constants.ts';

const M_PER_FT = 0.3048;
const M_PER_NM = 1852;
const MPS_PER_KT = 1852 / 3600;
const PA_PER_HPA = 100;
const PA_PER_INHG = 3386.389;
const MPS_PER_IN_PER_H = 0.0254 / 3600;
const MPS_PER_MM_PER_MIN = 0.001 / 60;

export const mFromFt = (ft: number): number => ft * M_PER_FT;
export const ftFromM = (m: number): number => m / M_PER_FT;
export const mFromNm = (nm: number): number => nm * M_PER_NM;
export const nmFromM = (m: number): number => m / M_PER_NM;
export const mpsFromKt = (kt: number): number => kt * MPS_PER_KT;
export const ktFromMps = (mps: number): number => mps / MPS_PER_KT;
export const paFromHPa = (hPa: number): number => hPa * PA_PER_HPA;
export const hPaFromPa = (pa: number): number => pa / PA_PER_HPA;
/** Inches of mercury at 0 degC (conventional, seven figures). */
export const paFromInHg = (inHg: number): number => inHg * PA_PER_INHG;
export const inHgFromPa = (pa: number): number => pa / PA_PER_INHG;
export const kFromC = (celsius: number): number => celsius + FREEZING_K;
export const cFromK = (kelvin: number): number => kelvin - FREEZING_K;
/** Growth of ice thickness. */
export const mpsFromInPerH = (inPerH: number): number => inPerH * MPS_PER_IN_PER_H;
export const inPerHFromMps = (mps: number): number => mps / MPS_PER_IN_PER_H;
export const mpsFromMmPerMin = (mmPerMin: number): number => mmPerMin * MPS_PER_MM_PER_MIN;
export const mmPerMinFromMps = (mps: number): number => mps / MPS_PER_MM_PER_MIN;
/** Water content of air. */
export const kgPerM3FromGPerM3 = (gPerM3: number): number => gPerM3 / 1000;
export const gPerM3FromKgPerM3 = (kgPerM3: number): number => kgPerM3 * 1000;
/** Drop diameters. */
export const mFromUm = (um: number): number => um / 1e6;
export const umFromM = (m: number): number => m * 1e6;
