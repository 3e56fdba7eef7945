/** What the system says of a failed file operation, in the user's words. */
import { basename } from "node:path";
import type { HostError, HostErrorCode } from "#engine";

export const hostError = (code: HostErrorCode, message: string): HostError => ({ code, message });

/** The error code that Node gives a failed system call, such as `ENOENT`. */
export function systemCode(error: unknown): string {
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  return typeof code === "string" ? code : "";
}

export const quoted = (path: string): string => `“${basename(path)}”`;

/** Why a file could not be read. */
export function readFailure(path: string, error: unknown): HostError {
  const name = quoted(path);
  switch (systemCode(error)) {
    case "ENOENT":
    case "ENOTDIR":
      return hostError(
        "not-found",
        `${name} is not there (${path}). It may have been moved, renamed or deleted; choose it again.`,
      );
    case "EACCES":
    case "EPERM":
      return hostError("not-readable", `${name} can't be opened: you have no permission to read it.`);
    case "EISDIR":
      return hostError("not-a-file", `${name} is a folder; choose a file.`);
    case "ENAMETOOLONG":
      return hostError("not-found", `The name is too long for the disk: ${name}. Use a shorter one.`);
    case "ELOOP":
      return hostError("not-found", `${name} is a link that leads back to itself; choose the file itself.`);
    default:
      return hostError(
        "not-readable",
        `${name} can't be read (${describe(error)}). If it's on a stick or a network disk, check the connection, then try again.`,
      );
  }
}

/** Why a file could not be written. Says first that it was not saved: that is what the user has to know. */
export function writeFailure(path: string, error: unknown): HostError {
  const name = quoted(path);
  switch (systemCode(error)) {
    case "ENOSPC":
    case "EDQUOT":
      return hostError(
        "disk-full",
        `${name} was not saved: disk full. Free some space, or save it to another disk.`,
      );
    case "EROFS":
      return hostError(
        "read-only",
        `${name} was not saved: the disk is read-only. Choose Save as and another place.`,
      );
    case "EACCES":
    case "EPERM":
      return hostError(
        "not-writable",
        `${name} was not saved: you have no permission to write there. Choose Save as and another place.`,
      );
    case "EBUSY":
      return hostError(
        "not-writable",
        `${name} was not saved: another program holds it open. Close it there, then save again.`,
      );
    case "ENOENT":
    case "ENOTDIR":
      return hostError(
        "not-found",
        `${name} was not saved: its folder is not there any more. Choose Save as and another place.`,
      );
    case "EISDIR":
      return hostError(
        "not-a-file",
        `${name} was not saved: there is a folder of that name. Use another name.`,
      );
    case "ENAMETOOLONG":
      return hostError(
        "not-writable",
        `${name} was not saved: the name is too long for the disk. Use a shorter one.`,
      );
    default:
      return hostError(
        "failed",
        `${name} was not saved (${describe(error)}). Try again, or save it to another place.`,
      );
  }
}

const describe = (error: unknown): string => (error instanceof Error ? error.message : String(error));
