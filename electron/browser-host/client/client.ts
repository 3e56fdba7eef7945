/** Loaded before the app's own script: puts the host where the app looks for it. */
import { HOST_GLOBAL } from "#engine/exchange/host-api.ts";
import { createHostClient } from "./host-client.ts";

Object.defineProperty(globalThis, HOST_GLOBAL, {
  value: Object.freeze(
    createHostClient({
      location,
      history,
      sessionStorage,
      document,
      fetch: (input, init) => fetch(input, init),
      addEventListener: (type, listener) => window.addEventListener(type, listener),
    }),
  ),
});
