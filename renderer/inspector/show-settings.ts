/** What can be typed into the show's settings. */
import { fromFahrenheit, round, TEMPERATURE_UNITS, toFahrenheit, type Settings } from "#engine";

type Units = Settings["units"];

/** Least and most, in °C, as the file's schema has it. */
const LEAST = -60;
const MOST = 60;

/** As the show's units have it: a temperature in °C, to a tenth of a degree. */
export const shownTemperature = (celsius: number, units: Units): string =>
  String(round(units === "metric" ? celsius : toFahrenheit(celsius), 1));

/** In °C; `""` where nothing stands there; null where it is no temperature of air. */
export function readTemperature(text: string, units: Units): number | "" | null {
  if (units === "metric") return readNumber(text, LEAST, MOST);
  const degrees = readNumber(text, toFahrenheit(LEAST), toFahrenheit(MOST));
  // Fine enough that what was typed shows again, in whichever units.
  return typeof degrees === "number" ? round(fromFahrenheit(degrees), 4) : degrees;
}

export function temperatureNeeded(units: Units): string {
  const [least, most] = units === "metric" ? [LEAST, MOST] : [toFahrenheit(LEAST), toFahrenheit(MOST)];
  return `A temperature from −${-least} to ${most} ${TEMPERATURE_UNITS[units]} is needed.`;
}

/** A number within bounds, a comma for its point allowed; `""` where nothing stands there; null where it is none. */
export function readNumber(text: string, least: number, most: number): number | "" | null {
  const plain = text.trim().replace(",", ".").replace("\u2212", "-");
  if (plain === "") return "";
  const value = Number(plain);
  return Number.isFinite(value) && value >= least && value <= most ? value : null;
}
