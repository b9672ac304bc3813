// What the device keeps, read back whatever it is: node --test site/test/state.test.mjs
// FUZZ is the number of texts to try; it is 300000 if not given. SEED repeats a run.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { merged } from '../assets/facts.js';
import { readPast, writePast } from '../assets/keep.js';
import { Store, VERSION, emptyForm, joined, readForm, readRows, writeForm, writeRows } from '../assets/state.js';
import { chance } from './chance.mjs';

const count = Number(process.env.FUZZ || 300_000);
const seed = Number(process.env.SEED || 20261125);

const forms = [
  '{"v":1,"given":{},"units":{},"rows":{},"open":[]}',
  '{"v":1,"given":{"reading":"6.9","specs.0.min":"5,0","specs.1.name":"2031 on","known_good.at":"−4"},"units":{"at":"degF"},' +
    '"rows":{"specs":2},"open":["fine","specs.0"]}',
  '{"v":1,"given":{"supply":"13.8"},"units":{},"names":{"recording":"run 3.csv"},"rows":{},"open":[]}',
  '{"v":2,"given":{},"later":{"a":[1,2,{"b":null}]}}',
  '{"v":1,"given":{"arrangement":"series","arrangement.series":"3"},"units":{"reading":"kohm"},' +
    '"rows":{"specs":1000},"open":["known_good"]}',
];
const rows = [
  '{"v":1,"rows":[]}',
  '{"v":1,"rows":[{"given":{"name":"a","min":"4","max":"5"},"units":{"min":"ohm"}},' +
    '{"given":{"nominal":"5,3","tolerance":"10"},"units":{}}]}',
  '{"v":2,"rows":[]}',
];
const scraps = [
  '', '{', '}', '[', ']', '"', ':', ',', 'null', 'true', '1', '-1', '1e999', '1001', '0.5', '{}', '[]',
  '"v"', '"v":1', '"v":2', '"v":0', '"given":', '"units":', '"rows":', '"names":', '"open":',
  '"__proto__":"x"', '"__proto__":{"v":1}', '"constructor":"x"', '"toString":"x"', '"specs.0.min":"5"', '"a.b.c.d.e.f.g":"x"',
  '"Ω":"x"', '\u0000', '\ud800', '\udfff', '\ufeff', ' ', '\n', '\\', '\\u0000', '"map":"x"', '"length":-1',
  '[[[[[[[[', '{"a":{"a":{"a":', 'ÿ', '9'.repeat(400),
];
const glyphs = '{}[]",:.0123456789eE+-_ abcdefvgiunrtowspx\\/\u0000\ud800é−Ω';

function mutated(r, text) {
  for (let n = 1 + r.below(4); n > 0; n--) {
    const at = r.below(text.length + 1);
    const to = Math.min(text.length, at + r.below(8));
    switch (r.below(5)) {
      case 0: // cut out
        text = text.slice(0, at) + text.slice(to);
        break;
      case 1: // put in
        text = text.slice(0, at) + r.of(scraps) + text.slice(at);
        break;
      case 2: // replace
        text = text.slice(0, at) + r.of(scraps) + text.slice(to);
        break;
      case 3: // cut off
        text = text.slice(0, at);
        break;
      default: // one character
        text = text.slice(0, at) + r.of(glyphs) + text.slice(at + 1);
    }
  }
  return text;
}

function random(r) {
  let text = '';
  for (let n = r.below(30); n > 0; n--) text += r.below(3) ? r.of(glyphs) : r.of(scraps);
  return text;
}

const faults = ['damaged', 'newer'];

// checkForm holds that an answer of readForm is a fault or a form that reads back as itself; seen counts which.
function checkForm(text, answer, seen) {
  if (answer.fault) {
    assert.ok(faults.includes(answer.fault) && answer.form === undefined, text);
    seen[answer.fault]++;
    return;
  }
  seen.read++;
  const { form } = answer;
  assert.deepEqual(Object.keys(form), ['v', 'given', 'units', 'names', 'rows', 'open'], text);
  assert.equal(form.v, VERSION);
  for (const texts of [form.given, form.units, form.names]) for (const key in texts) assert.equal(typeof texts[key], 'string', text);
  for (const n of Object.values(form.rows)) assert.ok(Number.isInteger(n) && n >= 0 && n <= 1000, text);
  assert.ok(form.open.every((key) => typeof key === 'string'), text);
  assert.deepEqual(readForm(writeForm(form)), { form }, text);
}

function checkRows(text, answer, seen) {
  if (answer.fault) {
    assert.ok(faults.includes(answer.fault) && answer.rows === undefined, text);
    seen[answer.fault]++;
    return;
  }
  seen.read++;
  for (const row of answer.rows) {
    assert.deepEqual(Object.keys(row), ['given', 'units'], text);
    for (const texts of [row.given, row.units]) for (const key in texts) assert.equal(typeof texts[key], 'string', text);
  }
  assert.deepEqual(readRows(writeRows(answer.rows)), { rows: answer.rows }, text);
}

const readers = [['readForm', forms, readForm, checkForm], ['readRows', rows, readRows, checkRows]];
for (const [name, samples, read, check] of readers) {
  test(`${name} reads or refuses, and throws on nothing: ${count / 2} texts, seed ${seed}`, () => {
    const r = chance(seed);
    const seen = { read: 0, damaged: 0, newer: 0 };
    for (let i = 0; i < count / 2; i++) {
      const text = r.below(4) ? mutated(r, r.of(samples)) : random(r);
      let answer;
      try {
        answer = read(text);
      } catch (e) {
        assert.fail(`${name}(${JSON.stringify(text)}) throws ${e}`);
      }
      check(text, answer, seen);
    }
    // A run that reached only one side would say little.
    for (const kind of Object.keys(seen)) assert.ok(seen[kind] > count / 5000, `${kind}: ${seen[kind]} of ${count / 2}`);
  });
}

test(`readPast reads or refuses, and what writePast wrote is read as it was: ${count / 10} texts, seed ${seed}`, () => {
  const r = chance(seed + 2);
  const drawn = () => ({
    ...emptyForm(),
    given: Object.fromEntries(Array.from({ length: r.below(5) }, () => [`a.${r.below(3)}.b`, r.of(['5', '', 'x', 'file'])])),
    rows: r.below(2) ? { a: r.below(4) } : {},
    open: r.below(2) ? ['fine'] : [],
  });
  let read = 0;
  for (let i = 0; i < count / 10; i++) {
    const steps = Array.from({ length: r.below(6) }, () => ({ form: drawn(), stray: r.below(3) ? [] : ['x'] }));
    const state = drawn();
    const files = Object.fromEntries(Object.entries(state.given).filter(() => r.below(2)));
    const text = writePast(steps, undefined, files);
    assert.deepEqual(readPast(text, null, state), steps, text);
    assert.ok(writePast(steps, 100).length <= Math.max(200, JSON.stringify(steps.slice(-1)).length + 100));
    const odd = readPast(r.below(4) ? mutated(r, text) : random(r), null, state);
    assert.ok(Array.isArray(odd) && odd.every((step) => step.form), text);
    read += odd.length;
  }
  assert.ok(read > 0);
});

test(`merged loses nothing: ${count / 10} changes in two windows, seed ${seed}`, () => {
  const r = chance(seed + 3);
  const keys = ['reading', 'at', 'specs.0.min', 'specs.1.min'];
  const changed = (state) => {
    const given = { ...state.given };
    for (const key of keys) {
      if (r.below(3) === 0) given[key] = String(r.below(4));
      else if (r.below(6) === 0) delete given[key];
    }
    return { ...state, given };
  };
  for (let i = 0; i < count / 10; i++) {
    const before = changed(emptyForm());
    const [mine, theirs] = [changed(before), changed(before)];
    const { state, both, gone } = merged(mine, before, theirs);
    for (const key of keys) {
      const [was, own, other, got] = [before, mine, theirs, state].map((one) => one.given[key]);
      assert.equal(got, own === was ? other : own, `${key}: ${[was, own, other]}`);
      assert.equal(both.includes(key), own !== was && other !== was && own !== other);
      assert.equal(gone.includes(key), own !== undefined && got !== own);
    }
  }
});

test('joined never throws, and adds a unit once, behind a number only', () => {
  const r = chance(seed + 1);
  for (let i = 0; i < count / 3; i++) {
    const text = r.below(2) ? random(r) : mutated(r, r.of(['6.9', ' 6,9 ', '6.9 ohm', 'OL', '−40', '1 250', '12 V', '1.', '5Ω']));
    const unit = r.of(['', 'ohm', 'degC', '%', 'K']);
    const out = joined(text, unit);
    const plain = text.trim();
    const number = unit !== '' && /[0-9.,]$/.test(plain);
    assert.equal(out, number ? `${plain} ${unit}` : plain, JSON.stringify(text));
  }
});

test('what is no text at all', () => {
  for (const read of [readForm, readRows]) {
    assert.equal(read(null).fault, undefined);
    assert.equal(read(undefined).fault, undefined);
    for (const text of ['null', '0', '""', '[]', 'true', '[[]]', '{"v":1}', '{"v":null}', '{"v":"1"}', '{"v":1.5}', '{"v":-1}']) {
      assert.ok(faults.includes(read(text).fault), text);
    }
    assert.equal(read(`{"v":${VERSION + 1}}`).fault, 'newer');
  }
  assert.deepEqual(readForm(null), { form: emptyForm() });
  assert.deepEqual(readRows(null), { rows: [] });
});

test('a form of more keys than a page has is refused, deep nesting is refused', () => {
  const given = (n) => Object.fromEntries(Array.from({ length: n }, (_, i) => [`specs.${i}.min`, '5']));
  assert.equal(readForm(JSON.stringify({ ...emptyForm(), given: given(8000) })).fault, undefined);
  assert.equal(readForm(JSON.stringify({ ...emptyForm(), given: given(8001) })).fault, 'damaged');
  assert.equal(readForm('['.repeat(200_000)).fault, 'damaged');
  assert.equal(readForm(`{"v":1,"given":${'{"a":'.repeat(50_000)}1${'}'.repeat(50_000)},"units":{},"rows":{},"open":[]}`).fault, 'damaged');
});

test('no key of a form reaches the prototype of anything', () => {
  for (const key of ['__proto__', 'constructor', 'prototype']) {
    readForm(`{"v":1,"given":{"${key}":"x"},"units":{},"rows":{"${key}":3},"open":[]}`);
    readRows(`{"v":1,"rows":[{"given":{"${key}":"x"},"units":{"${key}":"x"}}]}`);
  }
  assert.deepEqual(Object.keys(Object.prototype), []);
  assert.equal({}.x, undefined);
});

test('a store says what went wrong', () => {
  const refusing = (name) => {
    const refuse = () => {
      throw new DOMException('', name);
    };
    return new Store(() => ({ getItem: refuse, setItem: refuse, removeItem: refuse }));
  };
  assert.equal(refusing('QuotaExceededError').write('winding', 'x'), 'full');
  assert.equal(refusing('SecurityError').write('winding', 'x'), 'forbidden');
  assert.equal(refusing('SecurityError').read('winding'), null);
  assert.equal(refusing('SecurityError').remove('winding'), undefined);
  const gone = new Store(() => { throw new DOMException('', 'SecurityError'); });
  assert.equal(gone.write('winding', 'x'), 'forbidden');
  assert.equal(gone.read('winding'), null);
  const none = new Store(() => null);
  assert.equal(none.write('winding', 'x'), 'forbidden');
  const kept = new Map();
  const storage = { getItem: (k) => kept.get(k) ?? null, setItem: (k, v) => kept.set(k, v), removeItem: (k) => kept.delete(k) };
  const plain = new Store(() => storage);
  assert.equal(plain.write('winding', 'x'), '');
  assert.deepEqual([...kept], [['ohmwright/winding', 'x']]);
  assert.equal(plain.read('winding'), 'x');
  plain.remove('winding');
  assert.equal(plain.read('winding'), null);
});
