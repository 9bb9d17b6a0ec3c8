/** The findings in the order they are read: what fails first, then warnings, then notes; the check's own order within a level. */
import type { CheckResult, Finding, Level } from '../core/coverage/result.ts';
import type { EditorStore } from './store.ts';
import { flyTo } from './view.ts';

const ORDER: Readonly<Record<Level, number>> = { fail: 0, warn: 1, note: 2 };
const sorted = new WeakMap<CheckResult, readonly Finding[]>();

/** One list for all that have none: a new one each time would look like a change. */
const NONE: readonly Finding[] = [];

export function listFindings(result: CheckResult | null): readonly Finding[] {
  if (result === null) return NONE;
  let findings = sorted.get(result);
  if (findings === undefined) {
    findings = [...result.findings].sort((a, b) => ORDER[a.level] - ORDER[b.level]);
    sorted.set(result, findings);
  }
  return findings;
}

/** Findings whose sentence, code or level holds every word of the filter, with their places in the whole list. */
export function filterFindings(
  findings: readonly Finding[],
  filter: string,
): readonly { readonly finding: Finding; readonly index: number }[] {
  const words = filter.toLowerCase().split(/\s+/u).filter(Boolean);
  return findings
    .map((finding, index) => ({ finding, index }))
    .filter(({ finding }) => {
      const text = `${finding.level} ${finding.code} ${finding.text}`.toLowerCase();
      return words.every((word) => text.includes(word));
    });
}

/** Goes to a finding: selects what it is about and brings its place into sight. */
export function goToFinding(store: EditorStore, index: number): void {
  const finding = listFindings(store.getState().result)[index];
  if (finding === undefined) return;
  // The first thing it is about is the one in hand.
  store.setState({ selection: [...finding.about].reverse(), maskHandle: null, finding: index });
  if (finding.at !== null) flyTo(store, finding.at, finding.about);
}

/** Steps to the next finding (or the one before), round the end. */
export function stepFinding(store: EditorStore, by: 1 | -1): void {
  const { result, finding } = store.getState();
  const all = listFindings(result).length;
  if (all === 0) return;
  const from = finding ?? (by === 1 ? -1 : all);
  goToFinding(store, (from + by + all) % all);
}

/** The findings as plain text, one a line, for the clipboard. */
export function writeFindings(findings: readonly Finding[]): string {
  return findings
    .map(({ level, text, at }) => `${level}\t${text}${at === null ? '' : `\t${at[0].toFixed(2)}, ${at[1].toFixed(2)}`}`)
    .join('\n');
}
