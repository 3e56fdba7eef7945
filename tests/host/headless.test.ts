/**
 * The headless program as a user calls it: what it prints, where, and with which exit code. The twelve jacks below were
 * walked by hand on the demo's document: cable by cable, setting by setting, mode by mode.
 */
import { execFile, spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { Ajv } from "ajv";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import {
  loadShow,
  markRevision,
  saveShow,
  type DelaysReport,
  type FindingsReport,
  type OwnersReport,
  type TracesReport,
} from "#engine";
import { ensureBuilt, outputOf } from "../../build/build.mjs";
import { ROOT } from "../../build/lib/project.mjs";
import { R72 } from "../engine/rigs/inserts.ts";

const DEMO = join(ROOT, "assets", "demo", "quayside.hopline");
const FAULTS = join(ROOT, "assets", "demo", "quayside-faults.hopline");

interface Ran {
  readonly code: number;
  readonly out: string;
  readonly error: string;
}

function headless(...words: string[]): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(
      process.execPath,
      [outputOf("headless"), ...words],
      { maxBuffer: 1 << 28 },
      (problem, out, error) => {
        resolve({ code: problem ? Number(problem.code) : 0, out, error });
      },
    );
  });
}

async function json<Report>(schema: string, ...words: string[]): Promise<Report> {
  const { out } = await headless(...words, "--json");
  const report = JSON.parse(out) as Report;
  const text = await readFile(join(ROOT, "assets", "schema", `${schema}.schema.json`), "utf8");
  const validate = new Ajv({ allowUnionTypes: true }).compile(JSON.parse(text) as object);
  expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
  return report;
}

let folder = "";
beforeAll(async () => {
  await ensureBuilt(["headless"]);
  folder = await mkdtemp(join(tmpdir(), "hopline-headless-"));
}, 120_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("trace", () => {
  test("every output jack of the demo arrives", async () => {
    const { traces } = await json<TracesReport>("trace-1", "trace", DEMO, "--all");
    // 3 consoles × 8, 16 + 8 + 8 + 8 on the boxes, 3 × 16 on breakouts, 2 × 16 on the split, 8 processor outputs,
    // 9 × 2 radio, 12 + 12 thru jacks, 2 phones.
    expect(traces).toHaveLength(24 + 40 + 48 + 32 + 8 + 18 + 24 + 2);
    expect(traces.filter(({ verdict }) => verdict !== "arrives")).toEqual([]);
  });

  const walked: readonly (readonly [jack: string, origin: string, owner: string | null, devices: string])[] =
    [
      ["Stage left Out 1", "Front of house Matrix 1", "Front of house", "Front of house > Stage left"],
      ["Stage left Out 9", "Monitors Mix 1", "Monitors", "Monitors > Stage left"],
      ["Stage left Out 16", "Truck Mix 4", "Truck", "Truck > Truck interface > Stage interface > Stage left"],
      ["Ears rack Out 1", "Monitors Mix 9", "Monitors", "Monitors > Front of house > Stage left > Ears rack"],
      [
        "Ears rack Out 16",
        "Monitors Mix 24",
        "Monitors",
        "Monitors > Front of house > Stage left > Ears rack",
      ],
      ["Band A Out 3", "Monitors Mix 27", "Monitors", "Monitors > Front of house > Band A"],
      ["Band B Out 8", "Front of house Matrix 16", "Front of house", "Front of house > Band A > Band B"],
      [
        "Harbour bar Out 5",
        "Front of house Mix 13",
        "Front of house",
        "Front of house > Delay tower > Harbour bar",
      ],
      ["Delay tower Out 16", "Front of house Mix 40", "Front of house", "Front of house > Delay tower"],
      ["Truck box Out 8", "Truck Mix 16", "Truck", "Truck > Truck box"],
      [
        "PA left Thru 1",
        "Front of house Matrix 1",
        "Front of house",
        "Front of house > Stage left > Loudspeaker processor > PA left",
      ],
      ["Split Isolated 10", "Bass DI (Split In 10)", null, "Split"],
    ];

  test.each(walked)("%s comes from %s", async (jack, origin, owner, devices) => {
    const { traces } = await json<TracesReport>("trace-1", "trace", DEMO, "--jack", jack);
    expect(traces).toHaveLength(1);
    expect(traces[0]).toMatchObject({ label: jack, verdict: "arrives", origin, owner });
    expect(traces[0]!.hops.map(({ device }) => device).join(" > ")).toBe(devices);
  });

  test("monitors' second block goes through front of house: link 2 in 9–16 to link 1 out 41–48, as both consoles are set", async () => {
    const { traces } = await json<TracesReport>("trace-1", "trace", DEMO, "--jack", "Ears rack Out 12");
    const ways = traces[0]!.hops.flatMap(({ steps }) =>
      steps.map(({ from, to, by }) => `${from} > ${to} [${by}]`),
    );
    expect(ways).toEqual([
      "Monitors Mix 20 > Monitors Link 2 out 12 [Link 2 out 1–16 takes Mix 9–24]",
      "Monitors Link 2 out 12 > Front of house Link 2 in 12 [cable L2, Cat 5e, shielded, 80 m]",
      "Front of house Link 2 in 12 > Front of house Link 1 out 44 [Link 1 out 41–48 takes Link 2 in 9–16]",
      "Front of house Link 1 out 44 > Stage left Link A in 44 [cable L1, Cat 5e, shielded, 75 m]",
      "Stage left Link A in 44 > Stage left Monitor bus 12 [wired in every mode]",
      "Stage left Monitor bus 12 > Ears rack Monitor bus 12 [cable P1, Cat 5e, shielded, 20 m]",
      "Ears rack Monitor bus 12 > Ears rack Out 12 [mode “Monitor bus”, position 1]",
      "Ears rack Out 12 > Ears rack Out 12 [conversion to analogue]",
    ]);
  });

  test("a source's traces name every jack that it reaches, and begin at its jack", async () => {
    const report = await json<TracesReport>("trace-1", "trace", DEMO, "--source", "violin 1");
    expect(report.source).toBe("Violin 1");
    expect(new Set(report.traces.map(({ origin }) => origin))).toEqual(
      new Set(["Violin 1 (Stage left In 23)"]),
    );
    const labels = report.traces.map(({ label }) => label);
    expect(labels).toContain("Ears rack Out 1");
    expect(labels).toContain("Recorder Track 23");
    // The wedge for the cornets takes brass, percussion and keys only.
    expect(labels).not.toContain("Band A Out 1");
  });

  test("every kind of step fits the schema: a bus that comes back from its insert", async () => {
    const path = join(folder, "insert.hopline");
    await writeFile(path, saveShow(R72.show));
    const { traces } = await json<TracesReport>("trace-1", "trace", path, "--jack", "House Local out 1");
    // Mix 1 is no tap while its insert is in: out 1 is fed from its return, which the rack's way 2 feeds from its send.
    expect(traces[0]).toMatchObject({ verdict: "arrives", origin: "House Mix send 1" });
    const hop = traces[0]!.hops.at(-1)!;
    expect(hop.steps.map(({ kind, to }) => `${kind} ${to}`)).toEqual([
      "cable House Local in 6",
      "converted House Local in 6",
      "patched House Mix return 1",
      "inserted House Mix 1",
      "patched House Local out 1",
      "converted House Local out 1",
    ]);
  });

  test("a name with control characters doesn't steer the terminal; in JSON it is whole", async () => {
    const path = join(folder, "escape.hopline");
    const [house, ...others] = R72.show.devices;
    await writeFile(
      path,
      saveShow({ ...R72.show, devices: [{ ...house!, name: "Ho\u001b[31muse\r" }, ...others] }),
    );
    const jack = ["--jack", "Rack Out 1"];
    const { out } = await headless("trace", path, ...jack);
    expect(out).toContain("Ho\u{FFFD}[31muse\u{FFFD}");
    expect(out).not.toMatch(/(?!\n)\p{Cc}/u);
    const { traces } = await json<TracesReport>("trace-1", "trace", path, ...jack);
    expect(traces[0]!.owner).toBe("Ho\u001b[31muse\r");
  });

  test("who reads the first lines only and closes the pipe gets no error", async () => {
    const child = spawn(process.execPath, [outputOf("headless"), "trace", DEMO, "--all", "--json"]);
    let error = "";
    child.stderr.on("data", (text: Buffer) => (error += text.toString()));
    child.stdout.once("data", () => child.stdout.destroy());
    const [code] = (await once(child, "close")) as [number];
    expect({ code, error }).toEqual({ code: 0, error: "" });
  });

  test("a jack is found by the want that stands there, whatever the case", async () => {
    const { code, out } = await headless("trace", DEMO, "--jack", "DELAY LEFT");
    expect(code).toBe(0);
    expect(out).toContain("Delay tower Out 1: arrives");
  });
});

describe("owners", () => {
  test("the stage-left box is shared by three consoles, each with a block of its own", async () => {
    const { blocks } = await json<OwnersReport>("owners-1", "owners", DEMO);
    const box = blocks.filter(({ device }) => device === "Stage left");
    expect(
      box.map(({ first, last, owners, state }) => `${first}–${last} ${owners.join()}: ${state}`),
    ).toEqual(["1–8 Front of house: one owner", "9–12 Monitors: one owner", "13–16 Truck: one owner"]);
  });

  test("a block that is lost is told as unfed", async () => {
    const { blocks } = await json<OwnersReport>("owners-1", "owners", FAULTS);
    const ears = blocks.filter(({ device }) => device === "Ears rack");
    expect(ears.map(({ state }) => state)).toEqual(["one owner", "unfed"]);
  });
});

describe("findings", () => {
  test("the demo has no error and no warning, and says so with exit code 0", async () => {
    const { findings } = await json<FindingsReport>("findings-1", "findings", DEMO);
    expect(findings.filter(({ severity }) => severity !== "note")).toEqual([]);
    expect((await headless("findings", DEMO)).code).toBe(0);
  });

  test("each of the eight planted faults is one error, there is no other, and the exit code is 1", async () => {
    const { findings } = await json<FindingsReport>("findings-1", "findings", FAULTS);
    const errors = findings.filter(({ severity }) => severity === "error");
    const planted: readonly RegExp[] = [
      /8 feeds are dark: nothing assigned at Front of house Link 1 out 41–48/,
      /4 feeds are dark: not plugged at Stage interface Coax in 1–4/,
      /16 feeds are dark: slot beyond the link's slots at Recorder Coax in 33–48/,
      /L9.*44\.1 kHz|44\.1 kHz.*L9/,
      /4 feeds are dark: not wired in this mode at Loudspeaker processor Out 5–8/,
      /loop: Front of house Link 2 in 41/,
      /2 feeds are wanted on Stage left Out 9/,
      /Cable P1 is 15 m too long/,
    ];
    for (const pattern of planted) {
      const matching = errors.filter(({ title, reason }) => pattern.test(`${title} ${reason}`));
      expect(matching, String(pattern)).toHaveLength(1);
    }
    expect(errors).toHaveLength(planted.length);
    expect((await headless("findings", FAULTS)).code).toBe(1);
  });
});

describe("--at", () => {
  const at = (...words: string[]): readonly string[] => words.flatMap((word) => ["--at", word]);

  test("monitors' second block is dark without front of house, and the report says at what it was taken", async () => {
    const call = ["trace", DEMO, "--jack", "Band A Out 3", ...at("off:Front of house")];
    const { at: taken, traces } = await json<TracesReport>("trace-1", ...call);
    expect(taken).toEqual({ off: ["Front of house"], pulled: [] });
    expect(traces[0]).toMatchObject({ verdict: "off", reason: "Front of house is off" });
    const { out } = await headless(...call);
    expect(out).toMatch(/^At: Front of house off\n\nBand A Out 3: device off or cable pulled\n/);
  });

  test("a report of the show as it is says nothing of it", async () => {
    expect(await json<TracesReport>("trace-1", "trace", DEMO, "--all")).not.toHaveProperty("at");
  });

  test("without the truck's cable its block of the stage-left box is unfed, the others' stand", async () => {
    const report = await json<OwnersReport>("owners-1", "owners", DEMO, ...at("pulled:L9", "off:truck"));
    expect(report.at).toEqual({ off: ["Truck"], pulled: ["L9"] });
    const box = report.blocks.filter(({ device }) => device === "Stage left");
    expect(box.map(({ first, state }) => `${first} ${state}`)).toEqual([
      "1 one owner",
      "9 one owner",
      "13 unfed",
    ]);
  });

  test("findings are those of the rig so changed, and so is the exit code", async () => {
    const report = await json<FindingsReport>("findings-1", "findings", DEMO, ...at("L7"));
    expect(report.at).toEqual({ off: [], pulled: ["L7"] });
    expect(report.findings.some(({ reason }) => reason.startsWith("Cable L7 is pulled."))).toBe(true);
    expect((await headless("findings", DEMO, ...at("L7"))).code).toBe(1);
  });
});

describe("compare delays", () => {
  const PAIR = ["Front of house Local out 1", "Stage left Out 1"] as const;
  const delayOf = async (jack: string): Promise<number> =>
    (await json<TracesReport>("trace-1", "trace", DEMO, "--jack", jack)).traces[0]!.delayMs;

  test("two jacks: the later one's lag as time, samples, way of sound and first null", async () => {
    const report = await json<DelaysReport>("compare-delays-1", "compare", "delays", DEMO, ...PAIR);
    const [first, second] = [await delayOf(PAIR[0]), await delayOf(PAIR[1])];
    const later = second - first;
    expect(later).toBeGreaterThan(0.05);
    expect(report).toMatchObject({ celsius: 20, sampleRate: 48000 });
    expect(report.jacks.map(({ label, delayMs }) => [label, delayMs])).toEqual([
      [PAIR[0], first],
      [PAIR[1], second],
    ]);
    const { difference } = report;
    expect(difference).toMatchObject({ first: PAIR[0], second: PAIR[1], together: false });
    expect(difference!.laterMs).toBeCloseTo(later, 6);
    expect(difference!.samples).toBeCloseTo(later * 48, 2);
    // 343.2 m/s at 20 °C: textbook. The first null of a sum lies at 1 / (2t): handbooks of acoustics.
    expect(difference!.metres).toBeCloseTo((later / 1000) * 343.2, 3);
    expect(difference!.firstNullHz).toBeCloseTo(1000 / (2 * later), 0);
    expect(report.spreadMs).toBeCloseTo(later, 6);
  });

  test("colder air is slower: 318.9 m/s at -20 °C (textbook), and a number below zero is no option", async () => {
    const call = ["compare", "delays", DEMO, ...PAIR, "--celsius", "-20"];
    const { celsius, difference } = await json<DelaysReport>("compare-delays-1", ...call);
    expect(celsius).toBe(-20);
    expect(difference!.metres).toBeCloseTo((difference!.laterMs / 1000) * 318.9, 3);
    const { code, out } = await headless(...call);
    expect(code).toBe(0);
    expect(out).toMatch(
      /^Delays, each counted from the tap or source that each trace ends at; samples at 48 kHz, air at -20 °C\n/,
    );
    expect(out).toMatch(/\nStage left Out 1 arrives after Front of house Local out 1: 0\.\d+ ms, /);
  });

  test("more than two stand in the order of arrival; what is dark stands last, with its verdict", async () => {
    const jacks = ["Band A Out 3", ...PAIR.toReversed()];
    const call = ["compare", "delays", DEMO, ...jacks, "--at", "off:Monitors"];
    const report = await json<DelaysReport>("compare-delays-1", ...call);
    expect(report.at).toEqual({ off: ["Monitors"], pulled: [] });
    expect(report.jacks.map(({ label, verdict }) => `${label}: ${verdict}`)).toEqual([
      `${PAIR[0]}: arrives`,
      `${PAIR[1]}: arrives`,
      "Band A Out 3: off",
    ]);
    expect(report.jacks[2]).toMatchObject({ delayMs: null, afterMs: null, afterSamples: null });
    expect(report.difference).toBeNull();
    expect((await headless(...call)).out).toContain("\nBand A Out 3: Monitors is off\n");
  });

  test("a group of the show, at the show's temperature", async () => {
    const loaded = loadShow(await readFile(DEMO, "utf8"));
    if (!loaded.ok) throw new Error(loaded.error.message);
    const show = loaded.value;
    const member = (name: string, number: number) => {
      const device = show.devices.find((each) => each.name === name)!;
      return { device: device.id, group: "out" as never, number };
    };
    const members = [member("Stage left", 1), member("Front of house", 1), member("Stage left", 4000)];
    const groups = [
      { id: "g1" as never, name: "Mains", members, within: 0.5 as never },
      { id: "g2" as never, name: "Fills", members: [] },
      { id: "g3" as never, name: "Fills", members: [] },
    ];
    const path = join(folder, "grouped.hopline");
    await writeFile(path, saveShow({ ...show, groups, settings: { ...show.settings, temperature: 35 } }));
    const call = ["compare", "delays", path, "--group"];
    const report = await json<DelaysReport>("compare-delays-1", ...call, "mains");
    expect(report.group).toEqual({ name: "Mains", withinMs: 0.5 });
    expect(report.celsius).toBe(35);
    expect(report.jacks.map(({ label }) => label)).toEqual([...PAIR]);
    expect(report.missing).toEqual([`${members[2]!.device} out 4000`]);
    expect(report.jacks[1]!.afterMs).toBe(report.spreadMs);
    expect((await headless(...call, "Fills")).error).toMatch(/2 groups are called "Fills"; say "g2" or "g3"/);
    expect((await headless(...call, "Main")).error).toMatch(/no group "Main"; nearest: "Mains"/);
  });
});

describe("--at a revision", () => {
  test("the show is as it was, and the report says of which name and date", async () => {
    const loaded = loadShow(await readFile(DEMO, "utf8"));
    if (!loaded.ok) throw new Error(loaded.error.message);
    const marked = markRevision(loaded.value, "B", "2026-11-25", "before the truck left");
    const path = join(folder, "revised.hopline");
    const truckless = marked.cables.filter(({ tag }) => tag !== "L9");
    await writeFile(path, saveShow({ ...marked, cables: truckless }));
    const call = ["trace", path, "--jack", "Truck box Out 8"];
    expect((await json<TracesReport>("trace-1", ...call)).traces[0]!.verdict).toBe("not-plugged");
    const then = await json<TracesReport>("trace-1", ...call, "--at", "2026-11-25");
    expect(then.at).toEqual({ revision: { name: "B", date: "2026-11-25" }, off: [], pulled: [] });
    expect(then.traces[0]!.verdict).toBe("arrives");
    const both = await headless(...call, "--at", "revision:B", "--at", "pulled:L9");
    expect(both.out).toMatch(
      /^At: revision B, 2026-11-25, cable L9 pulled\n\n.*device off or cable pulled\n/,
    );
    const noted = await headless(...call, "--at", "A");
    expect(noted).toMatchObject({ code: 2, out: "" });
    expect(noted.error).toBe(`hopline: revision "A" is only a note: what the show was isn't in the file\n`);
  });
});

describe("bad calls and bad files get exit code 2 and one line on stderr", () => {
  const refused = async (pattern: RegExp, ...words: string[]): Promise<void> => {
    const { code, out, error } = await headless(...words);
    expect(error).toMatch(pattern);
    expect(error.trimEnd().split("\n")).toHaveLength(1);
    expect({ code, out }).toEqual({ code: 2, out: "" });
  };
  const file = async (name: string, text: string): Promise<string> => {
    const path = join(folder, name);
    await writeFile(path, text);
    return path;
  };

  test.each(["help", "--help", "-h"])("%s tells every verb with what it is for", async (word) => {
    const { code, out, error } = await headless(word);
    expect({ code, error }).toEqual({ code: 0, error: "" });
    for (const verb of ["trace FILE", "owners FILE", "findings FILE", "compare delays FILE", "export FILE"]) {
      expect(out).toMatch(new RegExp(`^  ${verb} .*\n      \\w`, "m"));
    }
  });
  test("no verb", () => refused(/a verb is missing.*trace FILE/));
  test("an unknown verb, with the one that was meant", () =>
    refused(/unknown verb "trase"; did you mean trace\?/, "trase", DEMO));
  test("no file", () => refused(/a file is missing/, "owners"));
  test("two files", () => refused(/one word too many/, "owners", DEMO, FAULTS));
  test("an unknown option", () => refused(/--jsno/, "owners", DEMO, "--jsno"));
  test("an option of another verb", () => refused(/--jack/, "owners", DEMO, "--jack", "x"));
  test("trace without saying of what", () =>
    refused(/one of --jack NAME, --source NAME and --all/, "trace", DEMO));
  test("trace of two things", () => refused(/one of/, "trace", DEMO, "--all", "--jack", "Stage left Out 1"));
  test("one option twice, of which only one value could count", () =>
    refused(
      /--jack stands there twice/,
      "trace",
      DEMO,
      "--jack",
      "Stage left Out 1",
      "--jack",
      "Stage left Out 2",
    ));
  test("an unknown jack, with the nearest ones", () =>
    refused(
      /no jack "Stage lef out 9"; nearest: "Stage left Out 9"/,
      "trace",
      DEMO,
      "--jack",
      "Stage lef out 9",
    ));
  test("an unknown source, with the nearest ones", () =>
    refused(/no source "Violn 1"; nearest: "Violin 1"/, "trace", DEMO, "--source", "Violn 1"));
  test("--at something unknown, with the nearest names", () =>
    refused(
      /no device, cable or revision "Stage lef"; nearest: "off:Stage left"/,
      "owners",
      DEMO,
      "--at",
      "Stage lef",
    ));
  test("--at something with another word before it", () =>
    refused(/no cable "Stage left"/, "findings", DEMO, "--at", "pulled:Stage left"));
  test("--at a name that a device and a cable have", async () => {
    const text = (await readFile(DEMO, "utf8")).replaceAll('"name":"Truck"', '"name":"L9"');
    await refused(
      /"L9" is a device and a cable; say "off:L9" or "pulled:L9"/,
      "owners",
      await file("both.hopline", text),
      "--at",
      "L9",
    );
  });
  test.each<readonly [line: RegExp, words: readonly string[]]>([
    [/unknown verb "compare"; did you mean compare delays\?/, ["compare"]],
    [/two jacks or more/, ["compare", "delays", DEMO, "Stage left Out 1"]],
    [/all these are one/, ["compare", "delays", DEMO, "Stage left Out 1", "stage left out 1"]],
    [/not both/, ["compare", "delays", DEMO, "Stage left Out 1", "--group", "Mains"]],
    [/no group "Mains"/, ["compare", "delays", DEMO, "--group", "Mains"]],
    [/no jack "Nowhere"/, ["compare", "delays", DEMO, "Stage left Out 1", "Nowhere"]],
    [/degrees from -60 to 60, not "warm"/, ["compare", "delays", DEMO, "--group", "x", "--celsius", "warm"]],
    [/degrees from -60 to 60, not "99"/, ["compare", "delays", DEMO, "--group", "x", "--celsius", "99"]],
  ])("%s", (line, words) => refused(line, ...words));
  test("a missing file", () => refused(/gone\.hopline.*not there/, "owners", join(folder, "gone.hopline")));
  test("a folder", () => refused(/folder|not a file/, "owners", ROOT));
  test("not JSON, with line and column", async () =>
    refused(/not JSON.*line 2, column 3/, "owners", await file("broken.hopline", "{\n  oops")));
  test("JSON that is no show", async () =>
    refused(/not a show/, "owners", await file("other.hopline", "{}")));
  test("a newer version", async () => {
    const text = (await readFile(DEMO, "utf8")).replace('"version": 1', '"version": 7');
    await refused(/newer Hopline.*version 7/, "owners", await file("newer.hopline", text));
  });
  test("against the schema, with the path", async () => {
    const text = (await readFile(DEMO, "utf8")).replace('"sampleRate":48000', '"sampleRate":47000');
    await refused(/settings\.sampleRate: must be one of/, "owners", await file("schema.hopline", text));
  });
});
