import { Component, type ReactNode } from 'react';

interface Props {
  /** What cannot be shown, as a sentence begins with it. */
  readonly what: string;
  /** Puts what is said instead where it can be read; left out: in the part's own place. */
  readonly frame?: (said: ReactNode) => ReactNode;
  /** Told when it fails, for whoever waits for it. */
  readonly onFail?: () => void;
  /** What the part is about: it is tried again when that changes. */
  readonly about?: unknown;
  readonly children: ReactNode;
}

interface State {
  readonly error: Error | null;
  readonly about: unknown;
}

/**
 * Keeps what goes wrong in one part of the page from taking the rest with it: a part that could not be loaded, or a fault
 * of ours. The floor is not held here, so nothing of it is lost.
 */
export class Guard extends Component<Props, State> {
  override state: State = { error: null, about: this.props.about };

  static getDerivedStateFromProps({ about }: Props, state: State): State | null {
    return Object.is(about, state.about) ? null : { error: null, about };
  }

  static getDerivedStateFromError(error: unknown): Pick<State, 'error'> {
    return { error: error instanceof Error ? error : new Error(String(error)) };
  }

  override componentDidCatch(): void {
    this.props.onFail?.();
  }

  override render(): ReactNode {
    const { error } = this.state;
    if (error === null) return this.props.children;
    const said = (
      <section className="failed" role="alert">
        <p className="say">{this.props.what} cannot be shown. What you have drawn is kept.</p>
        <p className="aside">
          <bdi>{error.message}</bdi>
        </p>
        <button type="button" className="word" onClick={() => location.reload()}>
          Load the page again
        </button>
      </section>
    );
    return this.props.frame?.(said) ?? said;
  }
}
