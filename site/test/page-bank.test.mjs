// The bench sheet on the page: eight windings of two units typed down the rows, faults beside their fields, a tap to the circuit.
// node --test site/test/page-bank.test.mjs
import assert from 'node:assert/strict';
import { laptop, scene, useBrowser } from './browser.mjs';
import {
  answered, answerText, beside, codes, expected, field, focused, go, headText, held, note, press, reload, rowVerdicts, tabTo, type, verdict,
} from './reader.mjs';

useBrowser();

const this8 = ['5.61', '5.57', '3.98', '5.63', 'OL', '5.20', '5.58', '6.90'];
const second8 = ['5.58', '5.60', '5.55', '5.62', '5.57', '5.59', '5.61', '5.60'];
const facts = { at: '24', leads: '0.2', 'spec.min': '5.0', 'spec.max': '5.6' };
const MOST = 60; // taps and digits beyond the readings themselves

// A hand counts what it does: keys and taps, and apart from these the digits of readings.
const hand = (page) => ({
  beyond: 0,
  async keys(text) {
    for (const key of text) await page.keyboard.press(key);
    this.beyond += text.length;
  },
  async press(key) {
    await page.keyboard.press(key);
    this.beyond++;
  },
  async tap(selector) {
    await page.tap(selector);
    this.beyond++;
  },
  reading: (text) => page.keyboard.type(text),
});

// ofWinding asks the winding tool for each of the windings, through the page's module.
const ofWinding = (page) =>
  page.evaluate(
    async ([readings, others, facts]) => {
      const { run } = await globalThis.ohmwright;
      return readings.map((reading, i) => {
        const ohm = (text) => (text === 'OL' ? text : `${text} ohm`);
        const known_good = { reading: ohm(others[i]), at: `${facts.at} degC`, leads: `${facts.leads} ohm` };
        const request = { reading: ohm(reading), at: `${facts.at} degC`, leads: `${facts.leads} ohm`, known_good };
        request.specs = [{ min: `${facts['spec.min']} ohm`, max: `${facts['spec.max']} ohm` }];
        const { result } = JSON.parse(run('winding', JSON.stringify(request)));
        return [result.overall, result.comparison.verdict];
      });
    },
    [this8, second8, facts],
  );

// filledIn checks that the sheet holds what was typed, and that its verdicts are the winding tool's.
async function filledIn(page) {
  const { texts, rows } = await held(page);
  for (const [i, text] of this8.entries()) assert.equal(texts[`bank-windings.${i}.reading`], text, `reading ${i}`);
  for (const [i, text] of second8.entries()) assert.equal(texts[`bank-windings.${i}.other`], text, `second unit's reading ${i}`);
  assert.equal(rows - 1, 8, 'rows of windings, beside the one of pins');
  const want = await ofWinding(page);
  assert.deepEqual(await rowVerdicts(page), want.map(([overall]) => overall), 'the verdicts of the winding tool');
  assert.ok(new Set(want.flat()).size >= 5, `few verdicts were tried: ${JSON.stringify(want)}`);
  const given = Object.fromEntries(Object.entries(facts).map(([k, v]) => [k, `${v} ${k === 'at' ? 'degC' : 'ohm'}`]));
  for (let i = 0; i < 8; i++) {
    given[`windings.${i}.reading`] = this8[i] === 'OL' ? 'OL' : `${this8[i]} ohm`;
    given[`windings.${i}.other`] = `${second8[i]} ohm`;
  }
  assert.equal(await headText(page), (await expected(page, 'bank', given)).head);
  assert.equal(await verdict(page), 'out');
}

scene('eight windings of two units by touch', { at: '' }, async (page, t) => {
  const finger = hand(page);
  await finger.tap('a.tile[href="#/bank"]');
  await page.waitForSelector('#bank:not([hidden])');
  for (const [path, text] of Object.entries(facts)) {
    await finger.tap(field('bank', path));
    await finger.keys(text);
  }
  const next = (row, column) => finger.tap(`[data-path="windings.${row}.${column}"] [data-do="next"]`);
  await finger.tap(field('bank', 'windings.0.reading'));
  for (const [i, text] of this8.entries()) {
    if (text === 'OL') await finger.tap(`[data-path="windings.${i}.reading"] [data-put="OL"]`);
    else await finger.reading(text);
    await next(i, 'reading');
    assert.equal((await focused(page)).id, `bank-windings.${i + 1}.reading`, 'the row below, made where it is missing');
  }
  await next(8, 'reading'); // an empty row: on to the second unit
  for (const [i, text] of second8.entries()) {
    assert.equal((await focused(page)).id, `bank-windings.${i}.other`);
    await finger.reading(text);
    if (i < 7) await next(i, 'other');
  }
  await filledIn(page);
  t.diagnostic(`by touch: ${finger.beyond} taps and digits beyond the readings`);
  assert.ok(finger.beyond < MOST, `${finger.beyond} taps and digits`);
});

scene('eight windings of two units by keyboard', { at: '' }, async (page, t) => {
  const keys = hand(page);
  for (let n = 0; n < 30 && !(await focused(page))?.href?.endsWith('#/bank'); n++) await keys.press('Tab');
  await keys.press('Enter');
  await page.waitForSelector('#bank:not([hidden])');
  for (let n = 0; n < 30 && (await focused(page))?.id !== 'bank-at'; n++) await keys.press('Tab');
  for (const text of Object.values(facts)) {
    await keys.keys(text);
    await keys.press('Enter');
  }
  assert.equal((await focused(page)).id, 'bank-spec.at');
  await keys.press('Enter'); // 20 °C
  for (const readings of [this8, second8]) {
    for (const text of readings) {
      await keys.reading(text);
      await keys.press('Enter');
    }
    if (readings === this8) await keys.press('Enter');
  }
  await filledIn(page);
  t.diagnostic(`by keyboard: ${keys.beyond} keys beyond the readings`);
  assert.ok(keys.beyond < MOST, `${keys.beyond} keys`);
});

scene('what is wrong is told beside its field, and nothing is lost', { at: '#/bank' }, async (page) => {
  await type(page, 'bank', 'at', '24');
  await type(page, 'bank', 'spec.min', '5.0');
  await type(page, 'bank', 'spec.max', '5.6');
  await type(page, 'bank', 'windings.0.reading', '5.4');
  await page.keyboard.press('Enter');
  await page.keyboard.type('5,x');
  const given = { at: '24 degC', 'spec.min': '5.0 ohm', 'spec.max': '5.6 ohm', 'windings.0.reading': '5.4 ohm' };
  await beside(page, 'bank', 'windings.1.reading', 'unit', { ...given, 'windings.1.reading': '5,x' });
  assert.equal(await verdict(page), 'refused', 'a verdict on the rest could be taken for that of the whole');
  assert.deepEqual(await rowVerdicts(page), ['within'], 'the rest is answered');
  assert.equal(await page.inputValue(field('bank', 'windings.1.reading')), '5,x');
  await reload(page);
  assert.equal(await page.inputValue(field('bank', 'windings.1.reading')), '5,x', 'after a reload');
  await type(page, 'bank', 'windings.1.reading', '5.3');
  assert.equal(await note(page, 'bank', 'windings.1.reading'), '');
  assert.deepEqual(await rowVerdicts(page), ['within', 'within']);
  await type(page, 'bank', 'leads', '5.35');
  await beside(page, 'bank', 'windings.1.reading', 'conflict', { ...given, leads: '5.35 ohm', 'windings.1.reading': '5.3 ohm' });
  await page.click('#bank .undo');
  assert.equal(await page.inputValue(field('bank', 'leads')), '', 'undo takes the leads back');
  assert.equal(await verdict(page), 'plausible');
});

scene('next makes no row behind an empty one, and takes it away as it goes on', { at: '#/bank' }, async (page) => {
  const rows = () => page.$$eval('[data-list="windings"] .cards > *', (all) => all.length);
  await page.focus(field('bank', 'windings.0.reading'));
  await page.keyboard.press('Enter');
  assert.equal((await focused(page)).id, 'bank-windings.0.other', 'a single empty row stays');
  assert.equal(await rows(), 1);
  await page.focus(field('bank', 'windings.0.reading'));
  for (let n = 0; n < 24; n++) {
    await page.keyboard.type('5.3');
    await page.keyboard.press('Enter');
  }
  assert.equal(await rows(), 24, 'as many as the tool takes');
  assert.equal((await focused(page)).id, 'bank-windings.0.other');
  assert.equal(await answered(page), true);
});

scene('the whole bank off by one factor condemns none', { at: '#/bank' }, async (page) => {
  const given = { at: '20degC', leads: '0ohm', 'spec.min': '5.0ohm', 'spec.max': '5.6ohm' };
  for (let i = 0; i < 8; i++) given[`windings.${i}.reading`] = '6.4ohm';
  await go(page, `#/bank?v=1&${new URLSearchParams(given)}`);
  await page.waitForFunction(() => document.getElementById('bank-windings.7.reading')?.value === '6.4');
  assert.equal(await verdict(page), 'off_together');
  assert.ok((await codes(page)).includes('off_together'));
  assert.match(await answerText(page), /seldom fail alike/);
});

scene('one tap takes a winding to its circuit, with what is known of it', { at: '#/bank' }, async (page) => {
  await press(page, 'demo');
  await page.tap('#bank-answer li[data-verdict="below"] [data-carry="circuit"]');
  await page.waitForSelector('#circuit:not([hidden])');
  const { texts } = await held(page);
  // C reads 3.98 with leads of 0.20, at 24 °C.
  assert.equal(texts['circuit-readings.0.value'], '3.78');
  assert.equal(texts['circuit-winding_temperature'], '24');
  assert.equal(texts['circuit-spec.min'], '5.0');
  assert.equal(texts['circuit-spec.max'], '5.6');
  assert.ok(await page.locator('#circuit .card input[value="resistance_component"]').isChecked(), 'read at the connector');
});

for (const [name, size] of [['a phone', undefined], ['a laptop', laptop]]) {
  scene(`on ${name} nothing is wider than the screen, and keys are large enough`, { at: '#/bank', ...(size && { size }) }, async (page) => {
    await press(page, 'demo');
    const found = await page.evaluate(() => ({
      wide: document.documentElement.scrollWidth - innerWidth,
      cut: [...document.querySelectorAll('#bank .sheet [data-down] input')].filter((i) => i.scrollWidth > i.clientWidth).map((i) => i.id),
      small: [...document.querySelectorAll('#bank .sheet .key, #bank .row-go')]
        .map((b) => b.getBoundingClientRect())
        .filter((r) => r.height > 0 && (r.width < 55.5 || r.height < 55.5)).length,
      drawn: document.querySelectorAll('#bank .bank-row').length,
    }));
    assert.deepEqual(found, { wide: 0, cut: [], small: 0, drawn: 5 });
  });
}

scene('each stop of the tabulator in the sheet is seen', { at: '#/bank' }, async (page) => {
  await page.focus(field('bank', 'at'));
  await tabTo(page, (at) => at.id === 'bank-windings.0.other', 30);
});
