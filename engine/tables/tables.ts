/** The table of a show by its id. */
import type { Analysis } from "../analysis.ts";
import type { DeviceId } from "../model/ids.ts";
import type { Show } from "../model/show.ts";
import { cablesTable } from "./cables.ts";
import { channelsTable } from "./channels.ts";
import { devicesTable } from "./devices.ts";
import { inputsTable } from "./inputs.ts";
import { membersTable } from "./members.ts";
import { mixesTable } from "./mixes.ts";
import { outputsTable } from "./outputs.ts";
import type { Table, TableId } from "./table.ts";

/** The tables that tell the show alone. */
const MAKE: Readonly<Record<Exclude<TableId, "outputs" | "members">, (show: Show) => Table>> = {
  inputs: inputsTable,
  channels: channelsTable,
  mixes: mixesTable,
  cables: cablesTable,
  devices: devicesTable,
};

/**
 * `analysis`: for what arrives at outputs; it may be of the show before an edit. `desk`: whose members are shown; null:
 * those of the first console that has mixes.
 */
export function tableOf(table: TableId, show: Show, analysis: Analysis, desk: DeviceId | null = null): Table {
  if (table === "outputs") return outputsTable(show, analysis);
  return table === "members" ? membersTable(show, desk) : MAKE[table](show);
}

/** For the tabs. */
export const TABLE_NAMES: Readonly<Record<TableId, string>> = {
  inputs: "Inputs",
  channels: "Channels",
  mixes: "Mixes",
  members: "Members",
  outputs: "Outputs",
  cables: "Cables",
  devices: "Devices",
};
