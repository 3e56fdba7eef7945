/** Stands between the user and the loss of unsaved work: closing, quitting, opening another file over this one. */

export type Answer = "save" | "discard" | "cancel";

export interface Guarded {
  /** Asks the user what to do with the changes. */
  ask(title: string): Promise<Answer>;
  /** Has the page save. Value: whether all is safe on disk. */
  save(): Promise<boolean>;
  /** The user doesn't want the changes, so their recovery copy must not come up at the next start. */
  discard(): Promise<void>;
}

export class CloseGuard {
  readonly #guarded: Guarded;
  #title = "";
  #modified = false;
  #pending: Promise<boolean> | undefined;

  constructor(guarded: Guarded) {
    this.#guarded = guarded;
  }

  follow({ title, modified }: { readonly title: string; readonly modified: boolean }): void {
    this.#title = title;
    this.#modified = modified;
  }

  /** Nothing to lose: no need to ask. */
  get isOpen(): boolean {
    return !this.#modified;
  }

  /** Whether the show may go. A second asking while the first is open is the same asking. */
  mayLeave(): Promise<boolean> {
    this.#pending ??= this.#decide().finally(() => (this.#pending = undefined));
    return this.#pending;
  }

  async #decide(): Promise<boolean> {
    if (!this.#modified) return true;
    switch (await this.#guarded.ask(this.#title)) {
      case "cancel":
        return false;
      case "save":
        return this.#guarded.save();
      case "discard":
        await this.#guarded.discard();
        return true;
    }
  }
}
