// The circuit of the scenes, with what a meter reads on it, and a hand on its form.
import assert from 'node:assert/strict';

// An invented fault: of a winding of 5.0 to 5.6 ohm turns are shorted, 2.7 ohm are left; high side, through the case, 13.8 V.
// The rest is as the form says that it is assumed. Ohm's law gives what a meter reads.
export const ohms = { source: 0.02, driver: 0.15, harness: 0.15, lead: 0.1, winding: 2.7, ground: 0.05 };
const amperes = 13.8 / Object.values(ohms).reduce((a, b) => a + b); // 4.353
export const reads = {
  resistance_winding: '2.7',
  resistance_component: (ohms.lead + ohms.winding).toFixed(1),
  resistance_unit: (ohms.harness + ohms.lead + ohms.winding + ohms.ground).toFixed(1),
  continuity_harness: '0.2',
  insulation_harness: 'OL',
  voltage_harness_open: '0',
  voltage_pin_on: (13.8 - amperes * (ohms.source + ohms.driver)).toFixed(2),
  voltage_pin_off: '0',
  current_on: amperes.toFixed(2),
  voltage_drop_return: (amperes * ohms.ground).toFixed(2),
  voltage_unit_test_load: ((13.8 * 12) / (12 + ohms.source + ohms.driver)).toFixed(2),
  voltage_unit_feed: (13.8 - amperes * ohms.source).toFixed(2),
  voltage_unit_ground: '0',
  supply_driven: (13.8 - amperes * ohms.source).toFixed(2),
  winding_temperature: '20',
  row_applies: 'yes',
  wiggle_harness: 'steady',
  heat_component: 'steady',
};

// unitOf is the unit of a test's readings, as a request writes it; "" where the reading is a word.
export function unitOf(test) {
  if (/^(row|wiggle|heat)_/.test(test)) return '';
  if (test === 'winding_temperature') return 'degC';
  if (test === 'current_on') return 'A';
  return /^(voltage|supply)_/.test(test) ? 'V' : 'ohm';
}

// looked are the readings that have to be there before a component is condemned for its resistance.
export const looked = [
  ['row_applies', 'yes'],
  ['winding_temperature', '20degC'],
];

export const filled =
  '#/circuit?v=1&side=high&return=case&supply=13.8V&spec.min=5.0ohm&spec.max=5.6ohm&winding_temperature=20degC&code_kind=low';
export const given = {
  side: 'high',
  return: 'case',
  supply: '13.8 V',
  'spec.min': '5.0 ohm',
  'spec.max': '5.6 ohm',
  winding_temperature: '20 degC',
  code_kind: 'low',
};
export const withReadings = (list) =>
  list.map(([test, value], i) => `&readings.${i}.test=${test}&readings.${i}.value=${encodeURIComponent(value)}`).join('');
export const asRequest = (list) =>
  Object.fromEntries(
    list.flatMap(([test, value], i) => [
      [`readings.${i}.test`, test],
      [`readings.${i}.value`, value],
    ]),
  );

export const point = (test) => `#circuit .point[data-value="${test}"]`;

export const choice = (page, name, value) => page.tap(`#circuit label:has(input[name="circuit-${name}"][value="${value}"])`);

// enter puts a reading into the card that has the focus: by its OL, 0 and word buttons where they say it, else by keypad.
export async function enter(page, text) {
  const path = await page.evaluate(() => document.activeElement.closest('[data-path]')?.dataset.path);
  assert.match(path ?? '', /^readings\.\d+\.value$/, 'the card of the point has not the focus');
  const key = page.locator(`[data-path="${path}"] [data-put="${text}"]:visible`);
  if ((await key.count()) > 0) await key.tap();
  else await page.keyboard.type(text);
  assert.equal(await page.inputValue(`[id="circuit-${path}"]`), text);
  return path;
}

// chances are the percentages on the parts, of no fault and of something else; "< 1 %" counts as a half.
export const chances = (page) =>
  page.evaluate(() => {
    const texts = [...document.querySelectorAll('#circuit :is(.power-chance, .part-chance, .no-fault span)')].map((e) => e.textContent);
    return texts.map((t) => {
      const [, sign, n] = /([<>]?)\s*(\d+)\s*%/.exec(t);
      return sign === '<' ? n - 0.5 : sign === '>' ? Number(n) + 0.5 : Number(n);
    });
  });
export const sum = (list) => list.reduce((a, b) => a + b, 0);
