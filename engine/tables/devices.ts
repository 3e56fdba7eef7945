/** The devices: what each is called, where it stands, and how it is set. */
import { withoutDevices } from "../build/remove.ts";
import { typeIn, typesToAdd } from "../build/types.ts";
import { without } from "../findings/remedies.ts";
import { id, type DeviceId, type GroupId, type ModeId, type PlaceId } from "../model/ids.ts";
import { err, ok } from "../model/result.ts";
import type { Device, Show } from "../model/show.ts";
import { rateName, SAMPLE_RATES, type SampleRate } from "../model/units.ts";
import { plain } from "../trace/lookup.ts";
import { directoryOf } from "./places.ts";
import { field, makeTable, type ColumnSpec, type Table } from "./table.ts";
import { bookOf, readChoice, readName, readWhole, readYes, type Book, type Read } from "./words.ts";
import type { Work } from "./work.ts";

const LONGEST_CHAIN = 64;
/** As the file's schema has it. */
const LONGEST_NOTE = 20_000;

const deviceField = field<Device>(
  (work: Work, key) => work.get("devices", key),
  (work, record) => work.put("devices", record),
);

/** `48`, `48 kHz`, `48000`. */
export function readRate(text: string): Read<SampleRate> {
  const number = Number(/^(\d+(?:[.,]\d+)?)\s*(?:k|khz|hz)?$/i.exec(text.trim())?.[1]?.replace(",", "."));
  const rate = SAMPLE_RATES.find((each) => each === number || each / 1000 === number);
  return rate ? ok(rate) : err(`“${text.trim()}” is none of ${SAMPLE_RATES.map(rateName).join(", ")}.`);
}

export function devicesTable(show: Show): Table {
  const directory = directoryOf(show);
  // One of the catalogue that is called as the show's own would only make both hard to name.
  const own = new Set(show.types.map(({ name }) => plain(name)));
  const all = [...show.types, ...typesToAdd(show).filter(({ name }) => !own.has(plain(name)))];
  const types = bookOf(all, "device type");
  const places = bookOf(show.places, "place");
  const typeOf = (device: Device) => directory.layout(device.id)?.type;
  const modes = (device: Device): Book => bookOf(typeOf(device)?.modes ?? [], "mode");
  const clocks = (device: Device): Book =>
    bookOf([{ id: "internal", name: "internal" }, ...(typeOf(device)?.ports ?? [])], "clock");
  const columns: ColumnSpec<Device>[] = [
    {
      id: "name",
      name: "Device",
      width: 20,
      counts: true,
      also: ["name", "device name"],
      tell: ({ name }) => name,
      write: deviceField((record, text) => {
        const read = readName(text, true);
        return read.ok ? { ...record, name: read.value } : read.error;
      }),
      owner: (device) => (typeOf(device)?.mixer ? device.id : null),
    },
    {
      id: "type",
      name: "Type",
      width: 30,
      also: ["device type", "model"],
      tell: ({ type }) => types.tell(type),
      write: deviceField((record, text, work) => {
        const read = types.find(text);
        if (!read.ok) return read.error;
        // One of the catalogue comes into the show with its first device.
        const { type, edits } = typeIn(
          show,
          all.find((each) => each.id === read.value)!,
        );
        if (edits.length > 0) work.put("types", type);
        const mode = type.modes.some((each) => each.id === record.mode)
          ? record.mode
          : (type.modes[0]?.id ?? record.mode);
        const next: Device = { ...record, type: type.id, mode };
        const keepsClock = next.clock === "internal" || type.ports.some((port) => port.id === next.clock);
        return keepsClock ? next : without(next, "clock");
      }),
      choices: () => types.names,
    },
    {
      id: "place",
      name: "Place",
      width: 18,
      also: ["location", "position on site"],
      tell: ({ place }) => places.tell(place),
      write: deviceField((record, text) => {
        const read = places.find(text);
        return read.ok ? { ...record, place: id<PlaceId>(read.value) } : read.error;
      }),
      choices: () => places.names,
    },
    {
      id: "mode",
      name: "Mode",
      width: 22,
      tell: (device) => modes(device).tell(device.mode),
      write: deviceField((record, text, work) => {
        const own = work.get("devices", record.id)?.type;
        const type = own === undefined ? undefined : work.get("types", own);
        const read = bookOf(type?.modes ?? [], "mode").find(text);
        return read.ok ? { ...record, mode: id<ModeId>(read.value) } : read.error;
      }),
      choices: (row) => (row ? modes(row).names : []),
    },
    {
      id: "position",
      name: "Position",
      width: 8,
      figures: true,
      also: ["chain position"],
      tell: ({ position }) => String(position),
      write: deviceField((record, text) => {
        const read = readWhole(text, 1, LONGEST_CHAIN);
        return read.ok ? { ...record, position: read.value } : read.error;
      }),
    },
    {
      id: "rate",
      name: "Own rate",
      width: 9,
      also: ["sample rate", "rate"],
      tell: ({ sampleRate }) => (sampleRate === undefined ? "" : rateName(sampleRate)),
      write: deviceField((record, text) => {
        if (text.trim() === "") return without(record, "sampleRate");
        const read = readRate(text);
        return read.ok ? { ...record, sampleRate: read.value } : read.error;
      }),
      choices: () => SAMPLE_RATES.map(rateName),
    },
    {
      id: "clock",
      name: "Own clock",
      width: 10,
      also: ["clock", "word clock"],
      tell: (device) => (device.clock === undefined ? "" : clocks(device).tell(device.clock)),
      write: deviceField((record, text) => {
        if (text.trim() === "") return without(record, "clock");
        const read = clocks(record).find(text);
        if (!read.ok) return read.error;
        return { ...record, clock: read.value === "internal" ? "internal" : id<GroupId>(read.value) };
      }),
      choices: (row) => (row ? clocks(row).names : []),
    },
    {
      id: "power",
      name: "Power",
      width: 6,
      also: ["powered"],
      tell: ({ powered }) => (powered ? "on" : "off"),
      write: deviceField((record, text) => {
        const read = readChoice(text, [
          { value: true, names: ["on", "yes"] },
          { value: false, names: ["off", "no"] },
        ]);
        const plain = read.ok ? read : readYes(text);
        return plain.ok && text.trim() !== "" ? { ...record, powered: plain.value } : "Power is on or off.";
      }),
      choices: () => ["on", "off"],
    },
    {
      id: "notes",
      name: "Notes",
      width: 34,
      also: ["note", "remarks", "comment"],
      tell: ({ notes }) => notes ?? "",
      write: deviceField((record, text) => {
        if (text === "") return without(record, "notes");
        return text.length <= LONGEST_NOTE ? { ...record, notes: text } : "The note is too long.";
      }),
    },
  ];
  return makeTable({
    id: "devices",
    name: "Devices",
    one: "device",
    many: "devices",
    empty: "No devices yet: they are added on the canvas.",
    known: [["name"]],
    show,
    rows: show.devices,
    key: ({ id: key }) => key,
    columns,
    subject: ({ id: key }) => ({ kind: "device", device: key }),
    removed: (rows) =>
      withoutDevices(
        show,
        rows.map((device): DeviceId => device.id),
      ),
  });
}
