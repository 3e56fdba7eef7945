/** How calls travel between the browser host's page and its server: JSON, with bytes in base64. */

/** Header that carries the session's token. A header that a foreign page can't set without being asked first. */
export const TOKEN_HEADER = "x-hopline-token";
export const SESSION_PATH = "/api/session";
export const PRESENCE_PATH = "/api/presence";
export const CALL_PATH = "/api/call/";

/** Largest request: an export's bytes in base64, or a show's text with its quotes escaped, with room to spare. */
export const MAX_BODY_BYTES = 160 * 1024 * 1024;

const BYTES_KEY = "$bytes";

export const encode = (value: unknown): string =>
  JSON.stringify(value, (_key, inner: unknown) =>
    inner instanceof Uint8Array ? { [BYTES_KEY]: toBase64(inner) } : inner,
  );

/** Throws where the text is not JSON. */
export const decode = (text: string): unknown =>
  JSON.parse(text, (_key, inner: unknown) => {
    if (typeof inner !== "object" || inner === null || !Object.hasOwn(inner, BYTES_KEY)) return inner;
    const base64 = (inner as Record<string, unknown>)[BYTES_KEY];
    return typeof base64 === "string" && Object.keys(inner).length === 1 ? fromBase64(base64) : inner;
  });

/** In pieces, since a call takes only so many arguments. */
function toBase64(bytes: Uint8Array): string {
  let binary = "";
  for (let at = 0; at < bytes.length; at += 0x8000) {
    binary += String.fromCharCode(...bytes.subarray(at, at + 0x8000));
  }
  return btoa(binary);
}

function fromBase64(base64: string): Uint8Array {
  const binary = atob(base64);
  return Uint8Array.from(binary, (character) => character.charCodeAt(0));
}
