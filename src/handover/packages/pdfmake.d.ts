/** The part of pdfmake that is used here. Its own types bring the DOM and Node with them, which this room does without. */

/** Lengths in points. */
export interface PdfNode {
  readonly text?: PdfContent;
  readonly stack?: readonly PdfContent[];
  readonly columns?: readonly PdfContent[];
  readonly columnGap?: number;
  readonly table?: PdfTable;
  readonly layout?: PdfTableLayout | string;
  readonly svg?: string;
  readonly toc?: { readonly title?: PdfContent; readonly numberStyle?: string };
  readonly tocItem?: boolean;
  readonly tocMargin?: readonly [number, number, number, number];
  readonly tocStyle?: PdfStyle;
  readonly width?: number | string;
  readonly height?: number;
  readonly margin?: readonly [number, number, number, number];
  readonly pageBreak?: 'before' | 'after';
  readonly pageOrientation?: 'portrait' | 'landscape';
  readonly unbreakable?: boolean;
  readonly colSpan?: number;
  readonly fillColor?: string;
  readonly font?: string;
  readonly fontSize?: number;
  readonly bold?: boolean;
  readonly color?: string;
  readonly lineHeight?: number;
  readonly alignment?: 'left' | 'right' | 'center';
  readonly characterSpacing?: number;
  readonly noWrap?: boolean;
  readonly headlineLevel?: number;
  readonly link?: never;
  readonly image?: never;
}
export type PdfStyle = Pick<PdfNode, 'font' | 'fontSize' | 'bold' | 'color' | 'lineHeight' | 'alignment' | 'margin'>;
export type PdfContent = string | PdfNode | readonly PdfContent[];

export interface PdfTable {
  readonly widths: readonly (number | string)[];
  readonly heights?: number | ((row: number) => number);
  readonly headerRows?: number;
  readonly keepWithHeaderRows?: number;
  readonly dontBreakRows?: boolean;
  readonly body: readonly (readonly PdfContent[])[];
}

export interface PdfTableLayout {
  readonly hLineWidth?: (line: number, node: { readonly table: PdfTable }) => number;
  readonly vLineWidth?: (line: number) => number;
  readonly hLineColor?: (line: number) => string;
  readonly vLineColor?: (line: number) => string;
  readonly paddingLeft?: (column: number) => number;
  readonly paddingRight?: (column: number) => number;
  readonly paddingTop?: (row: number) => number;
  readonly paddingBottom?: (row: number) => number;
}

export interface PdfDefinition {
  readonly info: {
    readonly title: string;
    readonly creator: string;
    readonly producer: string;
    readonly creationDate: Date;
  };
  readonly pageSize: { readonly width: number; readonly height: number };
  readonly pageOrientation?: 'portrait' | 'landscape';
  readonly pageMargins: readonly [number, number, number, number];
  readonly header?: (page: number, pageCount: number, size: PdfPageSize) => PdfContent;
  readonly footer?: (page: number, pageCount: number, size: PdfPageSize) => PdfContent;
  readonly content: readonly PdfContent[];
  readonly defaultStyle: PdfStyle;
  readonly pageBreakBefore?: (
    node: PdfPlacedNode,
    followers: { getFollowingNodesOnPage(): readonly PdfPlacedNode[] },
  ) => boolean;
}
interface PdfPageSize {
  readonly width: number;
  readonly height: number;
}
interface PdfPlacedNode {
  readonly headlineLevel?: number;
  readonly pageNumbers: readonly number[];
}

interface FontFiles {
  readonly normal: string;
  readonly bold: string;
}

declare const pdfmake: {
  virtualfs: { existsSync(path: string): boolean };
  addVirtualFileSystem(files: Readonly<Record<string, { readonly data: Uint8Array }>>): void;
  setFonts(fonts: Readonly<Record<string, FontFiles>>): void;
  setUrlAccessPolicy(allows: (url: string) => boolean): void;
  createPdf(definition: PdfDefinition): { getBuffer(): Promise<Uint8Array> };
};
export default pdfmake;
