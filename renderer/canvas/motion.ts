/** How long the canvas takes to get somewhere: no time at all for who asked their system for less motion. */
export const glide = (milliseconds: number): { readonly duration: number } => ({
  duration: globalThis.matchMedia?.("(prefers-reduced-motion: reduce)").matches ? 0 : milliseconds,
});
