// One circuit's form for several windings, as pure functions of its state: node --test site/test/windings.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { passedOn } from '../assets/rows.js';
import { emptyForm, readForm, writeForm } from '../assets/state.js';
import { nameOf, turned, withoutAsking } from '../assets/windings.js';

const stateOf = (given, units = {}) => {
  const rows = Object.keys(given).flatMap((key) => /^readings\.(\d+)\./.exec(key)?.[1] ?? []);
  return { ...emptyForm(), given, units, rows: { readings: rows.length ? Math.max(...rows) + 1 : 0 } };
};
const shared = { side: 'high', supply: '27.6', winding_temperature: '40', 'spec.min': '20', 'spec.max': '24' };
const rowsOf = (list) =>
  Object.fromEntries(list.flatMap(([test, value], n) => [[`readings.${n}.test`, test], [`readings.${n}.value`, value]]));
const fieldsOf = (winding, value, spec = ['20', '24']) =>
  Object.fromEntries(
    Object.entries({
      winding,
      ...(value && { 'readings.0.test': 'resistance_component', 'readings.0.value': value, 'spec.min': spec[0], 'spec.max': spec[1] }),
    }).map(([key, text]) => [key, { text, unit: /value|spec/.test(key) ? 'ohm' : '' }]),
  );

// take is what a tap on a winding does: the circuit turns to it, and its reading goes in.
function take(state, fields) {
  for (const part of [state.given, state.units, state.rows]) Object.freeze(part);
  const { state: out, from } = turned(state, fields);
  const { winding, ...rest } = fields;
  return { state: passedOn(out, 'readings', 'test', rest, () => true).state, from };
}

// counted is what counts in a state: tests and values.
const counted = ({ given }) =>
  Object.keys(given)
    .filter((key) => /^readings\.\d+\.value$/.test(key) && !given[key.replace('value', 'aside')])
    .map((key) => `${given[key.replace('value', 'test')]} ${given[key]}`)
    .sort();

const onY4 = [['resistance_component', '12.9'], ['row_applies', 'yes'], ['current_on', '1.90']];
const y4 = stateOf({ ...shared, winding: 'Y4', code_kind: 'low', ...rowsOf(onY4) });

test('another winding begins with what is shared, and the first comes back as it was', () => {
  const there = take(y4, fieldsOf('Y6', '16.2'));
  assert.equal(there.from, 'Y4');
  assert.deepEqual(counted(there.state), ['resistance_component 16.2', 'row_applies yes']);
  for (const [key, text] of Object.entries(shared)) assert.equal(there.state.given[key], text, key);
  assert.equal(there.state.given.code_kind, undefined, 'the code names one circuit');
  assert.equal(there.state.given['readings.2.supply'], '27.6', 'the supply that it was taken at');
  assert.equal(there.state.given['readings.2.at'], '40');
  assert.deepEqual(readForm(writeForm(there.state)).form, there.state, 'it is kept on the device');
  const back = take(there.state, fieldsOf('Y4', '12.9'));
  assert.equal(back.from, 'Y6');
  assert.deepEqual(counted(back.state), counted(y4));
  for (const key of Object.keys(y4.given)) assert.equal(back.state.given[key], y4.given[key], key);
  assert.equal(back.state.given['readings.2.supply'], undefined, 'the supply is what it was');
  assert.deepEqual(take(back.state, fieldsOf('Y4', '12.9')), { state: back.state, from: undefined }, 'taken again it is the same');
});

test('a supply that is another one by then stays with what was read at the first', () => {
  const { state } = take(y4, fieldsOf('Y6', '16.2'));
  const back = take({ ...state, given: { ...state.given, supply: '26.1' } }, fieldsOf('Y4'));
  assert.equal(back.state.given['readings.2.supply'], '27.6');
  assert.deepEqual(counted(back.state), counted(y4));
});

test('another row of the specification is not looked up by what was said of the first, and comes back with its winding', () => {
  const there = take(y4, fieldsOf('Y9', '13.0', ['12.2', '13.4']));
  assert.deepEqual(counted(there.state), ['resistance_component 13.0']);
  assert.equal(there.state.given['spec.min'], '12.2');
  const back = take(there.state, fieldsOf('Y4'));
  assert.deepEqual(counted(back.state), counted(y4));
  assert.equal(back.state.given['spec.min'], '20');
  assert.equal(back.state.given['spec.max'], '24');
});

test('a circuit without a name is the first winding’s, unless the same was read there and was something else', () => {
  const live = stateOf({ ...shared, ...rowsOf([['current_on', '1.90']]) });
  const named = take(live, fieldsOf('Y4', '12.9'));
  assert.equal(named.from, undefined);
  assert.deepEqual(counted(named.state), ['current_on 1.90', 'resistance_component 12.9']);
  const read = stateOf({ ...shared, ...rowsOf([['resistance_component', '12,90'], ['current_on', '1.90']]) });
  assert.equal(take(read, fieldsOf('Y4', '12.9')).from, undefined, 'the same number, typed otherwise');
  const other = take(read, fieldsOf('Y6', '16.2'));
  assert.equal(other.from, '#0');
  assert.deepEqual(counted(other.state), ['resistance_component 16.2']);
  const back = take(other.state, fieldsOf('#0'));
  assert.deepEqual(counted(back.state), counted(read));
  assert.equal(back.state.given.winding, undefined);
});

test('a row that was opened and not filled in is nobody’s', () => {
  const open = stateOf({ ...y4.given, 'readings.3.test': 'voltage_pin_on' });
  const { state } = take(open, fieldsOf('Y6', '16.2'));
  assert.ok(!Object.values(state.given).includes('voltage_pin_on'));
  assert.deepEqual(counted(take(state, fieldsOf('Y4')).state), counted(y4));
});

test('eight windings there and back, in any order', () => {
  let state = stateOf({ ...shared });
  for (let n = 1; n <= 8; n++) {
    state = take(state, fieldsOf(`#${n}`, `${n}.5`)).state;
    const next = Object.keys(state.given).filter((key) => key.endsWith('.test')).length;
    const given = { ...state.given, [`readings.${next}.test`]: 'current_on', [`readings.${next}.value`]: `0.${n}` };
    state = { ...state, given };
  }
  for (const n of [3, 8, 1, 5, 3, 7, 2, 4, 6, 8]) {
    state = take(state, fieldsOf(`#${n}`, `${n}.5`)).state;
    assert.deepEqual(counted(state), [`current_on 0.${n}`, `resistance_component ${n}.5`]);
  }
  const names = Object.entries(state.given).filter(([key]) => /^others\.\d+\.name$/.test(key));
  assert.equal(names.length, 7);
});

test('what nobody asked for turns no circuit and gives no name', () => {
  const fields = fieldsOf('Y6', '16.2');
  assert.deepEqual(withoutAsking(y4, fields), {});
  assert.deepEqual(withoutAsking(y4, fieldsOf('Y4', '12.9')), fieldsOf('Y4', '12.9'));
  assert.deepEqual(withoutAsking(stateOf({ ...shared }), fields), fields);
  const { winding, ...rest } = fields;
  assert.deepEqual(withoutAsking(stateOf(rowsOf([['current_on', '1.90']])), fields), rest);
});

test('names as they are said', () => {
  const word = (key, ...args) => [key, ...args].join(' ');
  assert.deepEqual(['Y4', '#3', '#0', '# 3'].map((name) => nameOf(name, word)), ['Y4', 'several.row 3', 'several.none', '# 3']);
});
