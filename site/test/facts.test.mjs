// The facts of a job and the forms, without a browser: what is taken apart and put together again stays the same.
// node --test site/test/facts.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { assemble, diff, isNothing, keptAt, patch, route, settleSpec, specRows } from '../assets/facts.js';
import { emptyForm } from '../assets/state.js';
import { rebased } from '../assets/keep.js';
import { chance } from './chance.mjs';

const volts = { '': { usual: 'V', offered: ['V', 'mV'] } };
const degrees = { '': { usual: 'degC', offered: ['degC', 'degF'] } };
const ohms = { usual: 'ohm', offered: ['ohm', 'kohm'] };

// The uses of four forms, as their markup would say them.
const winding = [
  { path: 'at', fact: 'winding_temperature', units: degrees },
  { path: 'supply', fact: 'supply', units: volts },
  { path: 'specs', fact: 'specs', units: { '#.min': { usual: 'ohm', offered: ['ohm'] }, '#.at': degrees[''] } },
  { path: 'meter', fact: 'meter', units: { resolution: ohms } },
  { path: 'material', fact: 'material', units: { zero_resistance_at: degrees[''] } },
];
const circuit = [
  { path: 'side', fact: 'side', units: {} },
  { path: 'supply', fact: 'supply', units: { '': { usual: 'V', offered: ['V'] } } },
  { path: 'winding_temperature', fact: 'winding_temperature', units: { '': { usual: 'degF', offered: ['degF', 'degC'] } } },
  { path: 'spec', fact: 'spec', units: { min: ohms, at: degrees[''] } },
  { path: 'driver', fact: 'driver', units: { at: { usual: 'A', offered: ['A'] } } },
  { path: 'meter.resistance', fact: 'meter', units: { resolution: ohms } },
  { path: 'meter.current', fact: 'clamp', units: {} },
];
const loop = [
  { path: 'driver_kind', fact: 'driver.kind', units: {} },
  { path: 'spec', fact: 'spec', yields: 'winding', units: { min: ohms, at: degrees[''] } },
];
const drive = [
  { path: 'supply', fact: 'supply', takes: true, units: volts },
  { path: 'side', fact: 'side', takes: true, units: {} },
];
const forms = { winding, circuit, loop, drive };

const keys = {
  winding: ['reading', 'at', 'at_other', 'supply', 'specs.0.min', 'specs.0.at', 'specs.1.min', 'specs.1.name', 'meter.percent',
    'meter.resolution', 'material', 'material.zero_resistance_at', 'known_good.at'],
  circuit: ['side', 'supply', 'winding_temperature', 'spec.min', 'spec.max', 'spec.at', 'driver.kind', 'driver.at', 'readings.0.value',
    'meter.resistance.resolution', 'meter.voltage.percent', 'meter.current.percent'],
  loop: ['driver_kind', 'current', 'spec.max', 'driver'],
  drive: ['supply', 'side', 'duty'],
};

const nothing = () => ({ given: {}, units: {}, rows: {}, from: {} });
const unitsOf = (uses, key) => {
  const use = uses.find(({ path }) => key === path || key.startsWith(`${path}.`));
  return use ? use.units[key.slice(use.path.length + 1).replace(/^\d+/, '#')] : ohms;
};

// stateAt returns a random state of a form.
function stateAt(r, form) {
  const state = emptyForm();
  for (const key of keys[form]) {
    if (r.below(2) === 0) state.given[key] = r.of(['5', '5.0', '13,8', '0', 'OL', 'x']);
    const units = unitsOf(forms[form], key);
    if (units && r.below(3) === 0) {
      const other = units.offered.find((unit) => unit !== units.usual);
      if (other) state.units[key] = other;
    }
  }
  if (form === 'winding') state.rows.specs = r.below(3);
  if (r.below(2) === 0) state.open = ['fine'];
  return state;
}

// taken takes a state apart on top of facts.
function taken(uses, facts, own, before, after) {
  const change = route(uses, diff(before, after), after, facts);
  return { facts: patch(facts, change.facts), own: patch(own, change.own) };
}

test('a state taken apart and put together is the same', () => {
  const r = chance(13);
  for (let i = 0; i < 4000; i++) {
    const form = Object.keys(forms)[i % 4];
    const state = stateAt(r, form);
    const { facts, own } = taken(forms[form], nothing(), emptyForm(), emptyForm(), state);
    assert.deepEqual(assemble(forms[form], facts, own), state, form);
    for (const { path, takes } of forms[form]) {
      const kept = Object.keys(own.given).filter((key) => key === path || key.startsWith(`${path}.`));
      if (!takes) assert.deepEqual(kept, [], `${form}: a fact is kept with the form`);
    }
  }
});

test('a change from any state to any other comes out as that other', () => {
  const r = chance(14);
  for (let i = 0; i < 4000; i++) {
    const form = Object.keys(forms)[i % 4];
    const uses = forms[form];
    const first = stateAt(r, form);
    const second = stateAt(r, form);
    const begun = taken(uses, nothing(), emptyForm(), emptyForm(), first);
    const { facts, own } = taken(uses, begun.facts, begun.own, assemble(uses, begun.facts, begun.own), second);
    assert.deepEqual(assemble(uses, facts, own), second, form);
  }
});

test('what one form gives, another takes, with its unit', () => {
  const state = { ...emptyForm(), given: { at: '88', supply: '13800' }, units: { supply: 'mV' } };
  const { facts } = taken(winding, nothing(), emptyForm(), emptyForm(), state);
  assert.deepEqual(facts.units, { winding_temperature: 'degC', supply: 'mV' });
  const there = assemble(circuit, facts, emptyForm());
  assert.equal(there.given.winding_temperature, '88');
  assert.equal(there.units.winding_temperature, 'degC', 'a unit that is not the usual one there is chosen');
  assert.equal(there.given.supply, '13800 mV', 'a unit that is not offered stays with the text');
});

test('a form that only takes a fact keeps what is tried there, and follows the fact again', () => {
  const facts = patch(nothing(), { given: { supply: '13.8', side: 'low' }, units: { supply: 'V' } });
  let own = emptyForm();
  const at = () => assemble(drive, facts, own);
  const enter = (given) => {
    const before = at();
    const after = { ...before, given: { ...before.given, ...given } };
    for (const key in given) if (given[key] === null) delete after.given[key];
    const change = route(drive, diff(before, after), after, facts);
    assert.deepEqual(change.facts, {}, 'nothing is written back');
    own = patch(own, change.own);
    assert.deepEqual(at(), after);
  };
  assert.equal(at().given.supply, '13.8');
  enter({ supply: '9' });
  enter({ supply: null });
  enter({ side: null });
  enter({ supply: '13.8', side: 'low' });
  assert.deepEqual(own.given, {}, 'the same as the fact is no own text');
});

test('a form keeps what its readings were taken at, and what it is changed to is its own until it is what the job says', () => {
  const units = { winding_temperature: 'degC', supply: 'V' };
  const facts = { given: { winding_temperature: '18', supply: '13.8' }, units, rows: {}, from: {} };
  const hot = { given: { winding_temperature: '185' }, units: { winding_temperature: 'degF' } };
  const own = patch(emptyForm(), keptAt(winding, facts, hot, false));
  assert.deepEqual([own.given, own.units], [{ at: '18' }, {}]);
  assert.equal(keptAt(winding, facts, { given: { supply: '12.9' }, units: {} }, false), null, 'nothing was read at a supply');
  assert.deepEqual(keptAt(circuit, facts, { given: { supply: '12.9' }, units: {} }, true).given, { supply: '13.8' });
  assert.equal(keptAt(winding, facts, hot, false, own.given), null, 'it is kept already');
  assert.equal(keptAt(drive, facts, hot, true), null, 'what only takes facts has no readings');
  const after = patch(facts, hot);
  assert.equal(assemble(winding, after, own).given.at, '18');
  assert.equal(assemble(circuit, after, emptyForm()).given.winding_temperature, '185', 'a form without readings takes what is said last');
  const nobody = patch(emptyForm(), keptAt(winding, patch(facts, { given: { winding_temperature: null } }), hot, false));
  assert.equal(assemble(winding, after, nobody).given.at, undefined, 'what nobody had said stays unknown');
  const before = assemble(winding, after, own);
  const cooler = patch(before, { given: { at: '20' } });
  const one = route(winding, diff(before, cooler), cooler, after, own.given);
  assert.deepEqual([one.facts, one.own.given], [{}, { at: '20' }]);
  const same = patch(before, { given: { at: '185' }, units: { at: 'degF' } });
  assert.deepEqual(route(winding, diff(before, same), same, after, own.given).own.given, { at: null }, 'it follows the job again');
});

test('limits are not filled in where something else stands in their place', () => {
  const facts = patch(nothing(), { given: { 'spec.min': '5' }, units: { 'spec.min': 'ohm' } });
  assert.equal(assemble(loop, facts, emptyForm()).given['spec.min'], '5');
  assert.equal(assemble(loop, facts, { ...emptyForm(), given: { winding: '5.3' } }).given['spec.min'], undefined);
});

// ---- the rows and the one that applies

// play makes changes of facts one by one: [change, from].
const play = (...steps) =>
  steps.reduce((facts, [given, from]) => settleSpec(facts, { ...patch(facts, { given }), from: { ...facts.from, ...from } }), nothing());
const spec = ({ given }) => [given['spec.min'], given['spec.max']];
const one = [{ 'specs.0.min': '5', 'specs.0.max': '5.6' }, { specs: 'winding' }];
const two = [{ 'specs.1.min': '4', 'specs.1.max': '4.6' }, { specs: 'winding' }];

test('a single row applies by itself', () => {
  assert.deepEqual(spec(play(one)), ['5', '5.6']);
  assert.equal(play(one).from.spec, 'winding');
  assert.deepEqual(spec(play(one, [{ 'specs.0.max': '5.8' }, {}])), ['5', '5.8'], 'and follows when it is edited');
});

test('of several rows none applies until one is chosen', () => {
  assert.deepEqual(spec(play(one, two)), [undefined, undefined]);
  assert.deepEqual(specRows(play(one, two)).map(({ applies }) => applies), [false, false]);
  const chosen = play(one, two, [{ 'spec.min': '4', 'spec.max': '4.6' }, { spec: 'circuit' }]);
  assert.deepEqual(specRows(chosen).map(({ applies }) => applies), [false, true]);
  assert.deepEqual(chosen.given['specs.0.min'], '5', 'the rows stay');
  const edited = settleSpec(chosen, patch(chosen, { given: { 'specs.1.max': '4.7' } }));
  assert.deepEqual(spec(edited), ['4', '4.7'], 'the row that applies still does when it is edited');
});

// changed takes a change of a form into the facts, as a job does: [own, facts].
function changed(uses, own, facts, given) {
  const before = assemble(uses, facts, own);
  const after = patch(before, { given });
  const routed = route(uses, diff(before, after), after, facts, own.given);
  return [patch(own, routed.own), patch(facts, routed.facts)];
}

test('the limits of another winding are its circuit’s own', () => {
  const limits = (min, max) => ({ 'spec.min': min, 'spec.max': max });
  let [own, facts] = changed(circuit, emptyForm(), nothing(), limits('20', '24'));
  assert.deepEqual(spec(facts), ['20', '24']);
  [own, facts] = changed(circuit, own, facts, { winding: 'Y2', ...limits('12', '14') });
  assert.deepEqual([spec(facts), spec(assemble(circuit, facts, own))], [['20', '24'], ['12', '14']]);
  [own, facts] = changed(circuit, own, facts, { 'spec.max': '15' });
  assert.deepEqual([spec(facts), spec(assemble(circuit, facts, own))], [['20', '24'], ['12', '15']], 'edited too');
  [own, facts] = changed(circuit, own, facts, { winding: 'Y1', ...limits('20', '24') });
  assert.equal(own.given['spec.min'], undefined, 'the same as the job’s follow it again');
  [own, facts] = changed(circuit, own, facts, { winding: 'Y2', ...limits('12', '14') });
  [own, facts] = changed(circuit, own, facts, { winding: null, ...limits('20', '24') });
  assert.deepEqual([own.given['spec.min'], ...spec(facts)], [undefined, '20', '24']);
});

test('limits typed beside what stands in their place are the form’s own', () => {
  const facts = patch(nothing(), { given: { 'spec.min': '20', 'spec.max': '24' } });
  const [own, after] = changed(loop, { ...emptyForm(), given: { winding: '21' } }, facts, { 'spec.min': '5' });
  assert.deepEqual([after, assemble(loop, after, own).given['spec.min']], [facts, '5']);
});

test('limits that are entered by hand are the only row, and beside another row they stay', () => {
  const alone = play([{ 'spec.min': '5' }, { spec: 'circuit' }], [{ 'spec.max': '5.6' }, {}]);
  assert.equal(alone.given['specs.0.min'], '5');
  assert.equal(alone.given['specs.0.max'], '5.6');
  assert.deepEqual(spec(settleSpec(alone, patch(alone, { given: { 'spec.max': '6' } }))), ['5', '6']);
  const beside = play(one, [{ 'spec.max': '7' }, { spec: 'loop' }], two);
  assert.deepEqual(spec(beside), ['5', '7'], 'what was entered by hand stays when another row comes');
});

test('a nominal figure with its tolerance gives limits; a row over a span of temperatures applies nowhere', () => {
  assert.deepEqual(spec(play([{ 'specs.0.nominal': '5', 'specs.0.tolerance': '10' }, { specs: 'winding' }])), ['4.5', '5.5']);
  const span = play([{ 'specs.0.min': '5', 'specs.0.max': '6', 'specs.0.valid_from': '0' }, { specs: 'winding' }]);
  assert.equal(specRows(span).length, 0);
});

test('undo takes back what was done here, not what came from elsewhere', () => {
  const before = { ...emptyForm(), given: { reading: '6', supply: '12' } };
  const elsewhere = diff({ ...emptyForm(), given: { supply: '12' } }, { ...emptyForm(), given: { supply: '13.8' } });
  assert.deepEqual(rebased([{ form: before }], elsewhere)[0].form.given, { reading: '6', supply: '13.8' });
  assert.ok(isNothing(diff(before, { ...before })));
});
