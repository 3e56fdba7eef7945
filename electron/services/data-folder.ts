/** Where the app keeps what is its own: the recent list and the recovery copies. One place for both hosts. */
import { homedir } from "node:os";
import { join, resolve } from "node:path";

export interface Surroundings {
  readonly platform: NodeJS.Platform;
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly home: string;
}

const here: Surroundings = { platform: process.platform, env: process.env, home: homedir() };

/** `HOPLINE_DATA` names another place, for a portable copy on a stick and for tests. */
export function dataFolder({ platform, env, home }: Surroundings = here): string {
  const named = env["HOPLINE_DATA"];
  if (named) return resolve(named);
  switch (platform) {
    case "darwin":
      return join(home, "Library", "Application Support", "Hopline");
    case "win32":
      return join(env["APPDATA"] ?? join(home, "AppData", "Roaming"), "Hopline");
    default:
      return join(env["XDG_CONFIG_HOME"] || join(home, ".config"), "Hopline");
  }
}
