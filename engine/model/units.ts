import type { Brand } from "./ids.ts";

export type Ms = Brand<number, "Ms">;
export type Samples = Brand<number, "Samples">;
export type Metres = Brand<number, "Metres">;

export const ms = (value: number): Ms => value as Ms;
export const samples = (value: number): Samples => value as Samples;
export const metres = (value: number): Metres => value as Metres;

/** The sample rates that a show can run at, in hertz. */
export const SAMPLE_RATES = [44100, 48000, 88200, 96000, 176400, 192000] as const;
export type SampleRate = (typeof SAMPLE_RATES)[number];

/** A link halves its slots with each doubling of the rate, so its slots are told per class of rate. */
export type RateClass = "single" | "double" | "quad";

export function rateClass(rate: SampleRate): RateClass {
  if (rate <= 48000) return "single";
  return rate <= 96000 ? "double" : "quad";
}

/** How a rate is written in the trade: `48 kHz`, `44.1 kHz`. */
export const rateName = (rate: SampleRate): string => `${rate / 1000} kHz`;

/** Samples → milliseconds at `rate`. */
export const samplesToMs = (count: number, rate: SampleRate): Ms => ms((count / rate) * 1000);

/** Milliseconds → samples at `rate`, not rounded. */
export const msToSamples = (time: number, rate: SampleRate): Samples => samples((time / 1000) * rate);

/** 1 ft = 0.3048 m exactly (international foot, 1959). */
export const FOOT_IN_METRES = 0.3048;

/** Metres → feet. */
export const metresToFeet = (length: Metres): number => length / FOOT_IN_METRES;

/** A length as the show's units write it: `45 m`, `148 ft`. */
export function lengthName(length: Metres, units: "metric" | "imperial"): string {
  return units === "metric" ? `${round(length, 1)} m` : `${round(metresToFeet(length), 0)} ft`;
}

/** A way that sound goes, as the show's units write it: `0.022 m`, `0.07 ft`. Finer than a cable's length. */
export function distanceName(distance: Metres, units: "metric" | "imperial"): string {
  return units === "metric" ? `${round(distance, 3)} m` : `${round(metresToFeet(distance), 2)} ft`;
}

/** What the show's units give a temperature in. */
export const TEMPERATURE_UNITS = { metric: "°C", imperial: "°F" } as const;

/** 32 °F is where water freezes, and 1.8 °F are a degree of Celsius (both by definition). */
export const toFahrenheit = (celsius: number): number => celsius * 1.8 + 32;
export const fromFahrenheit = (degrees: number): number => (degrees - 32) / 1.8;

/** A temperature as the show's units write it, to a tenth: `20 °C`, `68 °F`. */
export function temperatureName(celsius: number, units: "metric" | "imperial"): string {
  return `${round(units === "metric" ? celsius : toFahrenheit(celsius), 1)} ${TEMPERATURE_UNITS[units]}`;
}

/**
 * Speed of sound in dry air, in metres per second, at `celsius` degrees:
 * 331.3 · √(1 + T / 273.15), the usual textbook form; good to 0.2 % between −20 and 50 °C.
 */
export const speedOfSound = (celsius: number): number => 331.3 * Math.sqrt(1 + celsius / 273.15);

/** How far sound travels in `time`. */
export const travel = (time: Ms, celsius: number): Metres => metres((time / 1000) * speedOfSound(celsius));

/**
 * The first null, in hertz, of a signal summed with itself `time` later: 1 / (2t); the next nulls follow every 1 / t.
 * `Infinity` for no delay at all.
 */
export const firstNull = (time: Ms): number => 1000 / (2 * time);

export function round(value: number, digits: number): number {
  const factor = 10 ** digits;
  return Math.round(value * factor) / factor;
}

/** The next value of so many digits that isn't below `value`; what adding up leaves behind at the ninth digit is none. */
export function roundUp(value: number, digits: number): number {
  const factor = 10 ** digits;
  return Math.ceil(round(value, 9) * factor - 1e-6) / factor;
}
