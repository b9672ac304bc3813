// Replies that leave out what stays, without a browser: node --test site/test/reply.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { completed } from '../assets/reply.js';

const first = () => ({
  number: 1,
  head: ['div', {}, 'below', ['b', {}, '9.7']],
  body: [['p', {}, 'a'], ['ul', { class: 'x' }, ['li', {}, 'b'], ['li', {}, 'c']]],
  notes: [{ field: 'at', code: 'unit', text: 'no unit' }],
  link: '#/winding?v=1',
});

test('a whole reply stays as it is, whatever was before', () => {
  assert.deepEqual(completed(first(), null), first());
  assert.deepEqual(completed(first(), { ...first(), number: 7, head: ['p', {}] }), first());
});

test('what is left out is as it was, and the same object', () => {
  const before = completed(first(), null);
  const after = completed({ number: 2, body: [0, ['ul', { class: 'y' }, 0, ['li', {}, 'd'], ['li', {}]]], notes: [] }, before);
  const body = [['p', {}, 'a'], ['ul', { class: 'y' }, ['li', {}, 'b'], ['li', {}, 'd'], ['li', {}]]];
  assert.deepEqual(after, { ...first(), number: 2, body, notes: [] });
  assert.equal(after.head, before.head);
  assert.equal(after.body[0], before.body[0]);
  assert.equal(after.body[1][2], before.body[1][2]);
  assert.equal(completed({ number: 3 }, after).body[1], after.body[1]);
});

test('a head of which a part stays', () => {
  const { head } = completed({ number: 2, head: ['div', {}, 'above', ['b', {}, 0]] }, completed(first(), null));
  assert.deepEqual(head, ['div', {}, 'above', ['b', {}, '9.7']]);
});
