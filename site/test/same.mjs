import assert from 'node:assert/strict';

// same compares two responses: texts and shape exactly, numbers to 1e-12 of their size; what is left of a difference of equal
// numbers, as of two entropies in bits, to the rounding of such numbers.
const rounding = 1e-14;
export function same(got, want, path = '') {
  if (typeof want === 'number') {
    assert.ok(typeof got === 'number' && Math.abs(got - want) <= 1e-12 * Math.abs(want) + rounding, `${path}: ${got}; want ${want}`);
  } else if (want !== null && typeof want === 'object') {
    assert.ok(got !== null && typeof got === 'object', `${path}: ${got}`);
    assert.deepEqual(Object.keys(got), Object.keys(want), path);
    for (const key of Object.keys(want)) same(got[key], want[key], `${path}.${key}`);
  } else {
    assert.equal(got, want, path);
  }
}
