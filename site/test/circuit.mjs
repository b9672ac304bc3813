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
};

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

// enter puts a reading into the card that has the focus: by its OL and 0 buttons where they say it, else by keypad.
export async function enter(page, text) {
  const id = await page.evaluate(() => document.activeElement.id);
  const path = /^circuit-(readings\.\d+\.value)$/.exec(id)?.[1];
  assert.ok(path, `the card of the point has not the focus: ${id}`);
  if (text === 'OL' || text === '0') await page.tap(`[data-path="${path}"] [data-put="${text}"]`);
  else await page.keyboard.type(text);
  assert.equal(await page.inputValue(`[id="${id}"]`), text);
  return path;
}

// chances are the percentages on the parts and of no fault; "< 1 %" counts as a half.
export const chances = (page) =>
  page.evaluate(() => {
    const texts = [...document.querySelectorAll('#circuit .part-chance'), document.querySelector('#circuit .no-fault')].map(
      (e) => e.textContent,
    );
    return texts.map((t) => {
      const [, sign, n] = /([<>]?)\s*(\d+)\s*%/.exec(t);
      return sign === '<' ? n - 0.5 : sign === '>' ? Number(n) + 0.5 : Number(n);
    });
  });
export const sum = (list) => list.reduce((a, b) => a + b, 0);
