export const fahrenheit = (temperatureC: number): number => temperatureC * 1.8 + 32;
