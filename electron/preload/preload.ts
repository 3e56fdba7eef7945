/** Runs before the page, in a world of its own, and gives the page the host and nothing else. */
import { contextBridge, ipcRenderer } from "electron";
import { HOST_GLOBAL } from "#engine/exchange/host-api.ts";
import { createBridge } from "./host-bridge.ts";

contextBridge.exposeInMainWorld(HOST_GLOBAL, createBridge(ipcRenderer));
