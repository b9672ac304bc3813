import assert from 'node:assert/strict';

// same compares two responses: texts and shape exactly, numbers to 1e-12 of their size. What is left of a difference of two equal
// numbers, as of two entropies in bits, has no size of its own: it may differ by rounding.
export function same(got, want, path = '', rounding = 1e-14) {
  if (typeof want === 'number') {
    assert.ok(typeof got === 'number' && Math.abs(got - want) <= 1e-12 * Math.abs(want) + rounding, `${path}: ${got}; want ${want}`);
  } else if (want !== null && typeof want === 'object') {
    assert.ok(got !== null && typeof got === 'object', `${path}: ${got}`);
    assert.deepEqual(Object.keys(got), Object.keys(want), path);
    for (const key of Object.keys(want)) same(got[key], want[key], `${path}.${key}`, rounding);
  } else {
    assert.equal(got, want, path);
  }
}
