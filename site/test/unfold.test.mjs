// What the page unpacks and unfolds is the module that was packed, byte for byte: node --test site/test/unfold.test.mjs (after make build)
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { unfolded } from './unpacked.mjs';

const repository = new URL('../../', import.meta.url);
const packed = readFileSync(new URL('site/built/ohmwright.packed', repository));
const module = readFileSync(new URL('build/ohmwright.wasm', repository));

for (const piece of [1000, 65_536, packed.length]) {
  test(`the module comes out as it was, in pieces of ${piece} bytes`, () => {
    assert.ok(unfolded(packed, piece).equals(module), 'other bytes');
  });
}

test('what is cut off is refused', () => {
  for (const part of [0, 0.0001, 0.001, 0.1, 0.5, 0.999]) {
    assert.throws(() => unfolded(packed.subarray(0, packed.length * part)), `${part} of it`);
  }
});
