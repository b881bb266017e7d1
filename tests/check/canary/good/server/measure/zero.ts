export const ZERO_K = 273.15;
