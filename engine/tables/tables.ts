/** The table of a show by its id. */
import type { Analysis } from "../analysis.ts";
import type { Show } from "../model/show.ts";
import { cablesTable } from "./cables.ts";
import { channelsTable } from "./channels.ts";
import { devicesTable } from "./devices.ts";
import { inputsTable } from "./inputs.ts";
import { mixesTable } from "./mixes.ts";
import { outputsTable } from "./outputs.ts";
import type { Table, TableId } from "./table.ts";

/** The tables that tell the show alone. */
const MAKE: Readonly<Record<Exclude<TableId, "outputs">, (show: Show) => Table>> = {
  inputs: inputsTable,
  channels: channelsTable,
  mixes: mixesTable,
  cables: cablesTable,
  devices: devicesTable,
};

/** `analysis`: for what arrives at outputs; it may be of the show before an edit. */
export const tableOf = (table: TableId, show: Show, analysis: Analysis): Table =>
  table === "outputs" ? outputsTable(show, analysis) : MAKE[table](show);

/** For the tabs. */
export const TABLE_NAMES: Readonly<Record<TableId, string>> = {
  inputs: "Inputs",
  channels: "Channels",
  mixes: "Mixes",
  outputs: "Outputs",
  cables: "Cables",
  devices: "Devices",
};
