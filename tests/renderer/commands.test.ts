import { describe, expect, test } from "vitest";
import {
  COMMANDS,
  groupsOf,
  labelOf,
  menuEntries,
  MENUS,
  stateNow,
} from "../../renderer/commands/commands.ts";
import { chordLabel, matches } from "../../renderer/commands/keys.ts";

const press = (key: string, held: readonly string[] = [], code = "") => ({
  key,
  code,
  ctrlKey: held.includes("ctrl"),
  metaKey: held.includes("meta"),
  altKey: held.includes("alt"),
  shiftKey: held.includes("shift"),
});

describe("command records", () => {
  test("ids are unique", () => {
    expect(new Set(COMMANDS.map(({ id }) => id)).size).toBe(COMMANDS.length);
  });

  test("no two commands share a key", () => {
    const chords = COMMANDS.flatMap(({ keys }) => keys ?? []);
    expect(new Set(chords).size).toBe(chords.length);
  });

  test("the menus hold every command once", () => {
    const inMenus = MENUS.flatMap((menu) => groupsOf(menu).flat());
    expect([...inMenus].map(({ id }) => id).sort()).toEqual(COMMANDS.map(({ id }) => id).sort());
  });

  test("a host's menu says the same as the records", () => {
    const state = stateNow();
    const entries = menuEntries(state).flatMap((entry) => (entry.kind === "submenu" ? entry.entries : []));
    const shown = entries.flatMap((entry) => (entry.kind === "command" ? [[entry.id, entry.label]] : []));
    expect(shown.sort()).toEqual(COMMANDS.map((command) => [command.id, labelOf(command, state)]).sort());
  });
});

describe("keys", () => {
  test.each([
    ["Mod+S", press("s", ["ctrl"]), false, true],
    ["Mod+S", press("s", ["meta"]), true, true],
    ["Mod+S", press("s", ["ctrl"]), true, false],
    ["Mod+S", press("S", ["ctrl", "shift"]), false, false],
    ["Mod+Shift+S", press("S", ["ctrl", "shift"]), false, true],
    ["Alt+Left", press("ArrowLeft", ["alt"]), false, true],
    ["Alt+1", press("¡", ["alt"], "Digit1"), true, true],
    ["Mod+Z", press("z"), false, false],
    ["F8", press("F8"), false, true],
    ["Esc", press("Escape"), false, true],
  ])("%s against %o, Mac %s: %s", (chord, key, mac, fits) => {
    expect(matches(chord, key, mac)).toBe(fits);
  });

  test("are shown as the platform shows them", () => {
    expect(chordLabel("Mod+Shift+S", false)).toBe("Ctrl+Shift+S");
    expect(chordLabel("Mod+Shift+S", true)).toBe("⇧⌘S");
    expect(chordLabel("Alt+Left", false)).toBe("Alt+←");
  });
});
