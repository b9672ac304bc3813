// Rows edited as pure functions of a state, without a browser: node --test site/test/rows.test.mjs
// SEED repeats a run of the properties; STATES is how many states they are tried on, 2000 if not given.
import assert from 'node:assert/strict';
import { test } from 'node:test';
import {
  addFields, addRow, behindHeld, cleared, countRows, cutRow, freeRow, heldRows, newRows, passedOn, putRow, removeRow, rowOf,
} from '../assets/rows.js';
import { vehicleIn, withVehicle } from '../assets/shelf.js';
import { MOST_ROWS, emptyForm, readForm, writeForm } from '../assets/state.js';
import { chance } from './chance.mjs';

const states = Number(process.env.STATES || 2000);
const seed = Number(process.env.SEED || 20261202);
const lists = ['specs', 'bolts', 'passes'];

const stateOf = (given, rows = {}, units = {}) => ({ ...emptyForm(), given, rows, units });

// frozen freezes a state, so that a function that changes what it is given throws.
function frozen(state) {
  for (const part of [state.given, state.units, state.names, state.rows, state.open]) Object.freeze(part);
  return Object.freeze(state);
}

// drawn draws a state: some lists with some rows, some of them held, and fields that are in no list.
function drawn(r) {
  const given = { reading: '6.9', 'known_good.at': '20', 'arrangement.series': '3' };
  const units = { reading: 'kohm' };
  const rows = {};
  for (const list of lists) {
    rows[list] = r.below(6);
    for (let row = 0; row < rows[list]; row++) {
      if (r.below(3) === 0) continue; // an empty row
      given[`${list}.${row}.min`] = `${list} ${row}`;
      if (r.below(2)) given[`${list}.${row}.how.word`] = `how ${row}`;
      if (r.below(2)) units[`${list}.${row}.min`] = 'mohm';
    }
  }
  return frozen({ ...emptyForm(), given, units, rows, names: { recording: 'run.csv' }, open: ['fine', 'specs.0'] });
}

// each tries a property on drawn states and rows.
function each(name, holds) {
  test(`${name}: ${states} states, seed ${seed}`, () => {
    const r = chance(seed);
    for (let i = 0; i < states; i++) {
      const state = drawn(r);
      holds(state, r.of(lists), r);
    }
  });
}

// rowsOf returns what each row of a list holds, in order.
const rowsOf = (state, list) => Array.from({ length: countRows(state, list) }, (_, row) => cutRow(state, list, row));

// besides returns a state without anything of one list.
function besides(state, list) {
  const out = cleared(state, [list]);
  const rows = { ...out.rows };
  delete rows[list];
  return { ...out, rows, units: Object.fromEntries(Object.entries(out.units).filter(([key]) => !key.startsWith(`${list}.`))) };
}

test('a key of a row is taken apart, any other is none', () => {
  assert.deepEqual(rowOf('specs.2.min'), { list: 'specs', row: 2, rest: 'min' });
  assert.deepEqual(rowOf('tests.10.how.word'), { list: 'tests', row: 10, rest: 'how.word' });
  for (const key of ['reading', 'specs', 'specs.2', 'known_good.at', 'arrangement.series.count', 'specs.-1.min', 'specs..min', '']) {
    assert.equal(rowOf(key), null, key);
  }
});

test('rows are counted by hand', () => {
  const state = stateOf({ 'specs.0.min': '5', 'specs.3.max': '6', 'bolts.1.x': '10', specs: 'no row' }, { specs: 2, bolts: 4 });
  assert.deepEqual([...heldRows(state, 'specs')].sort(), [0, 3]);
  assert.equal(behindHeld(state, 'specs'), 4);
  assert.equal(behindHeld(state, 'passes'), 0);
  assert.equal(freeRow(state, 'specs'), 1);
  assert.equal(freeRow(state, 'bolts'), 0);
  assert.equal(countRows(state, 'specs'), 4, 'a text needs its row');
  assert.equal(countRows(state, 'bolts'), 4, 'empty rows stay');
  assert.equal(countRows(stateOf({ 'specs.99999.min': '5' }), 'specs'), MOST_ROWS);
});

test('a row that is put in place of another leaves nothing of that one, not even its unit', () => {
  const state = frozen(stateOf({ 'specs.0.max': '9' }, { specs: 1 }, { 'specs.0.min': 'kohm', 'specs.1.min': 'kohm' }));
  const after = putRow(state, 'specs', 0, { given: { min: '5' }, units: {} });
  assert.deepEqual(after, stateOf({ 'specs.0.min': '5' }, { specs: 1 }, { 'specs.1.min': 'kohm' }));
});

test('a row in the middle is taken out', () => {
  const state = frozen(stateOf(
    { 'specs.0.min': 'a', 'specs.1.min': 'b', 'specs.2.min': 'c', 'specs.2.how.x': 'd', 'bolts.2.x': '7', reading: '6' },
    { specs: 4, bolts: 3 },
    { 'specs.1.min': 'kohm', 'specs.2.min': 'mohm' },
  ));
  assert.deepEqual(removeRow(state, 'specs', 1), stateOf(
    { 'specs.0.min': 'a', 'specs.1.min': 'c', 'specs.1.how.x': 'd', 'bolts.2.x': '7', reading: '6' },
    { specs: 3, bolts: 3 },
    { 'specs.1.min': 'mohm' },
  ));
});

test('a full list takes no row more', () => {
  assert.equal(addRow(stateOf({}, { specs: MOST_ROWS }), 'specs'), null);
  assert.equal(addRow(stateOf({}, { specs: MOST_ROWS - 1 }), 'specs').rows.specs, MOST_ROWS);
  assert.equal(addRow(stateOf({}), 'specs').rows.specs, 1);
});

each('a row that is added and removed again leaves the state as it was', (state, list) => {
  const added = addRow(state, list);
  assert.equal(countRows(added, list), countRows(state, list) + 1);
  assert.deepEqual(cutRow(added, list, countRows(state, list)), { given: {}, units: {} }, 'the new row is empty');
  assert.deepEqual(removeRow(added, list, countRows(state, list)), state);
});

each('a row that is filled and removed again leaves the state as it was', (state, list) => {
  const row = countRows(state, list);
  const filled = putRow(state, list, row, { given: { min: '1', 'how.word': 'x' }, units: { min: 'ohm' } });
  assert.deepEqual(removeRow(filled, list, row), state);
});

each('removing a row leaves no gap, the other rows in their order, and everything else alone', (state, list, r) => {
  const before = rowsOf(state, list);
  if (before.length === 0) return;
  const gone = r.below(before.length);
  const after = removeRow(state, list, gone);
  assert.deepEqual(rowsOf(after, list), before.toSpliced(gone, 1));
  assert.ok([...heldRows(after, list)].every((row) => row < after.rows[list]), 'no text is beyond the last row');
  assert.deepEqual(besides(after, list), besides(state, list));
});

each('removing all rows, in any order, leaves none of their texts', (state, list, r) => {
  let left = state;
  for (let n = countRows(state, list); n > 0; n--) left = removeRow(left, list, r.below(n));
  assert.equal(countRows(left, list), 0);
  assert.deepEqual({ ...left, rows: {} }, { ...besides(state, list), rows: {} });
  assert.equal(left.rows[list] ?? 0, 0);
});

each('a row that is cut and put into a free row is there twice; others stay', (state, list, r) => {
  const before = rowsOf(state, list);
  if (before.length === 0) return;
  const kept = cutRow(state, list, r.below(before.length));
  const free = freeRow(state, list);
  const after = putRow(state, list, free, kept);
  assert.deepEqual(cutRow(after, list, free).given, kept.given);
  assert.deepEqual(rowsOf(after, list).toSpliced(free, 1), before.toSpliced(free, 1));
  assert.deepEqual(besides(after, list), besides(state, list));
});

each('a link\'s rows go behind those that are held, as they are; nothing of other lists changes', (state, list, r) => {
  const n = 1 + r.below(4);
  const fields = {};
  for (let row = 0; row < n; row++) fields[`${list}.${row}.min`] = { text: `new ${row}`, unit: row % 2 ? 'kohm' : undefined };
  const behind = behindHeld(state, list);
  const after = addFields(state, lists, fields);
  const wanted = Array.from({ length: n }, (_, row) => ({ given: { min: `new ${row}` }, units: row % 2 ? { min: 'kohm' } : {} }));
  assert.deepEqual(rowsOf(after, list).slice(0, behind), rowsOf(state, list).slice(0, behind), 'what was there');
  assert.deepEqual(rowsOf(after, list).slice(behind, behind + n).map((row) => row.given), wanted.map((row) => row.given));
  assert.deepEqual(besides(after, list), besides(state, list));
});

test('a link\'s single fields take their place, with their units', () => {
  const state = frozen(stateOf({ reading: '6', at: '20' }, {}, { reading: 'kohm', at: 'degF' }));
  const after = addFields(state, lists, { reading: { text: '7' }, 'known_good.at': { text: '1', unit: 'K' } });
  assert.deepEqual(after.given, { reading: '7', at: '20', 'known_good.at': '1' });
  assert.deepEqual(after.units, { at: 'degF', 'known_good.at': 'K' }, 'a text without a unit takes that of the one before it away');
});

test('a link\'s rows beyond the limit are left out', () => {
  const state = stateOf({ [`specs.${MOST_ROWS - 2}.min`]: '5' });
  const after = addFields(state, lists, { 'specs.0.min': { text: 'in' }, 'specs.1.min': { text: 'out' } });
  assert.deepEqual(after.given, { ...state.given, [`specs.${MOST_ROWS - 1}.min`]: 'in' });
  assert.equal(after.rows.specs, MOST_ROWS);
});

test('a row of a name that is no list of the form is a field as any other', () => {
  assert.deepEqual(addFields(stateOf({ 'bolts.0.x': '1' }), ['specs'], { 'bolts.0.x': { text: '2' } }).given, { 'bolts.0.x': '2' });
});

each('what is cleared is gone, the rest stays', (state, list) => {
  const after = cleared(state, [list, 'reading']);
  assert.equal(heldRows(after, list).size, 0);
  assert.equal(after.rows[list], 0);
  assert.equal('reading' in after.given, false);
  for (const key in state.given) if (key !== 'reading' && rowOf(key)?.list !== list) assert.equal(after.given[key], state.given[key], key);
});

each('whatever is done to rows can be kept on the device', (state, list, r) => {
  let after = state;
  for (let n = r.below(12); n > 0; n--) {
    const rows = countRows(after, list);
    if (r.below(2)) after = addRow(after, list) ?? after;
    else if (r.below(2) && rows > 0) after = removeRow(after, list, r.below(rows));
    else after = putRow(after, list, freeRow(after, list), { given: { min: '1' }, units: {} });
  }
  assert.deepEqual(readForm(writeForm(after)), { form: after });
});

each('a vehicle that is kept and used again leaves the state as it was, but for its row counts', (state, list, r) => {
  const names = [list, 'reading'];
  const kept = vehicleIn(state, names, 'van 7');
  assert.equal(kept.given.name, 'van 7');
  assert.deepEqual(withVehicle(state, names, kept), state, 'used where it came from');
  const other = drawn(r);
  const after = withVehicle(other, names, kept);
  assert.deepEqual(vehicleIn(after, names, 'van 7'), kept, 'used elsewhere');
  const rest = Object.keys(after.given).filter((key) => !names.includes(key.split('.')[0]));
  for (const key of rest) assert.equal(after.given[key], other.given[key], 'what holds for one job alone stays');
});

test('a row that was carried over once is not doubled; another unit makes it another row', () => {
  const state = stateOf({ 'torques.0.of': 'pan', 'torques.0.set': '8' }, {}, { 'torques.0.set': 'N.m' });
  const fields = (unit, text = '8') => ({ 'torques.0.set': { text, unit } });
  assert.deepEqual(newRows(state, fields('N.m')), {});
  assert.deepEqual(newRows(state, fields('lbf.in')), fields('lbf.in'));
  assert.deepEqual(newRows(state, fields('N.m', '9')), fields('N.m', '9'));
  assert.deepEqual(newRows(state, { supply: { text: '8' } }), { supply: { text: '8' } });
});

test('what another tool passes on follows it, and is taken away by an empty text where it is that tool’s', () => {
  const pass = (state, fields, mine) => passedOn(frozen(state), 'readings', 'test', fields, () => mine).state.given;
  const settled = { 'settled.min': { text: '5.0', unit: 'ohm' } };
  const gone = { 'settled.min': { text: '' } };
  assert.deepEqual(pass(stateOf({}), settled, false), { 'settled.min': '5.0' });
  assert.deepEqual(pass(stateOf({}), gone, true), {});
  assert.deepEqual(pass(stateOf({ 'settled.min': '5.0' }), gone, true), {});
  assert.deepEqual(pass(stateOf({ 'settled.min': '5.0' }), gone, false), { 'settled.min': '5.0' });
});
