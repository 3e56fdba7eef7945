/** The part of Node's file system that the services use. Tests put one in its place that fails on purpose. */
import { promises } from "node:fs";

export type FileSystem = Pick<
  typeof promises,
  "access" | "lstat" | "mkdir" | "open" | "readdir" | "readFile" | "realpath" | "rename" | "stat" | "unlink"
>;

export const nodeFileSystem: FileSystem = promises;

/** The time, and waiting; tests put one in its place that doesn't wait. */
export interface Clock {
  now(): number;
  wait(milliseconds: number): Promise<void>;
}

export const systemClock: Clock = {
  now: () => Date.now(),
  wait: (milliseconds) => new Promise((resolve) => setTimeout(resolve, milliseconds)),
};
