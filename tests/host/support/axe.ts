/**
 * axe-core's rules for WCAG 2.2, A and AA, on what a page shows. Outside help: `@axe-core/playwright`.
 */
import { AxeBuilder } from "@axe-core/playwright";
import type { Page } from "playwright";

interface Looks {
  /** Contrast and nothing else, where names, roles and keys were looked at before. */
  readonly colours?: boolean;
  /** Parts that are left out, as selectors. */
  readonly without?: readonly string[];
}

/** One line for each thing that a rule finds wrong. */
export async function axeFaults(
  page: Page,
  { colours = false, without = [] }: Looks = {},
): Promise<readonly string[]> {
  // What passed isn't told, and no second page is opened to gather frames, of which the app has none: a third of the time.
  let axe = new AxeBuilder({ page }).setLegacyMode(true).options({ resultTypes: ["violations"] });
  axe = colours
    ? axe.withRules(["color-contrast"])
    : axe.withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]);
  for (const selector of without) axe = axe.exclude(selector);
  const { violations } = await axe.analyze();
  return violations.flatMap(({ id, nodes }) =>
    nodes.map(({ target, failureSummary = "" }) => {
      const why = failureSummary.split("\n").slice(1, 2).join("").trim();
      return `${id} at ${target.join(" ")}: ${why}`;
    }),
  );
}
