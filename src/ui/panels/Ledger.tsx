import { type ReactNode, useId } from 'react';

interface LedgerProps {
  readonly title?: string;
  /** A word at the right of the title: where the numbers hold. */
  readonly aside?: string;
  readonly stale?: boolean;
  readonly children: ReactNode;
}

/** Rows of label, value and a word beside it, parted by hairlines. */
export function Ledger({ title, aside, stale = false, children }: LedgerProps) {
  const id = useId();
  return (
    <section className={stale ? 'ledger stale' : 'ledger'} aria-labelledby={title === undefined ? undefined : id}>
      {title !== undefined && (
        <h3 className="ledger-title" id={id}>
          {title}
          {aside !== undefined && <span className="aside">{aside}</span>}
        </h3>
      )}
      {children}
    </section>
  );
}

interface RowProps {
  readonly label: ReactNode;
  readonly children: ReactNode;
  readonly aside?: ReactNode;
  /** Words rather than a number: they take the room of the aside too. */
  readonly wide?: boolean;
}

/** A row whose value is only read. */
export function Row({ label, children, aside, wide = false }: RowProps) {
  return (
    <div className="row">
      <span className="row-label">{label}</span>
      <span className={wide ? 'row-value wide' : 'row-value'}>{children}</span>
      {aside !== undefined && aside !== null && <span className="row-aside">{aside}</span>}
    </div>
  );
}
