/** The demo show with eight faults planted, each named in the show's notes in the order of this list. */
import { id, metres, type Device, type Show } from "#engine";
import { at } from "./rig.ts";

interface PlantedFault {
  readonly note: string;
  readonly plant: (show: Show) => Show;
}

const onDevice = (show: Show, key: string, change: (device: Device) => Device): Show => ({
  ...show,
  devices: show.devices.map((device) => (device.id === key ? change(device) : device)),
});

const without = (show: Show, key: string, to: string, first: number): Show =>
  onDevice(show, key, (device) => ({
    ...device,
    routing: device.routing.filter((setting) => !(setting.to.group === to && setting.to.first === first)),
  }));

export const FAULTS: readonly PlantedFault[] = [
  {
    note: "Front of house no longer hands monitors' second block on: link 1 out 41–48 is empty, so ears 5–8 are dark.",
    plant: (show) => without(show, "foh", "link1", 41),
  },
  {
    note: "The truck's coax to the stage (C2) is not plugged, so its four feeds on the stage-left box are dark.",
    plant: (show) => ({ ...show, cables: show.cables.filter(({ tag }) => tag !== "C2") }),
  },
  {
    note: "Recorder and recording interface stand at 96 kHz: the coax then has 32 slots, and tracks 33–48 are lost.",
    plant: (show) =>
      ["if-rec", "rec"].reduce(
        (changed, key) => onDevice(changed, key, (device) => ({ ...device, sampleRate: 96000 })),
        show,
      ),
  },
  {
    note: "The truck box stands at 44.1 kHz while the truck runs at 48 kHz.",
    plant: (show) => onDevice(show, "tb", (device) => ({ ...device, sampleRate: 44100 })),
  },
  {
    note: "The loudspeaker processor is in the mode that takes inputs 1–4 only; front fills and out fills are dark.",
    plant: (show) => onDevice(show, "proc", (device) => ({ ...device, mode: id("four") })),
  },
  {
    note: "Front of house and monitors send link slots 41–48 of their tie back to each other: a loop.",
    plant: (show) =>
      ["foh", "mon"].reduce(
        (changed, key) =>
          onDevice(changed, key, (device) => ({
            ...device,
            routing: [
              ...device.routing,
              { to: { group: id("link2"), first: 41 }, from: { group: id("link2"), first: 41 }, count: 8 },
            ],
          })),
        show,
      ),
  },
  {
    note: "Stage left out 9 is wanted twice: for wedge 1 and for a spare wedge.",
    plant: (show) => ({
      ...show,
      wants: [...show.wants, { id: id("want-spare"), name: "Spare wedge", to: at("sl", "out", 9) }],
    }),
  },
  {
    note: "The monitor bus to the ears rack (P1) is 90 m long; 75 m is the longest.",
    plant: (show) => ({
      ...show,
      cables: show.cables.map((cable) =>
        cable.tag === "P1" ? { ...cable, length: metres(90) } : cable,
      ) as Show["cables"],
    }),
  },
];

export function withFaults(show: Show): Show {
  const notes = FAULTS.map(({ note }, n) => `${n + 1}. ${note}`).join("\n");
  const planted = FAULTS.reduce((changed, fault) => fault.plant(changed), show);
  return {
    ...planted,
    id: id("quayside-faults"),
    title: `${show.title}, with eight faults`,
    notes: `${show.notes}\n\nEight faults are planted:\n${notes}`,
  };
}
