import { PNG } from 'pngjs';
import { describe, expect, test } from 'vitest';
import { inspectPicture } from '../../../src/importers/underlay/picture.ts';

const png = (width: number, height: number): Uint8Array => new Uint8Array(PNG.sync.write(new PNG({ width, height })));

/** Start, a segment of application data, a frame header with this size. */
function jpegStart(width: number, height: number): Uint8Array {
  const frame = [0xff, 0xc0, 0, 17, 8, height >> 8, height & 255, width >> 8, width & 255, 3, 1, 0x22, 0];
  return Uint8Array.of(0xff, 0xd8, 0xff, 0xe0, 0, 6, 1, 2, 3, 4, 0xff, 0xff, 0xdb, 0, 3, 0, ...frame, 0, 0, 0);
}

describe('a picture is judged by its bytes', () => {
  test('PNG and JPEG say their size, PDF says it is one', () => {
    expect(inspectPicture(png(31, 17))).toEqual({ ok: true, kind: 'png', size: [31, 17] });
    expect(inspectPicture(jpegStart(640, 480))).toEqual({ ok: true, kind: 'jpeg', size: [640, 480] });
    expect(inspectPicture(new TextEncoder().encode('%PDF-1.7\n'))).toEqual({ ok: true, kind: 'pdf', size: null });
  });

  test('absurd sizes are refused before anything is decoded', () => {
    const bomb = png(2, 2);
    new DataView(bomb.buffer, bomb.byteOffset).setUint32(16, 100_000);
    expect(inspectPicture(bomb)).toMatchObject({ ok: false, reason: 'The picture has 100000 × 2 pixels.' });
    new DataView(bomb.buffer, bomb.byteOffset).setUint32(16, 0);
    expect(inspectPicture(bomb)).toMatchObject({ ok: false, reason: expect.stringContaining('0 × 2') });
    expect(inspectPicture(jpegStart(20_000, 20_000))).toMatchObject({ ok: false });
    expect(inspectPicture(new Uint8Array(60_000_001))).toMatchObject({ ok: false, reason: 'The file has 61 MB.' });
  });

  test('what is no picture, and what is cut off, is refused at every length', () => {
    expect(inspectPicture(new Uint8Array(0))).toMatchObject({ ok: false, reason: expect.stringContaining('0 bytes') });
    expect(inspectPicture(new TextEncoder().encode('<svg/>'))).toMatchObject({ ok: false });
    for (const whole of [png(9, 9).slice(0, 24), jpegStart(9, 9)]) {
      let refused = 0;
      for (let length = 1; length < whole.length; length++) if (!inspectPicture(whole.slice(0, length)).ok) refused++;
      expect(refused).toBeGreaterThan(20);
    }
  });
});
