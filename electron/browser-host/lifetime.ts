/** How long the browser host lives, told by the pages that are open. */

/** A reload or a crashed tab comes back within this time; so does a user who closed the wrong window. */
export const LAST_PAGE_GRACE_MS = 60_000;
/** A reload is over sooner than this, and no reason to print another address. */
export const RELOAD_MS = 5_000;

export interface LifetimeOptions {
  readonly end: () => void;
  /** The address that was printed is used up; prints another. */
  readonly offerAddress: () => void;
}

/**
 * A host that opened its window ends a while after the last page is gone; one that was started for its address stays,
 * and offers a new one. Before the first page nothing happens: it may take its time to come.
 */
export class Lifetime {
  /** The host opened the window itself, so that nobody would miss it once the window is closed. */
  ownsWindow = false;
  readonly #options: LifetimeOptions;
  #pages = 0;
  #timer: NodeJS.Timeout | undefined;

  constructor(options: LifetimeOptions) {
    this.#options = options;
  }

  /** Takes note of how many pages are open now. */
  follow(pages: number): void {
    clearTimeout(this.#timer);
    const lastOneLeft = pages === 0 && this.#pages > 0;
    this.#pages = pages;
    if (!lastOneLeft) return;
    const { end, offerAddress } = this.#options;
    this.#timer = this.ownsWindow ? setTimeout(end, LAST_PAGE_GRACE_MS) : setTimeout(offerAddress, RELOAD_MS);
  }
}
