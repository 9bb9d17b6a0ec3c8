/** What the tests ask of readers that come without types. */
declare module 'dxf' {
  interface ReadEntity {
    readonly type: string;
    readonly layer: string;
    readonly string?: string;
    readonly vertices?: readonly { readonly x: number; readonly y: number }[];
  }
  export function parseString(text: string): {
    readonly header: { readonly insUnits?: number };
    readonly entities: readonly ReadEntity[];
  };
}

declare module 'gltf-validator' {
  export function validateBytes(bytes: Uint8Array): Promise<{
    readonly issues: {
      readonly numErrors: number;
      readonly messages: readonly { readonly code: string; readonly message: string; readonly severity: number }[];
    };
  }>;
}
