import { COMMANDS, PAGE_KEYS } from './commands.ts';
import { Dialog } from './Dialog.tsx';

const GROUPS = ['View', 'Tools', 'Things', 'Findings', 'Questions', 'Files', 'Everywhere'] as const;

/** All keys, group by group. */
export default function KeysDialog() {
  const groups = [
    ...GROUPS.map((title) => ({
      title: title as string,
      rows: COMMANDS.filter((command) => command.group === title && command.keys !== ''),
    })),
    { title: 'On the page', rows: PAGE_KEYS },
  ];
  return (
    <Dialog title="All keys" className="keys">
      <section
        className="keys-groups"
        data-first
        aria-label="Keys"
        // biome-ignore lint/a11y/noNoninteractiveTabindex: a long list is scrolled by keys
        tabIndex={0}
      >
        {groups.map(({ title, rows }) => (
          <section key={title}>
            <h3 className="ledger-title">{title}</h3>
            <dl>
              {rows.map((row) => (
                <div className="key-row" key={row.keys}>
                  <dt>
                    <kbd className="key-name">{row.keys}</kbd>
                  </dt>
                  <dd>{row.text}</dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </section>
      <p className="sheet-note">Letters, digits and signs act while the page has the focus. F6 brings it there.</p>
    </Dialog>
  );
}
