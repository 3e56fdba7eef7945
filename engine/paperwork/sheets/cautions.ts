/** What stands at the head of every paper that somebody re-patches or checks lines from. */
export const CAUTIONS: readonly string[] = [
  "Before you change what feeds an output: mute it and turn it down, take in-ears out of ears. Bring it up slowly.",
  "Never defeat a protective earth to cure hum. Mains, rigging and hearing limits follow local codes and a competent person.",
  "This is a plan. It doesn’t say that the rig is safe.",
];
