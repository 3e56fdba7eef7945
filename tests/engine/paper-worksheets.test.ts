/** Worksheets: what is to be set on each device, worked out by hand from small rigs and the demo show. */
import { describe, expect, test } from "vitest";
import { analyse, type Analysis, type Assignment, type Device, type Show } from "#engine";
import { cellOf } from "#engine/paperwork/columns.ts";
import type { PaperTable } from "#engine/paperwork/block.ts";
import type { PaperJob, Sheet } from "#engine/paperwork/page.ts";
import { sheetEntries } from "#engine/paperwork/sheets/sheets.ts";
import { keepOf, worksheetOf } from "#engine/paperwork/worksheet.ts";
import { namesOf } from "#engine/trace/terminal.ts";
import { settingName } from "#engine/trace/told.ts";
import { compile } from "#engine/wiring/compile.ts";
import { demo, STARTERS } from "./demo.ts";
import * as rigs from "./rigs/index.ts";
import { rig } from "./rigs/build.ts";

const jobOf = (show: Show): PaperJob => ({
  analysis: analyse(show),
  paper: "A4",
  date: "2026-11-26",
  author: "",
});

async function sheet(show: Show, id: string): Promise<Sheet> {
  const job = jobOf(show);
  const entry = sheetEntries(job.analysis).find((each) => each.id === id);
  if (!entry) throw new Error(`no sheet ${id}`);
  return entry.make(job, {});
}

const rowsOf = ({ rows }: PaperTable): string[] =>
  rows.map(({ cells }) =>
    cells
      .map((cell) => cellOf(cell).text)
      .filter((text) => text !== "")
      .join(" | "),
  );

const tableNamed = ({ tables }: Sheet, title: RegExp): PaperTable =>
  tables.find((each) => title.test(each.title))!;

const wired = ({ wiring }: Analysis, name: string) =>
  wiring.devices.find((each) => each?.device.name === name)!;

describe("[Q5] a worksheet tells all that is to be set on a device, in the order of its pages", () => {
  test("[Q5] a console that carries two others’ blocks: R02", async () => {
    const house = await sheet(rigs.R02.show, "worksheet/house");
    expect(house.tables.map(({ title }) => title.split(":")[0])).toEqual([
      "Power, mode, clock",
      "Routing, block by block",
      "Leave alone",
    ]);
    expect(rowsOf(house.tables[0]!)).toEqual([
      "Power | on",
      "Sample rate | 48 kHz | the show’s rate",
      "Clock | its own clock (leader) | Monitors, Broadcast, Stage box and Ears rack run on it",
    ]);
    // The link goes to the stage box: slots 1–16 to its outputs, 33–48 to its monitor bus and so to the breakout.
    expect(rowsOf(house.tables[1]!)).toEqual([
      "Link 1 out 1–8 | Mix 1–8 | Stage box Out 1–8",
      "Link 1 out 9–16 | Mix 9–16 | Stage box Out 9–16",
      "Link 1 out 33–40 | Link 2 in 33–40 | Monitors Mix 9–16 | Ears rack Out 1–8",
      "Link 1 out 41–48 | Link 2 in 41–48 | Broadcast Mix 1–8 | Ears rack Out 9–16",
      "Link 1 out 17–32 | nothing",
    ]);
    expect(house.tables[1]!.rows[0]!.group).toBe("Link 1 out – cable L1 to Stage box Link A");
  });

  test("[Q5] a box: mode, place in the chain, clock, whose the preamps are", async () => {
    const show = demo();
    const box = await sheet(show, "worksheet/stage-left");
    expect(rowsOf(box.tables[0]!)).toEqual([
      "Power | on",
      "Mode | Three consoles",
      "Place in the chain | 1 | counted from the console",
      "Sample rate | 48 kHz | the show’s rate",
      "Clock | follows Link A | from Front of house",
    ]);
    // Phantom power by the demo's input list: hi-hat, overheads, DIs of bass, keys and acoustic guitar, strings, choir, lectern.
    expect(rowsOf(box.tables[1]!)).toEqual(["In 1–32 | Front of house | In 5, 8–10, 14–15, 20, 23–29, 31"]);
    // Behind the isolated legs the truck has preamps of its own, and phantom power doesn’t get there.
    const own = await sheet(show, "worksheet/truck-box");
    expect(rowsOf(own.tables[1]!)).toEqual(["In 1–16 | no console named; in reach: Truck | none"]);
  });

  test("[Q5] gains on the console that sets them, trims on the others", async () => {
    const show = demo();
    const foh = tableNamed(await sheet(show, "worksheet/front-of-house"), /^Preamps that this console sets/);
    expect(rowsOf(foh)).toContain(
      "Stage left In 20 | Acoustic guitar | on | Monitors Channel 20; Truck Channel 20",
    );
    // Of the split’s sources the truck takes the isolated leg, over preamps of its own.
    expect(rowsOf(foh)).toContain("Stage left In 1 | Kick in | off | Monitors Channel 1");
    // 64 from the stage, four of its own.
    expect(foh.rows).toHaveLength(68);
    const truck = tableNamed(await sheet(show, "worksheet/truck"), /^Channels behind gains/);
    expect(rowsOf(truck)).toEqual(["Channel 17–32 | Front of house | on | 0"]);
  });

  test("[Q5] a noted gain, and a trim past an assumed range, which is marked", async () => {
    const base = demo();
    const [first] = base.sources;
    const type = base.types.find(({ id }) => id === base.devices.find(({ id: key }) => key === "mon")!.type)!;
    const limited = {
      ...type,
      mixer: {
        ...type.mixer!,
        sections: type.mixer!.sections.map((section) =>
          section.role === "channel"
            ? { ...section, trim: { from: -20, to: 20, provenance: "assumed" as const } }
            : section,
        ),
      },
    };
    const show: Show = {
      ...base,
      types: base.types.map((each) => (each === type ? limited : each)),
      sources: base.sources.map((source) => (source === first ? { ...source, gain: 32 } : source)),
      channels: base.channels.map((channel) =>
        channel.console === "mon" && channel.number === 1 ? { ...channel, trim: -24 } : channel,
      ),
    };
    const foh = tableNamed(await sheet(show, "worksheet/front-of-house"), /^Preamps that this console sets/);
    expect(rowsOf(foh)).toContain("Stage left In 1 | Kick in | +32 | off | Monitors Channel 1");
    const mon = tableNamed(await sheet(show, "worksheet/monitors"), /^Channels behind gains/);
    expect(rowsOf(mon)).toEqual([
      "Channel 1 | Front of house | on | −24, past the range -20 to 20",
      "Channel 2–64 | Front of house | on | 0",
    ]);
    expect(mon.rows.map(({ cells }) => cellOf(cells.at(-1)).assumed ?? false)).toEqual([true, false]);
  });

  test("[Q5] mixes with their members, inserts that are in", async () => {
    const mixer = await sheet(rigs.R12.show, "worksheet/house");
    const rows = rowsOf(tableNamed(mixer, /^Mixes/));
    expect(rows.some((row) => /^Mix 3–4, stereo \| .* \| Channel 1 post$/.test(row))).toBe(true);
    const inserted = rig({
      devices: { house: { name: "House", type: "console-24", inserts: ["ch-return 3 x2"] } },
    });
    expect(rowsOf(tableNamed(await sheet(inserted, "worksheet/house"), /^Inserts/))).toEqual([
      "Channel return 3–4",
    ]);
  });

  test("[Q5] what leaves no choice has no worksheet; what is off has one that says so", () => {
    const ids = (show: Show): string[] =>
      sheetEntries(analyse(show))
        .filter(({ kind }) => kind === "worksheets")
        .map(({ id }) => id);
    expect(ids(rigs.R01.show)).toEqual(["worksheet/house", "worksheet/box"]);
    const off = rig({ devices: { wedge: { name: "Wedge", type: "wedge", off: true } } });
    expect(ids(off)).toEqual(["worksheet/wedge"]);
    // 12 wedges, 12 loudspeakers, nine ear transmitters and the split have nothing to set.
    const show = demo();
    expect(ids(show)).toHaveLength(show.devices.length - 12 - 12 - 9 - 1);
  });

  test("[Q5] every worksheet and line-check sheet bears the cautions and boxes to tick", async () => {
    const job = jobOf(demo());
    for (const entry of sheetEntries(job.analysis)) {
      if (entry.kind !== "worksheets" && entry.kind !== "line check") continue;
      const { pages, tables } = await entry.make(job, {});
      const page = pages[0]!.svg.replaceAll(/<[^>]*>/g, " ").replaceAll(/\s+/g, " ");
      for (const words of ["mute it and turn it down", "in-ears out of ears", "Bring it up slowly"])
        expect(page, entry.id).toContain(words);
      expect(page, entry.id).toContain("protective earth");
      const ticked = tables.filter(({ title }) => !title.startsWith("Leave alone"));
      for (const { columns, title } of ticked)
        expect(
          columns.some(({ kind }) => kind === "tick"),
          `${entry.id} ${title}`,
        ).toBe(true);
    }
  });
});

describe("[Q6] routing stands in whole runs", () => {
  const runs = (show: Show, name: string): string[] => {
    const analysis = analyse(show);
    const device = wired(analysis, name);
    return worksheetOf(analysis, device).routes.flatMap(({ settings }) =>
      settings.map((setting) => settingName(device, setting)),
    );
  };

  test("[Q6] links by their blocks of eight, channels by eights at most", () => {
    const show = rig({
      devices: {
        house: {
          name: "House",
          type: "console-24",
          set: ["link1 1 x16 < link2 1", "ch 3 x2 < in 1", "ch 5 x7 < in 3"],
        },
      },
    });
    // Channels 3–4 and 5–11 go on in step from local in 1; 8 ends an eight. Local in has 8 jacks, so channel 10 is the last.
    expect(runs(show, "House").toSorted()).toEqual(
      [
        "Link 1 out 1–8 takes Link 2 in 1–8",
        "Link 1 out 9–16 takes Link 2 in 9–16",
        "Channel 3–8 takes Local in 1–6",
        "Channel 9–10 takes Local in 7–8",
      ].toSorted(),
    );
  });

  test("[Q6] of two settings on one block the later one counts", () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 1 x8 < mix 1", "link1 1 x8 < link2 9"] },
      },
    });
    expect(runs(show, "House")).toEqual(["Link 1 out 1–8 takes Link 2 in 9–16"]);
  });

  test("[Q6] what the mode can’t hold stands apart, and is not to be ticked", async () => {
    const show = rig({
      devices: {
        house: { name: "House", type: "console-24", set: ["link1 3 x8 < mix 1", "out 1 < main 1"] },
      },
    });
    expect(runs(show, "House")).toEqual(["Local out 1 takes Main 1"]);
    const apart = tableNamed(await sheet(show, "worksheet/house"), /^In the plan, and not possible/);
    expect(rowsOf(apart)[0]).toMatch(/^Link 1 out 3–10 takes Mix 1–8 \| blocks of 8/);
    expect(apart.columns.some(({ kind }) => kind === "tick")).toBe(false);
  });

  /** `Link 1 out 17–24` as the printed table has it. */
  function read(text: string): { readonly name: string; readonly first: number; readonly count: number } {
    const [, name, first, last] = /^(.+?) (\d+)(?:–(\d+))?$/.exec(text)!;
    return { name: name!, first: Number(first), count: Number(last ?? first) - Number(first) + 1 };
  }

  /** Programs a blank device from the words of its printed worksheet alone, as a person at its pages would. */
  function programmed(show: Show, device: Device, tables: readonly PaperTable[]): Device {
    const type = show.types.find(({ id }) => id === device.type)!;
    const groups = new Map<string, string>();
    for (const { id, name } of type.banks) groups.set(name, id);
    for (const { id, name, receive, send } of type.ports) {
      groups.set(`${name} in`, id);
      groups.set(`${name} out`, id);
      if (receive.single === 0 || send.single === 0) groups.set(name, id);
    }
    for (const { id, name } of type.mixer?.sections ?? []) groups.set(name, id);
    let made: Device = { ...device, mode: type.modes[0]!.id, position: 1, powered: true, routing: [] };
    delete (made as { clock?: unknown }).clock;
    delete (made as { sampleRate?: unknown }).sampleRate;
    delete (made as { inserts?: unknown }).inserts;
    const routing: Assignment[] = [];
    for (const { title, rows } of tables) {
      for (const { cells } of rows) {
        const [, what, to] = cells.map((cell) => cellOf(cell).text);
        if (title === "Power, mode, clock") {
          if (what === "Power") made = { ...made, powered: to === "on" };
          if (what === "Mode") made = { ...made, mode: type.modes.find(({ name }) => name === to)!.id };
          if (what === "Place in the chain") made = { ...made, position: Number(to) };
          if (what === "Sample rate")
            made = { ...made, sampleRate: (Number(to!.replace(" kHz", "")) * 1000) as 48000 };
          if (what === "Clock") {
            const port = type.ports.find(({ name }) => to === `follows ${name}`);
            made = { ...made, clock: port?.id ?? "internal" };
          }
        }
        if (/^Routing|^Channel sources/.test(title) && to !== "nothing") {
          const [into, from] = [read(what!), read(to!)];
          routing.push({
            to: { group: groups.get(into.name)! as Assignment["to"]["group"], first: into.first },
            from: { group: groups.get(from.name)! as Assignment["to"]["group"], first: from.first },
            count: into.count,
          });
        }
      }
    }
    return { ...made, routing };
  }

  test.each(["quayside", ...STARTERS] as const)(
    "[Q6] printed and programmed on blank devices, it is the plan again: %s",
    async (name) => {
      const show = demo(name);
      const job = jobOf(show);
      const blank = new Map(show.devices.map((device) => [device.id, programmed(show, device, [])]));
      for (const entry of sheetEntries(job.analysis)) {
        if (entry.kind !== "worksheets") continue;
        const device = show.devices.find((each) => entry.title === `Worksheet: ${each.name}`)!;
        const { tables } = await entry.make(job, {});
        blank.set(device.id, programmed(show, device, tables));
      }
      const before = compile(show);
      const after = compile({ ...show, devices: show.devices.map(({ id }) => blank.get(id)!) });
      for (const table of ["feeder", "state", "edge", "delay", "leaders"] as const)
        expect(after[table], table).toEqual(before[table]);
      for (const device of show.devices) {
        const { mode, position, powered } = blank.get(device.id)!;
        expect({ mode, position, powered }).toEqual({
          mode: device.mode,
          position: device.position,
          powered: device.powered,
        });
      }
    },
  );
});

describe("[Q7] what to leave alone", () => {
  const keep = (show: Show, name: string): string[] => {
    const analysis = analyse(show);
    return keepOf(analysis, wired(analysis, name)).map(({ span, whose, numbers, ends }) => {
      const owner = show.devices.find(({ id }) => id === whose)!.name;
      const side = span.side === "jack" ? span.bank.name : span.side === "send" ? span.port.name : "";
      return `${side} ${numbers[0]}–${numbers.at(-1)} of ${owner}: ${namesOf(analysis.wiring, ends)}`;
    });
  };

  test("[Q7] other consoles’ blocks, with whose they are and where they come out: R02", () => {
    expect(keep(rigs.R02.show, "House")).toEqual([
      "Link 1 33–40 of Monitors: Ears rack Out 1–8",
      "Link 1 41–48 of Broadcast: Ears rack Out 9–16",
    ]);
    expect(keep(rigs.R02.show, "Monitors")).toEqual(["Link 1 41–48 of Broadcast: Ears rack Out 9–16"]);
    expect(keep(rigs.R02.show, "Broadcast")).toEqual([]);
    expect(keep(rigs.R02.show, "Stage box")).toEqual([
      "Out 1–16 of House: Stage box Out 1–16",
      "Monitor bus 1–8 of Monitors: Ears rack Out 1–8",
      "Monitor bus 9–16 of Broadcast: Ears rack Out 9–16",
    ]);
  });

  test("[Q7] sources on their way to a console’s channels", () => {
    // In 1 stands on link A's slot 1 and comes to channel 1.
    expect(keep(rigs.R01.show, "Box")).toEqual([
      "Out 1–8 of House: Box Out 1–8",
      "Link A 1–1 of House: House Channel 1",
    ]);
  });

  test("[Q7] printed, a box’s jacks are told by the feeds that stand there", async () => {
    const rows = rowsOf(tableNamed(await sheet(demo(), "worksheet/stage-left"), /^Leave alone/));
    expect(rows).toContain("Out 9–12 | Monitors | Centre left, Centre right, Presenters, Choir");
    expect(rows).toContain("Monitor bus 1–16 | Monitors | Ears rack Out 1–16");
  });

  test("[Q7] of the demo’s front of house: monitors’ feeds to the ears and the band, the recorder’s tracks", () => {
    expect(keep(demo(), "Front of house")).toEqual([
      "Link 1 33–48 of Monitors: Ears rack Out 1–16",
      "Link 2 1–32 of Monitors: Monitors Channel 33–64",
      "Link 2 1–16 of Recorder: Recorder Track 33–48",
      "Link 3 1–48 of Monitors: Band A Out 1–8; Drummer's mixer Channel 1–16",
    ]);
  });
});
