// What the page unpacks and unfolds is the module that was packed, byte for byte: node --test site/test/unfold.test.mjs (after make build)
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { test } from 'node:test';
import { unfolded, unpacked } from './unpacked.mjs';
import { Unfolder } from '../page/unfold.js';

const repository = new URL('../../', import.meta.url);
const packed = readFileSync(new URL('site/built/ohmwright.packed', repository));
const module = readFileSync(new URL('build/ohmwright.wasm', repository));

for (const piece of [1000, 65_536, packed.length]) {
  test(`the module comes out as it was, in pieces of ${piece} bytes`, () => {
    assert.ok(unfolded(packed, piece).equals(module), 'other bytes');
  });
}

test('what is cut off is refused', () => {
  const folded = unpacked(packed);
  for (const part of [0.001, 0.1, 0.5, 0.999]) {
    const bytes = new Uint8Array(folded.subarray(0, folded.length * part));
    assert.throws(() => new Unfolder(() => {}).push(bytes, true), `${part} of it`);
  }
});
