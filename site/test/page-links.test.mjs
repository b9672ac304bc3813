// Links: shared, typed by hand, cut, with what cannot be read.
// node --test site/test/page-links.test.mjs
import assert from 'node:assert/strict';
import { base, scene, useBrowser, visit } from './browser.mjs';
import {
  answered, answerText, choose, expected, field, fill, go, headText, held, press, reload, rowVerdicts, shared, type, verdict,
  word,
} from './reader.mjs';
import { holds, notesOf, plain } from './winding.mjs';

useBrowser();

const said = (page) => page.textContent('#said');

scene('a link shared gives the same answer and the same fields elsewhere', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', { ...plain, at: '75.2', 'specs.0.name': 'a & b = 10% #?+é "Ω" <i>', 'specs.0.source': 'x' });
  await choose(page, 'winding-at-unit', 'degF');
  await choose(page, 'winding-arrangement', 'parallel');
  await fill(page, 'winding', {
    'arrangement.parallel': '1',
    supply: '13.8',
    'known_good.reading': '12.7',
    'known_good.at': '20',
    'meter.percent': '0.5',
  });
  const [head, answer, form] = [await headText(page), await answerText(page), await held(page)];
  const link = await shared(page);
  assert.ok(link.startsWith(`${base}#/winding?v=1&`), link);
  assert.doesNotMatch(link, /[\s"<>]/);
  const other = await visit({ at: link.slice(base.length) });
  try {
    assert.equal(await headText(other), head, 'winding: the head of the answer');
    assert.equal(await answerText(other), answer, 'winding: the answer');
    assert.deepEqual(await held(other), form, 'winding: what the form holds');
    assert.deepEqual(await notesOf(other), [], 'winding: what is told of no single field');
    // It has the place's name, or by now the link that the page wrote itself.
    const isTidied = await other.evaluate(() => !location.hash.includes('?') || history.state?.own !== undefined);
    assert.ok(isTidied, 'the address is tidied, so that a reload keeps later typing');
    await type(other, 'winding', 'reading', '9');
    await reload(other);
    assert.equal(await other.inputValue(field('winding', 'reading')), '9', 'winding, field reading: what stands in it');
    // And the link of the link is the link.
    assert.deepEqual(other.faults, []);
  } finally {
    await other.context().close();
  }
});

scene('a link of a half-filled form keeps what was given', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', { reading: '13', 'specs.0.min': '12' });
  const link = await shared(page);
  assert.match(link, /reading=13ohm/);
  const other = await visit({ at: link.slice(base.length) });
  try {
    assert.deepEqual((await held(other)).texts, (await held(page)).texts, 'winding: what the form holds');
  } finally {
    await other.context().close();
  }
});

scene('without a clipboard the link is shown, to be copied by hand', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await page.evaluate(() =>
    Object.defineProperty(navigator, 'clipboard', { value: { writeText: () => Promise.reject(new DOMException('', 'NotAllowedError')) } }),
  );
  await press(page, 'share');
  const link = await page.inputValue('#said input');
  assert.match(link, /#\/winding\?v=1&reading=13ohm/);
  assert.ok(await page.isVisible('#said input'), 'winding: #said input: should be seen');
});

scene('links typed by hand', {}, async (page) => {
  for (const [link, reading, at] of [
    ['#/winding?reading=9.7ohm&at=24degC', '9.7', '24'],
    ['#/winding?at=24+degC&reading=9,7+Ω', '9.7', '24'],
    ['#winding?v=1&reading=9.7 ohm&at=24 °C', '9.7', '24'],
    ['#/winding?reading=9.7%20ohm&at=24degC&', '9.7', '24'],
  ]) {
    if (await page.isVisible('#winding [data-do="clear"]')) await press(page, 'clear');
    await go(page, '#/');
    await go(page, link);
    await holds(page, 'reading', reading);
    assert.equal(await page.inputValue(field('winding', 'at')), at, link);
    assert.equal(await answered(page), true, link);
    assert.deepEqual(await notesOf(page), [], link);
    assert.equal(await headText(page), (await expected(page, 'winding', { reading: '9.7 ohm', at: '24 degC' })).head, link);
  }
});

const whole = '#/winding?v=1&reading=13ohm&at=24degC&specs.0.min=12ohm&specs.0.max=14.5ohm';

scene('a link cut anywhere opens what came before the cut, or says why not', {}, async (page) => {
  const replaced = await word(page, 'opened');
  for (const cut of [
    whole.length - 6,
    whole.length - 9,
    whole.indexOf('specs.0.max') + 4,
    whole.indexOf('specs.0.min') + 7,
    whole.indexOf('&specs'),
    whole.indexOf('&at') + 2,
    whole.indexOf('v=1') + 1,
    whole.indexOf('?') + 1,
  ]) {
    const link = whole.slice(0, cut);
    await go(page, '#/');
    await page.waitForSelector('#start:not([hidden])');
    await go(page, link);
    await page.waitForFunction(() => history.state?.own !== undefined && document.body.dataset.place === 'winding');
    const reading = await page.inputValue(field('winding', 'reading'));
    assert.equal(reading, '13', `${link}: one without a field leaves what is there`);
    assert.equal(await answered(page), true, link);
    const told = (await notesOf(page)).filter((text) => text !== replaced);
    if (/&(?:specs\.0\.m..?|a|at)$/.test(link)) assert.equal(told.length, 1, `${link}: ${told}`);
  }
});

scene('a link cut within the name of its tool is told', { at: '#/wind' }, async (page) => {
  assert.equal(await page.isVisible('#start'), true, 'winding: #start: should be seen');
  assert.match(await said(page), /wind/);
});

for (const [name, link] of [
  ['a version from the future', '#/winding?v=2&reading=9ohm&at=24degC'],
  ['a tool that is not known', '#/anvil?v=1&reading=9ohm'],
  ['far too many bytes', `#/winding?v=1&reading=9ohm&at=24degC&specs.0.name=${'a'.repeat(1_100_000)}`],
]) {
  scene(`a link with ${name}: told, and the entries stay`, { at: '#/winding' }, async (page) => {
    await fill(page, 'winding', plain);
    const before = await held(page);
    await go(page, link);
    await page.waitForSelector('#start:not([hidden])');
    assert.notEqual(await said(page), '');
    if (name.includes('version')) assert.match(await said(page), /\b2\b/);
    if (name.includes('tool')) assert.match(await said(page), /anvil/);
    await go(page, '#/winding');
    await page.waitForSelector('#winding:not([hidden])');
    assert.deepEqual(await held(page), before, 'winding: what the form holds');
    assert.equal(await verdict(page), 'within', 'winding: the verdict');
  });
}

for (const [name, more, told] of [
  ['a key that is not known', '&colour=red', /colour/],
  ['a key given twice', '&at=30degC', /at/],
  ['a version that is no number', '&v=x', /x/],
  ['a choice that is none', '&measured_at=moon', /moon/],
  ['a key below a plain field', '&reading.deep=5ohm', /reading\.deep/],
  ['keys of a prototype', '&__proto__=x&constructor.prototype.y=z', /__proto__/],
]) {
  scene(`a link with ${name}: told, the rest answered, undone`, { at: '#/winding' }, async (page) => {
    await fill(page, 'winding', { ...plain, reading: '9' });
    const before = await held(page);
    await go(page, `${whole}${more}`);
    await holds(page, 'reading', '13');
    assert.equal(await answered(page), true, 'winding: the form should be answered');
    assert.equal(await verdict(page), 'within', 'winding: the verdict');
    const all = [
      ...(await notesOf(page)),
      ...(await page.$$eval('#winding form [id$="-note"]', (all) => all.map((p) => p.textContent))),
    ].join(' ');
    assert.match(all, told);
    await press(page, 'undo');
    assert.deepEqual(await held(page), before, 'winding: what the form holds');
    assert.deepEqual(await notesOf(page), [], 'what was said of the link goes with it');
  });
}

scene(
  '10% typed without its code is read',
  { at: '#/winding?reading=13ohm&at=24degC&specs.0.nominal=13ohm&specs.0.tolerance=10%' },
  async (page) => {
    assert.equal(await page.inputValue(field('winding', 'specs.0.tolerance')), '10', 'winding, field specs.0.tolerance: what stands in it');
    assert.deepEqual(await rowVerdicts(page), ['within'], 'winding: the verdicts of the rows');
    assert.deepEqual(await notesOf(page), [], 'winding: what is told of no single field');
  },
);

scene(
  'a unit that the form has no segment for stays with the number',
  { at: '#/winding?reading=13000mohm&at=297.15K&specs.0.min=12ohm' },
  async (page) => {
    assert.equal(await answered(page), true, 'winding: the form should be answered');
    assert.equal(
      await headText(page),
      (await expected(page, 'winding', { reading: '13 ohm', at: '24 degC', 'specs.0.min': '12 ohm' })).head,
      'winding: the head of the answer',
    );
    assert.match(await page.inputValue(field('winding', 'reading')), /13000\s*mohm/);
  },
);

scene('the example fills both forms from the start', {}, async (page) => {
  await page.click('a[data-demo]');
  await page.waitForFunction(() => document.querySelector('#winding')?.dataset.answered === 'yes');
  assert.equal(await verdict(page), 'within', 'winding: the verdict');
  await go(page, '#/loop');
  await page.waitForSelector('#loop:not([hidden])');
  await press(page, 'demo');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
});

scene('a link with a row numbered beyond any list: it is the first row, and made at once', { at: '#/winding' }, async (page) => {
  await page.evaluate(() => {
    location.hash = '#/winding?v=1&reading=6ohm&at=20degC&specs.99999999.min=5ohm';
  });
  await page.waitForFunction(() => document.querySelector('#winding [data-path="specs.0.min"] input')?.value === '5');
  assert.equal(await page.locator('#winding .card').count(), 1, 'winding: #winding .card: how many there are');
});
