// The ways in beside each other, on some requests drawn at random; make evaluate has more: node --test site/test/agree.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { compareAll, flat, linkOf } from './agree.mjs';

const count = 1100;
const seed = Number(process.env.SEED || 20261128);

test(`${count} requests are answered alike by command line, HTTP, module and link, seed ${seed}`, { timeout: 300_000 }, async (t) => {
  const { seen, faults } = await compareAll(count, seed, (line) => t.diagnostic(line));
  assert.deepEqual(faults, []);
  // A run that reached only one side would say little.
  for (const [kind, n] of Object.entries(seen)) assert.ok(n > count / 5, `${kind}: ${n} of ${count}`);
});

test('what a link cannot say is not asked by link', () => {
  const request = { reading: '5 ohm', specs: [{ min: '1 ohm' }] };
  assert.equal(linkOf('winding', flat(request)), '#/winding?v=1&reading=5%20ohm&specs.0.min=1%20ohm');
  for (const request of [null, [], { a: null }, { a: true }, { a: {} }, { a: [] }, { a: [{}] }, { v: 1 }, { 'a.b': 'x' }]) {
    assert.equal(flat(request), null, JSON.stringify(request));
  }
});
