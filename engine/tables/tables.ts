/** The table of a show by its id. */
import type { Show } from "../model/show.ts";
import { inputsTable } from "./inputs.ts";
import type { Table, TableId } from "./table.ts";

const MAKE: Readonly<Record<TableId, (show: Show) => Table>> = { inputs: inputsTable };

export const tableOf = (table: TableId, show: Show): Table => MAKE[table](show);

/** For the tabs. */
export const TABLE_NAMES: Readonly<Record<TableId, string>> = { inputs: "Inputs" };
