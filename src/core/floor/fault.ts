/** One thing that is wrong with a floor file. `formatFault` makes one line of it. */
export interface Fault {
  /** Where in the file, with array indices: `furniture[12].top`. Empty for the file as a whole. */
  readonly path: string;
  /** What is wrong with what stands there: `is 0.7 and base is 0.9`. */
  readonly what: string;
  /** What would be right, a sentence: `The top must be above the base.` */
  readonly remedy: string;
}

/** A fault as one line: `furniture[12].top: is 0.7 and base is 0.9. The top must be above the base.` */
export function formatFault(fault: Fault): string {
  const where = fault.path === '' ? '' : `${fault.path}: `;
  return `${where}${fault.what}. ${fault.remedy}`.trimEnd();
}
