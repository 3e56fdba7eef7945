/** The rig laid out anew, as one step. */
import { toast } from "sonner";
import type { ElkNode } from "elkjs/lib/elk-api.js";
import { tidied, tidyTask, type DeviceId, type Point, type TidyTask } from "#engine";
import { app } from "../state/store.ts";
import { step } from "./build.ts";
import { chosenDevices } from "./chosen.ts";
import { layOut } from "./lay-out.ts";
import { bringIntoSight } from "./stage.ts";

/** Cables leave from left and right, so a rig reads from its consoles rightwards. */
const LAYERED = {
  "elk.algorithm": "layered",
  "elk.direction": "RIGHT",
  "elk.hierarchyHandling": "INCLUDE_CHILDREN",
  "elk.randomSeed": "1",
  "elk.layered.spacing.nodeNodeBetweenLayers": "140",
  "elk.spacing.nodeNode": "50",
  "elk.spacing.componentComponent": "80",
  "elk.aspectRatio": "1.6",
};
/** A place keeps this around its devices; its name stands above them. */
const IN_PLACE = {
  "elk.padding": "[top=70,left=40,bottom=40,right=40]",
  "elk.layered.spacing.nodeNodeBetweenLayers": "110",
  "elk.spacing.nodeNode": "50",
};

export function graphOf({ places, wires }: TidyTask): ElkNode {
  return {
    id: "rig",
    layoutOptions: LAYERED,
    children: places.map(({ id, devices }) => ({
      id: `place ${id}`,
      layoutOptions: IN_PLACE,
      children: devices.map(({ id: device, width, height }) => ({ id: `device ${device}`, width, height })),
    })),
    edges: wires.map(({ id, from, to }) => ({
      id: `cable ${id}`,
      sources: [`device ${from}`],
      targets: [`device ${to}`],
    })),
  };
}

/** Where the layout puts the devices, the whole moved so that its corner is where the rig's was. */
export function spotsOf(laid: ElkNode, { places, at }: TidyTask): ReadonlyMap<DeviceId, Point> {
  const spots = new Map<DeviceId, Point>();
  for (const [n, { devices }] of places.entries()) {
    const area = laid.children?.[n];
    for (const [k, { id }] of devices.entries()) {
      const node = area?.children?.[k];
      spots.set(id, { x: (area?.x ?? 0) + (node?.x ?? 0), y: (area?.y ?? 0) + (node?.y ?? 0) });
    }
  }
  const left = Math.min(...[...spots.values()].map(({ x }) => x));
  const top = Math.min(...[...spots.values()].map(({ y }) => y));
  return new Map([...spots].map(([id, { x, y }]) => [id, { x: x - left + at.x, y: y - top + at.y }]));
}

/** What takes longer than this says that it is at work, and can be called off. */
const SOON_MS = 500;

/** The one that is at work. */
let working: AbortController | null = null;

/** Of the chosen devices where there are two or more, else of the whole rig. */
export async function tidy(): Promise<void> {
  const { show } = app.getState();
  const gathered = chosenDevices();
  const devices = gathered.length > 1 ? gathered : [];
  const task = tidyTask(show, devices);
  if (task.places.length === 0) return;
  working?.abort();
  const own = (working = new AbortController());
  const stop = tellWhenLate(own);
  const laid = await layOut(graphOf(task), own.signal).finally(() => {
    stop();
    if (working === own) working = null;
  });
  if (!laid) return;
  // What was edited meanwhile is newer than this layout.
  const now = app.getState().show;
  if (now.devices !== show.devices || now.places !== show.places || now.cables !== show.cables) {
    toast("The rig was changed meanwhile, so it was left as it stands.");
    return;
  }
  const spots = spotsOf(laid, task);
  step(
    tidied(now, devices, spots),
    devices.length > 0 ? `tidying ${devices.length} devices` : "tidying up the rig",
  );
  bringIntoSight(devices.length > 0 ? devices : show.devices.map(({ id }) => id));
}

/** Value: takes back what it has said. */
function tellWhenLate(work: AbortController): () => void {
  let told: string | number | null = null;
  const late = setTimeout(() => {
    told = toast.loading("Tidying up…", {
      duration: Infinity,
      action: { label: "Cancel", onClick: () => work.abort() },
    });
  }, SOON_MS);
  return () => {
    clearTimeout(late);
    if (told !== null) toast.dismiss(told);
  };
}
