/** Puts the chosen scheme on the page and keeps the choice for next time. */
import type { Scheme, SchemeChoice } from "../state/contract.ts";
import type { AppStore } from "../state/store.ts";

const REMEMBERED = "hopline.scheme";
const CHOICES: readonly SchemeChoice[] = ["system", "light", "dark", "dim"];

export function schemeFor(choice: SchemeChoice, systemIsDark: boolean): Scheme {
  if (choice !== "system") return choice;
  return systemIsDark ? "dark" : "light";
}

export function followScheme(app: AppStore): void {
  const system = window.matchMedia("(prefers-color-scheme: dark)");
  const put = (): void => {
    document.documentElement.dataset["scheme"] = schemeFor(app.getState().scheme, system.matches);
  };
  const stored = read();
  if (stored) app.getState().setScheme(stored);
  put();
  system.addEventListener("change", put);
  app.subscribe(({ scheme }, before) => {
    if (scheme === before.scheme) return;
    put();
    try {
      localStorage.setItem(REMEMBERED, scheme);
    } catch {
      // Costs the choice of next time and nothing else.
    }
  });
}

function read(): SchemeChoice | undefined {
  try {
    const stored = localStorage.getItem(REMEMBERED);
    return CHOICES.find((choice) => choice === stored);
  } catch {
    return undefined;
  }
}
