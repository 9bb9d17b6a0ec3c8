/** The part of write-excel-file that is used here, with no more of the platform in it than bytes. */
export interface SheetCell {
  readonly value?: string | number;
  readonly type?: StringConstructor | NumberConstructor;
  readonly format?: string;
  readonly fontWeight?: 'bold';
  readonly wrap?: boolean;
  readonly alignVertical?: 'top';
  readonly backgroundColor?: string;
  readonly bottomBorderStyle?: 'thin';
}
export interface Sheet {
  readonly data: readonly (readonly (SheetCell | null)[])[];
  readonly sheet: string;
  readonly columns: readonly { readonly width: number }[];
  readonly stickyRowsCount?: number;
  readonly orientation?: 'landscape';
}
interface SheetFile {
  toBlob(): Promise<{ arrayBuffer(): Promise<ArrayBuffer> }>;
}
declare const writeXlsxFile: (sheets: readonly Sheet[]) => SheetFile;
export default writeXlsxFile;
