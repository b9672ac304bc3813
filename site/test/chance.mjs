// Chance that can be repeated, for tests that draw their cases.

// chance returns draws that are the same for the same seed: below(n) is a whole number from 0 to n-1, of(list) one of a list. The
// generator is mulberry32, in the public domain.
export function chance(seed) {
  let a = seed >>> 0;
  const next = () => {
    a = (a + 0x6d2b79f5) >>> 0;
    let t = Math.imul(a ^ (a >>> 15), 1 | a);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  const below = (n) => Math.floor(next() * n);
  return { below, of: (list) => list[below(list.length)] };
}
