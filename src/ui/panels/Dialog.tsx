import { type ReactNode, useEffect, useRef } from 'react';
import { closeDialog } from './dialog-state.ts';
import { focusPage, isWriting } from './focus.ts';

interface Props {
  readonly title: string;
  readonly titled?: boolean;
  readonly className?: string;
  readonly children: ReactNode;
}

/** A sheet over the page. The browser keeps the focus in it, Escape closes it, and the focus goes back to where it was. */
export function Dialog({ title, titled = true, className = '', children }: Props) {
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    const before = document.activeElement;
    const element = dialog.current;
    element?.showModal();
    element?.querySelector<HTMLElement>('[data-first]')?.focus();
    return () => {
      element?.close();
      if (
        before instanceof HTMLElement &&
        before.isConnected &&
        (isWriting(before) || before.closest('[data-region]') !== null)
      )
        before.focus();
      else focusPage();
    };
  }, []);
  return (
    // biome-ignore lint/a11y/useKeyWithClickEvents: Escape closes a dialog; a click beside it is the pointer's way
    <dialog
      ref={dialog}
      className={`sheet ${className}`}
      aria-label={title}
      onCancel={(event) => {
        event.preventDefault();
        closeDialog();
      }}
      onClick={(event) => {
        if (event.target === dialog.current) closeDialog();
      }}
    >
      <div className="sheet-body">
        {titled && (
          <h2 className="sheet-title">
            {title}
            <button type="button" className="word" onClick={closeDialog}>
              Close <kbd>Esc</kbd>
            </button>
          </h2>
        )}
        {children}
      </div>
    </dialog>
  );
}
