import { describe, expect, it } from "vitest";
import type { MenuEntry } from "#engine";
import { accelerator, menuTemplate } from "../../electron/main/menu.ts";

const command = (label: string, keys = "", enabled = true): MenuEntry => ({
  kind: "command",
  id: label.toLowerCase(),
  label,
  keys,
  enabled,
});

const ENTRIES: readonly MenuEntry[] = [
  {
    kind: "submenu",
    label: "File",
    entries: [command("Save", "Mod+S"), { kind: "separator" }, command("Close", "", false)],
  },
  { kind: "submenu", label: "Edit", entries: [command("Undo", "Mod+Z"), command("Copy", "Mod+C")] },
];

const options = (platform: NodeJS.Platform) => ({ platform, onCommand: () => {} });

describe("[H37] the native menu", () => {
  it("is the page's entries, with keys that are shown and not taken", () => {
    expect(menuTemplate(ENTRIES, options("linux"))).toEqual([
      {
        label: "File",
        submenu: [
          {
            label: "Save",
            enabled: true,
            click: expect.any(Function),
            accelerator: "CommandOrControl+S",
            registerAccelerator: false,
          },
          { type: "separator" },
          { label: "Close", enabled: false, click: expect.any(Function) },
        ],
      },
      {
        label: "Edit",
        submenu: [expect.objectContaining({ label: "Undo" }), expect.objectContaining({ label: "Copy" })],
      },
    ]);
  });

  it("has on macOS what that system expects, and text roles that the page lacks", () => {
    const [app, , edit, window] = menuTemplate(ENTRIES, options("darwin"));
    expect([app, window]).toEqual([{ role: "appMenu" }, { role: "windowMenu" }]);
    const roles = (edit?.submenu as { role?: string }[]).map((item) => item.role).filter(Boolean);
    expect(roles).toEqual(["cut", "paste", "selectAll"]);
  });

  it("shows an ampersand as one", () => {
    expect(menuTemplate([command("Save & close")], options("win32"))[0]?.label).toBe("Save && close");
  });
});

describe("[H37] keys", () => {
  it.each([
    ["Mod+S", "CommandOrControl+S"],
    ["mod + shift + z", "CommandOrControl+Shift+Z"],
    ["Ctrl+ArrowUp", "Control+Up"],
    ["Alt+F4", "Alt+F4"],
    ["F2", "F2"],
    ["Mod+0", "CommandOrControl+0"],
    ["Mod++", "CommandOrControl+Plus"],
    ["Mod+-", "CommandOrControl+-"],
    ["Mod+Delete", "CommandOrControl+Delete"],
  ])("%s is %s", (keys, wanted) => {
    expect(accelerator(keys)).toBe(wanted);
  });

  it.each(["", "Delete", "A", "Shift+A", "Space", "Mod+Nonsense", "Hyper+S", "Mod+", "+"])(
    "%j is none: a text field needs it, or Electron doesn't know it",
    (keys) => {
      expect(accelerator(keys)).toBeUndefined();
    },
  );
});
