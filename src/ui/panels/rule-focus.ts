/** Takes the focus to the next mark of the rule, from the current plane when none has it. */
export function stepRuleMark(by: 1 | -1): void {
  const marks = [...document.querySelectorAll<HTMLElement>('[data-mark]')];
  const at = marks.indexOf(document.activeElement as HTMLElement);
  const from =
    at >= 0
      ? at
      : marks.findIndex((mark) => mark.classList.contains('plane') && mark.getAttribute('aria-pressed') === 'true');
  const next = at >= 0 ? marks[at + by] : marks[from];
  next?.focus();
}
