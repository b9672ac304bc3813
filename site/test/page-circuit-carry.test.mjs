// What comes into the circuit question and goes out of it: readings of other tools, vehicles, links.
// node --test site/test/page-circuit-carry.test.mjs
import assert from 'node:assert/strict';
import { base, scene, useBrowser, visit } from './browser.mjs';
import { choice, filled, given, point, withReadings } from './circuit.mjs';
import {
  answered, answerText, choose, expected, field, focused, go, headText, held, press, reload, says, shared, stored, type, unfold,
} from './reader.mjs';

useBrowser();

// ---- taken over from other tools

const carryFrom = async (page, tool) => {
  await go(page, `#/${tool}`);
  await page.waitForSelector(`#${tool}:not([hidden])`);
  await press(page, 'demo');
  await page.tap(`#${tool} [data-carry="circuit"]`);
  await page.waitForSelector('#circuit:not([hidden])');
};
const texts = async (page) =>
  Object.fromEntries(Object.entries((await held(page)).texts).map(([id, v]) => [id.replace('circuit-', ''), v]));

scene('a winding’s reading goes over to the circuit, with what is known, and one undo takes it back', {}, async (page) => {
  await carryFrom(page, 'winding');
  // 6.90 less leads of 0.30; the first row with both limits; 88 °C; 13.8 V.
  const got = await texts(page);
  assert.deepEqual(Object.fromEntries(Object.entries({ 'spec.at': '20', ...got }).map(([k, v]) => [k, Number(v)])), {
    'spec.at': 20,
    supply: 13.8,
    'spec.min': 5,
    'spec.max': 5.6,
    'settled.at': 20, // the good part of the example settles that row
    'settled.min': 5,
    'settled.max': 5.6,
    winding_temperature: 88,
    'readings.0.value': 6.6,
    'readings.0.at': 88, // its own: another reading may be taken at another temperature
  });
  assert.equal(
    await page.locator('#circuit .card input[value="resistance_winding"]').isChecked(),
    true,
    'circuit: #circuit .card input[value="resistance_winding"]: should be chosen',
  );
  assert.equal(
    await page.textContent('#circuit .card .picked-name'),
    'Ohms of the winding, lifted out',
    'circuit: #circuit .card .picked-name: what is read there',
  );
  await says(page, 'said', 'carried');
  assert.equal(await answered(page), false, 'circuit: the form should not be answered');
  await choice(page, 'side', 'high');
  assert.equal(await answered(page), true, 'circuit: the form should be answered');
  // The reading is taken as it was: at its temperature.
  assert.equal(
    await headText(page),
    (
      await expected(page, 'circuit', {
        side: 'high',
        supply: '13.8 V',
        'spec.min': '5.0 ohm',
        'spec.max': '5.6 ohm',
        winding_temperature: '88 degC',
        'readings.0.test': 'resistance_winding',
        'readings.0.value': '6.6 ohm',
      })
    ).head,
    'circuit: the head of the answer',
  );
  await press(page, 'undo');
  await press(page, 'undo');
  assert.deepEqual(await texts(page), {}, 'circuit: the texts in the form');
  assert.equal(await page.locator('#circuit .card').count(), 0, 'circuit: #circuit .card: how many there are');
  // The winding is as it was.
  await go(page, '#/winding');
  await page.waitForSelector('#winding:not([hidden])');
  assert.equal(await page.inputValue(field('winding', 'reading')), '6.90', 'winding, field reading: what stands in it');
});

scene(
  'limits go over with the temperature that they hold at, whatever stood there before',
  { at: `${filled}&spec.at=90degC` },
  async (page) => {
    await carryFrom(page, 'winding');
    const at = await page.inputValue(field('circuit', 'spec.at'));
    assert.ok(at === '' || Number(at) === 20, `5.0 to 5.6 Ω hold at 20 °C; the circuit now has them at ${at}`);
  },
);

scene('the same reading taken over twice counts once', { at: filled }, async (page) => {
  await carryFrom(page, 'loop');
  const head = await headText(page);
  await go(page, '#/loop');
  await page.waitForSelector('#loop:not([hidden])');
  await page.tap('#loop [data-carry="circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.equal(await headText(page), head, 'circuit: the head of the answer');
});

scene(
  'the loaded test’s current goes over, beside the readings that are there',
  { at: `${filled}${withReadings([['voltage_pin_off', '0V']])}` },
  async (page) => {
    const before = await held(page);
    await carryFrom(page, 'loop');
    const got = await texts(page);
    assert.deepEqual([got['readings.0.value'], got['readings.1.value']], ['0', '1.65']);
    assert.equal(Number(got.supply), 13.2);
    assert.equal(Number(got.winding_temperature), 88);
    assert.equal(got['spec.min'], '5.0', 'what was not given stays');
    assert.equal(
      await page.locator('[data-row="1"] input[value="current_on"]').isChecked(),
      true,
      'circuit: [data-row="1"] input[value="current_on"]: should be chosen',
    );
    const unit = page.locator('[data-row="1"] .f-reading .units input:checked');
    assert.deepEqual(await unit.evaluateAll((all) => all.map((r) => r.value)), ['A']);
    assert.equal(await answered(page), true, 'circuit: the form should be answered');
    await press(page, 'undo');
    assert.deepEqual(await held(page), before, 'circuit: what the form holds');
  },
);

scene('a code’s kind goes over', { at: '#/code' }, async (page) => {
  await carryFrom(page, 'code');
  assert.equal(
    await page.isChecked('input[name="circuit-code_kind"][value="low"]'),
    true,
    'circuit: input[name="circuit-code_kind"][value="low"]: should be chosen',
  );
  await press(page, 'undo');
  assert.equal(
    await page.isChecked('input[name="circuit-code_kind"][value="none"]'),
    true,
    'circuit: input[name="circuit-code_kind"][value="none"]: should be chosen',
  );
});

scene('OL goes over as OL', {}, async (page) => {
  await go(page, '#/winding?reading=OL&at=24degC&measured_at=component_connector');
  await page.waitForSelector('#winding [data-carry="circuit"]');
  await page.tap('#winding [data-carry="circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  assert.equal(await page.inputValue(field('circuit', 'readings.0.value')), 'OL', 'circuit, field readings.0.value: what stands in it');
  assert.equal(
    await page.isChecked('#circuit .card input[value="resistance_component"]'),
    true,
    'circuit: #circuit .card input[value="resistance_component"]: should be chosen',
  );
});

// ---- vehicles

// keptOnce keeps a vehicle under a name that is there already, forgets it and brings it back.
async function keptOnce(page, kept) {
  await unfold(page, '#circuit-vehicle');
  await page.fill('#circuit-vehicle', 'Tarn 24');
  await page.tap('#circuit [data-do="keep-vehicle"]');
  assert.equal(await kept.count(), 1, 'circuit: how many there are');
  await page.tap('#circuit .vehicles [data-do="forget"]');
  assert.equal(await kept.count(), 0, 'circuit: how many there are');
  assert.deepEqual(JSON.parse(await stored(page, 'vehicles')).rows, [], 'circuit: what the device keeps');
  await press(page, 'undo');
  assert.equal(await kept.count(), 1, 'circuit: how many there are');
  await reload(page);
  assert.equal(await kept.count(), 1, 'circuit: how many there are');
}

scene(
  'what holds for a vehicle is kept, used again, forgotten, brought back',
  { at: `${filled}${withReadings([['current_on', '4.35A']])}` },
  async (page) => {
    await type(page, 'circuit', 'minutes.resistance_component', '55');
    await type(page, 'circuit', 'costs.wrong.component', '700');
    await type(page, 'circuit', 'parameters.harness.to_ground.min', '0.5');
    await choose(page, 'circuit-spec.at-unit', 'degF');
    await type(page, 'circuit', 'spec.at', '68');
    const kept = page.locator('#circuit .vehicles [data-do="use"]');
    await unfold(page, '#circuit-vehicle');
    assert.equal(await kept.count(), 0, 'circuit: how many there are');
    await page.tap('#circuit-vehicle');
    await page.keyboard.type('Tarn 24');
    await page.tap('#circuit [data-do="keep-vehicle"]');
    assert.equal(await kept.count(), 1, 'circuit: how many there are');
    assert.match(await kept.textContent(), /Tarn 24/);
    const before = await held(page);
    await press(page, 'clear');
    await type(page, 'circuit', 'minutes.resistance_component', '5');
    await type(page, 'circuit', 'supply', '12.6');
    await reload(page);
    await unfold(page, '.vehicles [data-do="use"]');
    assert.equal(await kept.count(), 1, 'after a reload it is still there');
    await kept.tap();
    const after = await texts(page);
    assert.equal(after['minutes.resistance_component'], '55');
    assert.equal(after['costs.wrong.component'], '700');
    assert.equal(after['parameters.harness.to_ground.min'], '0.5');
    assert.deepEqual([after['spec.min'], after['spec.max'], after['spec.at']], ['5.0', '5.6', '68']);
    assert.equal(
      await page.isChecked('input[name="circuit-spec.at-unit"][value="degF"]'),
      true,
      'circuit: input[name="circuit-spec.at-unit"][value="degF"]: should be chosen',
    );
    assert.equal(
      await page.isChecked('input[name="circuit-side"][value="high"]'),
      true,
      'circuit: input[name="circuit-side"][value="high"]: should be chosen',
    );
    assert.equal(
      await page.isChecked('input[name="circuit-return"][value="case"]'),
      true,
      'circuit: input[name="circuit-return"][value="case"]: should be chosen',
    );
    assert.equal(after.supply, '12.6', 'what was measured today is no matter of the vehicle');
    assert.equal(await page.locator('#circuit .card').count(), 0, 'circuit: #circuit .card: how many there are');
    await press(page, 'undo');
    assert.equal(
      await page.inputValue(field('circuit', 'minutes.resistance_component')),
      '5',
      'circuit, field minutes.resistance_component: what stands in it',
    );
    await keptOnce(page, kept);
    assert.equal(before.rows, 1, 'circuit: the form should have had one reading before');
  },
);

scene('a vehicle without a name is asked for one', { at: filled }, async (page) => {
  await unfold(page, '#circuit-vehicle');
  await page.tap('#circuit [data-do="keep-vehicle"]');
  assert.equal((await focused(page)).id, 'circuit-vehicle', 'circuit: where the focus is');
  assert.equal(
    await page.locator('#circuit .vehicles [data-do="use"]').count(),
    0,
    'circuit: #circuit .vehicles [data-do="use"]: how many there are',
  );
});

scene('minutes change what is worth measuring next', { at: filled }, async (page) => {
  const first = await page.getAttribute('#circuit .p-next', 'data-test');
  await type(page, 'circuit', `minutes.${first}`, '600');
  assert.notEqual(await page.getAttribute('#circuit .p-next', 'data-test'), first, 'circuit: #circuit .p-next: its data-test');
  assert.equal(
    await headText(page),
    (await expected(page, 'circuit', { ...given, [`minutes.${first}`]: '600' })).head,
    'circuit: the head of the answer',
  );
});

// ---- links

// everything is a link with every field of a request that can stand beside the others, each away from its default.
const everything = () => {
  const pairs = [['v', '1']];
  const add = (path, list) => pairs.push(...list.map(([name, text]) => [path + name, text]));
  const given = (text) =>
    text
      .trim()
      .split(/\s+/)
      .map((pair) => pair.split('='));
  const numbered = (text, from) =>
    text
      .trim()
      .split(/\s+/)
      .map((name, i) => [name, String(from + i)]);
  add('', given('side=high return=case supply=13.7V spec.min=5.0ohm spec.max=5.6ohm spec.at=77degF winding_temperature=30degC'));
  add('', given('code_kind=range'));
  add('readings.', given('0.test=current_on 0.value=2400mA 1.test=resistance_component 1.value=0.0054kohm'));
  add('readings.', given('2.test=insulation_harness 2.value=OL'));
  const tests = `resistance_winding resistance_component resistance_unit continuity_harness insulation_harness insulation_component
    voltage_harness_open voltage_pin_on voltage_pin_off current_on voltage_drop_return voltage_feed voltage_unit_test_load`;
  add('minutes.', numbered(tests, 21));
  add('costs.', given('hour=75'));
  add('costs.wrong.', numbered('nothing component harness return_path control_unit', 401));
  add('meter.resistance.', given('percent=0.9 counts=3 resolution=0.1ohm'));
  add('meter.voltage.', given('percent=0.4 counts=4 resolution=0.1V'));
  add('meter.current.', given('percent=1.5 counts=5 resolution=0.1A'));
  const faults = `none winding.open winding.shorted_turns winding.high_resistance winding.to_case inner_lead.open
    inner_lead.high_resistance inner_lead.to_ground harness.open harness.high_resistance harness.to_ground harness.to_battery
    return_path.open return_path.high_resistance driver.never_on driver.always_on driver.weak`;
  add('priors.', numbered(faults, 31));
  add('parameters.harness.to_ground.', given('min=0.5ohm max=900ohm'));
  add('parameters.winding.shorted_turns.', given('min=5% max=80%'));
  add('nominal.', given('driver=0.11ohm harness=0.12ohm inner_lead=0.13ohm return_path=0.14ohm source=0.15ohm check_current=30000ohm'));
  add('checks.', given('off=3.5V on=2.9V over=5A open=50mA range=25%'));
  return pairs;
};

scene('every field of a request survives from link to form to link', {}, async (page) => {
  const pairs = everything();
  await go(page, `#/circuit?${pairs.map(([k, v]) => `${k}=${encodeURIComponent(v)}`).join('&')}`);
  await page.waitForFunction(() => document.querySelector('#circuit')?.dataset.answered === 'yes' && history.state?.own !== undefined);
  assert.deepEqual(
    await page.$$eval('#circuit .form-notes li', (all) => all.map((li) => li.textContent)),
    [],
    'circuit: #circuit .form-notes li: what is read there',
  );
  assert.deepEqual(
    await page.$$eval('#circuit .note', (all) => all.map((p) => p.textContent).filter(Boolean)),
    [],
    'circuit: #circuit .note: what is read there',
  );
  const [form, head, answer] = [await held(page), await headText(page), await answerText(page)];
  const link = await shared(page);
  const read = Object.fromEntries(new URLSearchParams(new URL(link).hash.split('?')[1]));
  const missing = pairs.filter(([k]) => !(k in read)).map(([k]) => k);
  assert.deepEqual(missing, [], 'lost on the way');
  const differ = pairs.filter(([k, v]) => read[k] !== v).map(([k, v]) => `${k}: ${v} became ${read[k]}`);
  assert.deepEqual(differ, []);
  const other = await visit({ at: link.slice(base.length) });
  try {
    assert.deepEqual(await held(other), form, 'circuit: what the form holds');
    assert.equal(await headText(other), head, 'circuit: the head of the answer');
    assert.equal(await answerText(other), answer, 'circuit: the answer');
    assert.equal(await shared(other), link, 'the link of the link is the link');
    assert.deepEqual(other.faults, []);
  } finally {
    await other.context().close();
  }
});

scene(
  'the test of a reading that is none is told, and the rest answered',
  { at: `${filled}&readings.0.test=moon&readings.0.value=5ohm&readings.1.test=current_on&readings.1.value=4.35A` },
  async (page) => {
    assert.equal(await answered(page), true, 'circuit: the form should be answered');
    const all = [
      ...(await page.$$eval('#circuit .form-notes li', (all) => all.map((li) => li.textContent))),
      await page.textContent('#circuit .cards'),
    ].join(' ');
    assert.match(all, /moon/);
    assert.match(await page.textContent(point('current_on')), /4\.35/);
  },
);

scene('what the form holds is offered to the test that is called like it, and to no other', { at: filled }, async (page) => {
  await type(page, 'circuit', 'winding_temperature', '40');
  await page.click(point('winding_temperature'));
  assert.equal(await page.locator('#circuit .same').count(), 1);
  await page.click(point('voltage_unit_ground'));
  const card = page.locator('#circuit .card.picked', { has: page.locator('input[value="winding_temperature"]:checked') });
  await card.locator('[data-do="unfold"]').click();
  await page.waitForTimeout(800); // a second tap that comes too soon does nothing
  await card.locator('[data-do="remove"]').click();
  assert.equal(await page.locator('#circuit .same').count(), 0);
});
