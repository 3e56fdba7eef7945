/** A bug in drawing must not cost the document: a copy is kept, and the user is told how to go on. */
import { Component, type ReactNode } from "react";

interface Props {
  /** Writes the recovery copy; says whether it is safe. */
  readonly keep: () => Promise<boolean>;
  readonly children: ReactNode;
}

interface State {
  readonly failed: boolean;
  readonly kept: boolean | null;
  readonly what: string;
}

export class ErrorBoundary extends Component<Props, State> {
  override state: State = { failed: false, kept: null, what: "" };

  static getDerivedStateFromError(error: unknown): Partial<State> {
    return { failed: true, what: error instanceof Error ? error.message : String(error) };
  }

  override componentDidCatch(error: unknown): void {
    console.error(error);
    void this.props.keep().then(
      (kept) => this.setState({ kept }),
      () => this.setState({ kept: false }),
    );
  }

  override render(): ReactNode {
    const { failed, kept, what } = this.state;
    if (!failed) return this.props.children;
    return (
      <main className="failure" role="alert">
        <h1>Something in Hopline went wrong</h1>
        <p>
          {kept === null
            ? "A copy of your show is being kept…"
            : kept
              ? "Your show is safe. Load the window again: unsaved changes are offered back."
              : "A copy of the unsaved changes could not be kept. The show’s file is as it was last saved."}
        </p>
        <p className="soft">What went wrong: {what}</p>
        <button
          type="button"
          className="button main"
          disabled={kept === null}
          onClick={() => location.reload()}
        >
          Load the window again
        </button>
      </main>
    );
  }
}
