/** The native menu, from the entries that the page's command records make. */
import type { MenuItemConstructorOptions } from "electron";
import { never } from "#engine/model/result.ts";
import type { MenuEntry } from "#engine";

export interface MenuOptions {
  readonly platform: NodeJS.Platform;
  readonly onCommand: (id: string) => void;
}

export function menuTemplate(
  entries: readonly MenuEntry[],
  { platform, onCommand }: MenuOptions,
): MenuItemConstructorOptions[] {
  const own = entries.map((entry) => item(entry, onCommand));
  if (platform !== "darwin") return own;
  const taken = new Set(entries.flatMap(acceleratorsIn));
  return [{ role: "appMenu" }, ...own.map((menu) => withTextRoles(menu, taken)), { role: "windowMenu" }];
}

function item(entry: MenuEntry, onCommand: (id: string) => void): MenuItemConstructorOptions {
  switch (entry.kind) {
    case "separator":
      return { type: "separator" };
    case "submenu":
      return { label: escaped(entry.label), submenu: entry.entries.map((inner) => item(inner, onCommand)) };
    case "command": {
      const keys = accelerator(entry.keys);
      return {
        label: escaped(entry.label),
        enabled: entry.enabled,
        click: () => onCommand(entry.id),
        // Shown only: the page hears its keys itself, and twice would be twice.
        ...(keys === undefined ? {} : { accelerator: keys, registerAccelerator: false }),
      };
    }
    default:
      return never(entry);
  }
}

/** A single `&` would underline the next letter and vanish. */
const escaped = (label: string): string => label.replaceAll("&", "&&");

const MODIFIERS: Readonly<Record<string, string>> = {
  mod: "CommandOrControl",
  ctrl: "Control",
  control: "Control",
  cmd: "Command",
  meta: "Super",
  alt: "Alt",
  option: "Alt",
  shift: "Shift",
};

const KEYS: Readonly<Record<string, string>> = {
  arrowup: "Up",
  arrowdown: "Down",
  arrowleft: "Left",
  arrowright: "Right",
  up: "Up",
  down: "Down",
  left: "Left",
  right: "Right",
  backspace: "Backspace",
  del: "Delete",
  delete: "Delete",
  enter: "Enter",
  esc: "Escape",
  escape: "Escape",
  home: "Home",
  end: "End",
  pageup: "PageUp",
  pagedown: "PageDown",
  space: "Space",
  tab: "Tab",
  plus: "Plus",
};

/**
 * `Mod+Shift+S` as Electron writes it. Undefined where there is none: a key without a modifier would be taken from the
 * text fields on macOS, and Electron throws on a key that it doesn't know.
 */
export function accelerator(keys: string): string | undefined {
  const parts = keys
    .replace(/\+\+$/, "+plus")
    .split("+")
    .map((part) => part.trim().toLowerCase());
  const key = parts.pop() ?? "";
  const modifiers = parts.map((part) => MODIFIERS[part]);
  const named =
    KEYS[key] ??
    (/^(f([1-9]|1\d|2[0-4])|[a-z0-9]|[-=,./;'[\]\\`])$/.test(key) ? key.toUpperCase() : undefined);
  if (named === undefined || modifiers.includes(undefined)) return undefined;
  const holdsModifier = modifiers.some((modifier) => modifier !== "Shift");
  return holdsModifier || /^F\d+$/.test(named) ? [...modifiers, named].join("+") : undefined;
}

function acceleratorsIn(entry: MenuEntry): readonly string[] {
  if (entry.kind === "separator") return [];
  if (entry.kind === "submenu") return entry.entries.flatMap(acceleratorsIn);
  const keys = accelerator(entry.keys);
  return keys === undefined ? [] : [keys];
}

/** macOS gives text fields their copy and paste through menu items only; those the page lacks are added. */
const TEXT_ROLES = [
  { role: "cut", keys: "CommandOrControl+X" },
  { role: "copy", keys: "CommandOrControl+C" },
  { role: "paste", keys: "CommandOrControl+V" },
  { role: "selectAll", keys: "CommandOrControl+A" },
] as const;

function withTextRoles(
  menu: MenuItemConstructorOptions,
  taken: ReadonlySet<string>,
): MenuItemConstructorOptions {
  if (menu.label !== "Edit" || !Array.isArray(menu.submenu)) return menu;
  const roles = TEXT_ROLES.filter(({ keys }) => !taken.has(keys)).map(({ role }) => ({ role }));
  return { ...menu, submenu: [...menu.submenu, { type: "separator" as const }, ...roles] };
}
