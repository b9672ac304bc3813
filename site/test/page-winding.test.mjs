// The winding on the page: typing, verdicts, units, the notation of whoever reads.
// node --test site/test/page-winding.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import {
  answered, answerText, choose, codes, echo, expected, field, go, headText, held, note, press, reload, rowVerdicts, shows, type, verdict,
} from './reader.mjs';
import { reads, row } from './winding.mjs';

useBrowser();

// ---- typing

scene('the answer follows every keystroke', { at: '#/winding' }, async (page) => {
  assert.equal(await verdict(page), 'waiting', 'winding: the verdict');
  assert.equal(await answered(page), false, 'winding: the form should not be answered');
  const given = {};
  const heads = [];
  for (const [path, unit, text] of [
    ['at', 'degC', '24'],
    ['reading', 'ohm', '13.25'],
    ['specs.0.min', 'ohm', '12'],
    ['specs.0.max', 'ohm', '14.5'],
  ]) {
    for (let n = 1; n <= text.length; n++) {
      await page.locator(field('winding', path)).press(text[n - 1]);
      given[path] = `${text.slice(0, n)} ${unit}`;
      const head = await headText(page);
      assert.equal(head, (await expected(page, 'winding', given)).head, JSON.stringify(given));
      heads.push(head);
    }
  }
  assert.ok(new Set(heads).size >= 5, `the head took few forms: ${JSON.stringify(heads)}`);
  assert.equal(await verdict(page), 'within', 'winding: the verdict');
  await page.focus(field('winding', 'reading'));
  await page.keyboard.press('End');
  for (let n = 0; n < 4; n++) await page.keyboard.press('Backspace');
  assert.equal(await page.inputValue(field('winding', 'reading')), '1', 'winding, field reading: what stands in it');
  assert.equal(await verdict(page), 'below', 'winding: the verdict');
});

scene('each kind of verdict', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  // No row: a corrected value, and no verdict on it.
  assert.equal(await answered(page), true, 'winding: the form should be answered');
  assert.deepEqual(await rowVerdicts(page), [], 'winding: the verdicts of the rows');
  await shows(page, 12.799); // 13 × 254.5/258.5
  await row(page, 0, '12', '14.5');
  // 13 ohm at 24 degC is 12.799 ohm at 20 degC (234.5 rule), 4 standard uncertainties inside 12 to 14.5.
  for (const [reading, kind] of [
    ['13', 'within'],
    ['9', 'below'],
    ['19', 'above'],
    ['12.2', 'undecided'],
  ]) {
    await type(page, 'winding', 'reading', reading);
    assert.equal(await verdict(page), kind, reading);
    assert.deepEqual(await rowVerdicts(page), [kind], reading);
  }
  await type(page, 'winding', 'reading', '13');
  await press(page, 'add');
  await row(page, 1, '16', '18');
  assert.equal(await verdict(page), 'rows_disagree', 'winding: the verdict');
  assert.deepEqual(await rowVerdicts(page), ['within', 'below'], 'winding: the verdicts of the rows');
  assert.ok((await codes(page)).includes('rows_disagree'), 'winding: the warnings shown');
  await page.click('[data-path="reading"] [data-put="OL"]');
  assert.equal(await verdict(page), 'open', 'winding: the verdict');
  assert.deepEqual(await rowVerdicts(page), ['above', 'above'], 'winding: the verdicts of the rows');
});

scene('a hot winding is judged at the temperature of its row', { at: '#/winding' }, async (page) => {
  // A row of 5.0 to 5.6 ohm at 20 degC: 6.6 ohm at 88 degC is 6.6 × 254.5/322.5 = 5.21 ohm.
  await reads(page, '6.6', '88');
  await row(page, 0, '4.6', '5.9');
  assert.equal(await verdict(page), 'within', 'winding: the verdict');
  await shows(page, 5.208);
  await type(page, 'winding', 'at', '20');
  assert.equal(await verdict(page), 'above', 'winding: the verdict');
});

scene('OL, 0 and the sign have buttons, and the echo says what was read', { at: '#/winding' }, async (page) => {
  await type(page, 'winding', 'at', '24');
  await page.click('[data-path="reading"] [data-put="OL"]');
  assert.equal(await page.inputValue(field('winding', 'reading')), 'OL', 'winding, field reading: what stands in it');
  assert.equal(await verdict(page), 'open', 'winding: the verdict');
  const open = await echo(page, 'winding', 'reading');
  await page.click('[data-path="reading"] [data-put="0"]');
  assert.equal(await page.inputValue(field('winding', 'reading')), '0', 'winding, field reading: what stands in it');
  const short = await echo(page, 'winding', 'reading');
  assert.ok(open && short && open !== short && !/^[\d\s.Ω]*$/.test(open + short), `${open} / ${short}`);
  assert.equal(await answered(page), true, 'winding: the form should be answered');
  assert.ok((await codes(page)).includes('near_zero'), 'winding: the warnings shown');
  await type(page, 'winding', 'reading', '13');
  const warm = await headText(page);
  await page.click('[data-path="at"] [data-put="sign"]');
  assert.match(await page.inputValue(field('winding', 'at')), /^[-\u2212]24$/);
  assert.notEqual(await headText(page), warm, 'winding: the head of the answer');
  await page.click('[data-path="at"] [data-put="sign"]');
  assert.equal(await page.inputValue(field('winding', 'at')), '24', 'winding, field at: what stands in it');
  assert.equal(await headText(page), warm, 'winding: the head of the answer');
});

scene('units are chosen beside the number', { at: '#/winding' }, async (page) => {
  await reads(page, '13', '75.2');
  await choose(page, 'winding-at-unit', 'degF');
  // 75.2 degF is 24 degC exactly.
  const head = await headText(page);
  assert.equal(head, (await expected(page, 'winding', { reading: '13 ohm', at: '24 degC' })).head);
  assert.match(await echo(page, 'winding', 'at'), /24\s*°C/);
  await choose(page, 'winding-at-unit', 'degC');
  assert.notEqual(await headText(page), head, 'winding: the head of the answer');
  await type(page, 'winding', 'reading', '0.013');
  await choose(page, 'winding-reading-unit', 'kohm');
  await type(page, 'winding', 'at', '24');
  assert.equal((await headText(page)).replace(/ ± .*/, ''), head.replace(/ ± .*/, ''), 'winding: the head of the answer');
  assert.match(await echo(page, 'winding', 'reading'), /13\s*Ω/);
  // A unit that is typed wins over the one chosen.
  await type(page, 'winding', 'reading', '13 ohm');
  assert.equal(await headText(page), head, 'winding: the head of the answer');
  // The most of a row takes the unit of its least.
  assert.equal(await page.locator('[data-path="specs.0.max"] .unit').textContent(), 'Ω');
});

scene('two in series, a loom, another metal, a driver: what is folded counts', { at: '#/winding' }, async (page) => {
  await reads(page, '26', '24');
  await choose(page, 'winding-arrangement', 'series');
  await type(page, 'winding', 'arrangement.series', '2');
  await shows(page, 12.799); // 26/2 × 254.5/258.5
  await choose(page, 'winding-material', 'aluminium');
  await shows(page, 12.794); // 13 × 248/252
  await choose(page, 'winding-measured_at', 'control_unit');
  await type(page, 'winding', 'loom', '1');
  await shows(page, 12.302); // 12.5 × 248/252
  await type(page, 'winding', 'supply', '13.8');
  await type(page, 'winding', 'driver_limit', '1');
  const shown = await page.$$eval('#winding-answer p[data-verdict]', (all) => all.map((p) => p.dataset.verdict));
  assert.deepEqual(shown, ['no']);
  await type(page, 'winding', 'known_good.reading', '13');
  await type(page, 'winding', 'known_good.at', '24');
  assert.equal(
    await page.$$eval('#winding-answer p[data-verdict]', (all) => all.length),
    2,
    'winding: #winding-answer p[data-verdict]: what is read there',
  );
});

// ---- the reader's notation

scene('a reader who writes a decimal comma', { at: '#/winding', locale: 'de-DE' }, async (page) => {
  assert.equal(
    await page.getAttribute(field('winding', 'meter.resolution'), 'placeholder'),
    '0,1',
    'winding, field meter.resolution: its placeholder',
  );
  await reads(page, '6,9', '88');
  await row(page, 0, '5,0', '5,6');
  await shows(page, 5.4451); // 6.9 × 254.5/322.5
  assert.match(await headText(page), /\d,\d+ ± 0,\d+/);
  assert.doesNotMatch(await headText(page), /\d\.\d/);
  assert.doesNotMatch((await answerText(page)).replace(/\d+\.\d+\.\d+/g, ''), /\d\.\d\d?\s*Ω/);
  assert.match(await echo(page, 'winding', 'reading'), /6,9/);
  // A point is read too, where it has one reading only.
  const head = await headText(page);
  await type(page, 'winding', 'reading', '6.9');
  assert.equal(await headText(page), head, 'winding: the head of the answer');
  await type(page, 'winding', 'reading', '1.250');
  const told = await note(page, 'winding', 'reading');
  assert.ok(/\b1[.,]250?\b/.test(told) && /\b1250\b/.test(told), told);
  assert.equal(await answered(page), false, 'winding: the form should not be answered');
  await type(page, 'winding', 'reading', '1,250');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
  const before = await held(page);
  await reload(page);
  assert.deepEqual(await held(page), before, 'winding: what the form holds');
  assert.equal(await page.inputValue(field('winding', 'reading')), '1,250', 'winding, field reading: what stands in it');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
});

// WebKit says "C" on a system that has no language set: nothing can be written in that.
const nameless = () => Object.defineProperty(Navigator.prototype, 'language', { get: () => 'C' });
scene('a browser whose language has no name is answered in English', { at: '#/winding', init: nameless, fresh: true }, async (page) => {
  assert.equal(await page.evaluate(() => navigator.language), 'C');
  await reads(page, '6.9', '88');
  await row(page, 0, '5.0', '5.6');
  assert.match(await headText(page), /\d\.\d+ ± 0\.\d+/);
});

scene('an example shows the reader’s comma, and a link opened does', { at: '#/winding', locale: 'de-DE' }, async (page) => {
  await press(page, 'demo');
  assert.equal(await page.inputValue(field('winding', 'reading')), '6,90', 'winding, field reading: what stands in it');
  const here = await headText(page);
  await go(page, '#/winding?reading=9.750ohm&at=24degC');
  await page.waitForFunction(() => document.getElementById('winding-reading').value === '9,750');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
  assert.notEqual(await headText(page), here, 'winding: the head of the answer');
});

for (const locale of ['ar-EG', 'hi-IN', 'fr-FR', 'de-CH', 'fa-IR']) {
  scene(`placeholders of ${locale} can be typed, and mean the default`, { at: '#/winding', locale }, async (page) => {
    await reads(page, '13');
    await row(page, 0, '12', '14.5');
    await type(page, 'winding', 'known_good.reading', '13');
    await type(page, 'winding', 'known_good.at', '24');
    const before = await headText(page);
    assert.equal(
      before,
      (await expected(page, 'winding', { reading: '13 ohm', at: '24 degC', 'specs.0.min': '12 ohm', 'specs.0.max': '14.5 ohm' })).head,
    );
    assert.match(before, /[a-z]{3}/i, 'a language without words of its own has the English ones');
    assert.doesNotMatch(before + (await answerText(page)), /\b(winding|sheet|caution|source)\.[a-z_]+/, 'no key stands where words should');
    const faults = await page.evaluate(() => {
      const wrong = [];
      const inputs = [...document.querySelectorAll('#winding input[type="text"][data-default]')];
      for (const input of inputs) {
        input.value = input.placeholder;
        input.dispatchEvent(new Event('input', { bubbles: true }));
        const told = document.getElementById(`${input.id}-note`).textContent;
        if (told || !/[0-9]/.test(input.placeholder)) wrong.push(`${input.id}: ${input.placeholder}: ${told}`);
      }
      return inputs.length > 5 ? wrong : ['too few fields'];
    });
    assert.deepEqual(faults, []);
    assert.equal(await headText(page), before, 'winding: the head of the answer');
  });
}
