/** What the other rooms may use of the engine. */
export * from "./model/ids.ts";
export * from "./model/units.ts";
export * from "./model/result.ts";
export * from "./model/device-type.ts";
export * from "./model/show.ts";
export * from "./exchange/host-api.ts";
