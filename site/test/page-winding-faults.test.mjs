// The winding on the page: what is wrong is told beside its field, and the rest is answered.
// node --test site/test/page-winding-faults.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { answered, answerText, beside, field, held, note, press, rowVerdicts, says, type, verdict } from './reader.mjs';
import { reads, row } from './winding.mjs';

useBrowser();

scene('a reading that is none is told beside the field, and nothing is lost', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await row(page, 0, '12', '14.5');
  for (const [text, code] of [
    ['-', 'syntax'],
    ['abc', 'syntax'],
    ['12 V', 'unit'],
    ['1,250', 'ambiguous'],
    ['-5', 'range'],
    ['1e400', 'range'],
    ['13 furlong', 'unit'],
    ['..', 'syntax'],
  ]) {
    await type(page, 'winding', 'reading', text);
    const unit = /[\d.,]$/.test(text) ? ' ohm' : '';
    await beside(page, 'winding', 'reading', code, {
      reading: text + unit,
      at: '24 degC',
      'specs.0.min': '12 ohm',
      'specs.0.max': '14.5 ohm',
    });
    assert.equal(await page.inputValue(field('winding', 'reading')), text, 'winding, field reading: what stands in it');
    assert.equal(await page.inputValue(field('winding', 'at')), '24', 'winding, field at: what stands in it');
    assert.equal(await answered(page), false, text);
    assert.equal(await verdict(page), 'refused', text);
    assert.equal(await answerText(page), '', `${text}: an answer of before may not stay`);
  }
  await type(page, 'winding', 'reading', '1,250');
  const both = await note(page, 'winding', 'reading');
  assert.ok(/\b1\.250?\b/.test(both) && /\b1250\b/.test(both), both);
  await type(page, 'winding', 'reading', '13');
  assert.equal(await note(page, 'winding', 'reading'), '', 'winding, field reading: nothing should be told beside it');
  assert.equal(await page.getAttribute(field('winding', 'reading'), 'aria-invalid'), 'false', 'winding, field reading: its aria-invalid');
  assert.equal(await verdict(page), 'within', 'winding: the verdict');
});

scene('a needed field left empty is told once something else was entered', { at: '#/winding' }, async (page) => {
  await page.focus(field('winding', 'reading'));
  await page.focus(field('winding', 'at'));
  assert.equal(await note(page, 'winding', 'reading'), '', 'passing through is no fault');
  await page.keyboard.type('24');
  assert.equal(await note(page, 'winding', 'reading'), '', 'not there yet is no fault');
  await page.focus(field('winding', 'reading'));
  await page.focus(field('winding', 'leads'));
  await beside(page, 'winding', 'reading', 'missing', { at: '24 degC' });
  await type(page, 'winding', 'reading', '13');
  assert.equal(await note(page, 'winding', 'reading'), '', 'winding, field reading: nothing should be told beside it');
  // Emptied again, it is told at once.
  await page.fill(field('winding', 'reading'), '');
  await beside(page, 'winding', 'reading', 'missing', { at: '24 degC' });
});

scene('leads above the reading, a temperature where copper has no resistance', { at: '#/winding' }, async (page) => {
  await reads(page, '5');
  await type(page, 'winding', 'leads', '6');
  await beside(page, 'winding', 'leads', 'conflict', { reading: '5 ohm', at: '24 degC', leads: '6 ohm' });
  assert.equal(await answered(page), false, 'winding: the form should not be answered');
  await type(page, 'winding', 'leads', '0.3');
  await type(page, 'winding', 'at', '-240');
  await beside(page, 'winding', 'at', 'range', { reading: '5 ohm', at: '-240 degC', leads: '0.3 ohm' });
  await type(page, 'winding', 'at', '24');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
});

scene('one bad row of three: the others are judged, and the bad one is named', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await row(page, 0, '12', '14.5');
  await press(page, 'add');
  await row(page, 1, '15', '11');
  await press(page, 'add');
  await row(page, 2, '16', '18');
  const given = {
    reading: '13 ohm',
    at: '24 degC',
    'specs.0.min': '12 ohm',
    'specs.0.max': '14.5 ohm',
    'specs.1.min': '15 ohm',
    'specs.1.max': '11 ohm',
    'specs.2.min': '16 ohm',
    'specs.2.max': '18 ohm',
  };
  await beside(page, 'winding', 'specs.1.min', 'conflict', given);
  assert.deepEqual(await rowVerdicts(page), ['within', 'below'], 'winding: the verdicts of the rows');
  assert.equal(await verdict(page), 'rows_disagree', 'winding: the verdict');
  // The first thing in the answer says what was left out: row 2.
  const first = await page.evaluate(() => document.querySelector('#winding-answer').firstElementChild.textContent);
  assert.match(first, /\b2\b/);
  assert.doesNotMatch(first, /\b[13]\b/);
  await type(page, 'winding', 'specs.1.max', '16');
  assert.deepEqual(await rowVerdicts(page), ['within', 'below', 'below'], 'winding: the verdicts of the rows');
});

scene('an empty row between others is no fault, and faults find their row', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await press(page, 'add');
  await press(page, 'add');
  await row(page, 2, '16', 'x');
  assert.notEqual(await note(page, 'winding', 'specs.2.max'), '', 'winding, field specs.2.max: a fault should be told beside it');
  assert.equal(
    (await note(page, 'winding', 'specs.0.min')) + (await note(page, 'winding', 'specs.1.min')),
    '',
    'winding, field specs.0.min: nothing should be told beside it',
  );
  assert.match(
    await page.evaluate(() => document.querySelector('#winding-answer').firstElementChild.textContent),
    /\b3\b/,
    'the row is named as it is numbered on the page',
  );
});

const manyRows = (n) =>
  [
    '#/winding?v=1&reading=13ohm&at=24degC',
    ...Array.from({ length: n }, (_, i) => `specs.${i}.min=12ohm&specs.${i}.max=${14 + i / 100}ohm`),
  ].join('&');

scene('60 rows are judged', { at: manyRows(60) }, async (page) => {
  assert.equal((await rowVerdicts(page)).length, 60, 'winding: the verdicts of the rows');
  assert.equal(await verdict(page), 'within', 'winding: the verdict');
});

scene('61 rows: told, and the reading still answered', { at: manyRows(60) }, async (page) => {
  await press(page, 'add');
  await row(page, 60, '12', '15');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
  assert.equal((await held(page)).rows, 61, 'winding: what the form holds');
  const told = await page.textContent('[data-note="specs"]');
  assert.match(told, /61/);
  assert.match(told, /60/);
  await press(page, 'undo');
  await press(page, 'undo');
  await press(page, 'undo');
  assert.equal((await held(page)).rows, 60, 'winding: what the form holds');
  assert.equal((await rowVerdicts(page)).length, 60, 'winding: the verdicts of the rows');
});

const paste = (page, path, text) =>
  page.evaluate(
    ([id, text]) => {
      const input = document.getElementById(id);
      input.focus();
      document.execCommand('insertText', false, text); // as a paste does: one input event, and the browser's own undo
    },
    [`winding-${path}`, text],
  );

scene('64 KiB pasted into a number is told, kept, and undone', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await page.fill(field('winding', 'leads'), '');
  await paste(page, 'leads', '7'.repeat(65536));
  assert.equal((await page.inputValue(field('winding', 'leads'))).length, 65536, 'winding, field leads: what stands in it');
  const told = (await note(page, 'winding', 'leads')) + (await page.textContent('#winding form > ul'));
  assert.notEqual(told, '');
  await says(page, 'saved', 'saved');
  await press(page, 'undo');
  assert.equal(await page.inputValue(field('winding', 'leads')), '', 'winding, field leads: what stands in it');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
});

scene('64 KiB pasted into the name of a row is told there, and the rest is answered', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await row(page, 0, '12', '14.5');
  await press(page, 'add');
  await row(page, 1, '12', '14.5');
  await paste(page, 'specs.1.name', 'long '.repeat(13108));
  assert.equal(await answered(page), true, 'the first row needs nothing of the second');
  assert.notEqual(await note(page, 'winding', 'specs.1.name'), '', 'winding, field specs.1.name: a fault should be told beside it');
});

scene('a known good part half filled: told, and the rest answered', { at: '#/winding' }, async (page) => {
  await reads(page, '13');
  await row(page, 0, '12', '14.5');
  await type(page, 'winding', 'known_good.reading', '12.5');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
  assert.equal(await verdict(page), 'within', 'winding: the verdict');
  assert.equal(await note(page, 'winding', 'known_good.at'), '', 'still at it');
  await page.focus(field('winding', 'leads'));
  await page.keyboard.type('0.1');
  await beside(page, 'winding', 'known_good.at', 'missing', {
    reading: '13 ohm',
    at: '24 degC',
    leads: '0.1 ohm',
    'known_good.reading': '12.5 ohm',
  });
  assert.equal(await verdict(page), 'within', 'winding: the verdict');
  await type(page, 'winding', 'known_good.at', '24');
  assert.equal(
    await page.$$eval('#winding-answer p[data-verdict]', (all) => all.length),
    1,
    'winding: #winding-answer p[data-verdict]: what is read there',
  );
});

scene('a fault in a folded part opens it', { at: '#/winding?v=1&reading=13ohm&at=24degC&reference=-300degC' }, async (page) => {
  assert.ok(await page.isVisible(field('winding', 'reference')), 'winding, field reference: should be seen');
  assert.notEqual(await note(page, 'winding', 'reference'), '', 'winding, field reference: a fault should be told beside it');
  assert.equal(await answered(page), true, 'the reference is not needed for the rest');
});
