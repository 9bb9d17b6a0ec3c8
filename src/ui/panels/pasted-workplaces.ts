/** The list of workplaces that was pasted on the page, on its way to the dialog that shows it. */
let offered = '';

export function offerWorkplaces(text: string): void {
  offered = text;
}

/** What was pasted last; asked for once. */
export function takeOfferedWorkplaces(): string {
  const text = offered;
  offered = '';
  return text;
}
