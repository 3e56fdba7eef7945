/**
 * The port of the last run, taken again where it is free: a browser keeps what the page remembers (the colour scheme,
 * the open panel) by origin, and the port is part of that.
 */
import { promises as fs } from "node:fs";
import { join } from "node:path";

const fileIn = (data: string): string => join(data, "port");

/** 0, which takes a free one, where none is remembered. */
export async function rememberedPort(data: string): Promise<number> {
  const port = Number(await fs.readFile(fileIn(data), "utf8").catch(() => "0"));
  return Number.isInteger(port) && port >= 1024 && port <= 65_535 ? port : 0;
}

/** A convenience: where it can't be written, the next run takes another port. */
export async function rememberPort(data: string, port: number): Promise<void> {
  try {
    await fs.mkdir(data, { recursive: true });
    await fs.writeFile(fileIn(data), String(port));
  } catch {
    // Told nowhere, since nothing is lost that the user would miss.
  }
}
