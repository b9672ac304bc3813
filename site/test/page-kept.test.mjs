// What the page keeps and gives back: saving, undo, kept rows, links, and the global promise.
// node --test site/test/page-kept.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { program, run } from './program.mjs';
import {
  answered, answerText, base, choose, expected, field, headText, held, note, opened, press, ready, rowVerdicts, says, scene, stored, type, unfold, useBrowser, verdict, visit, word,
} from './browser.mjs';

useBrowser();

const fill = async (page, texts) => {
  for (const [path, text] of Object.entries(texts)) await type(page, 'winding', path, text);
};
const plain = { reading: '13', at: '24', 'specs.0.min': '12', 'specs.0.max': '14.5' };
const go = (page, hash) => page.evaluate((h) => (location.hash = h), hash);
const reload = async (page) => {
  await page.reload();
  await ready(page);
};
const said = (page) => page.textContent('#said');
const notesOf = (page) => page.$$eval('main > section:not([hidden]) form > ul li', (all) => all.map((li) => li.textContent));
const holds = (page, path, text) => page.waitForFunction(([id, text]) => document.getElementById(id)?.value === text, [`winding-${path}`, text]);

// ---- saving

scene('every keystroke is saved, and the page says so', { at: '#/winding' }, async (page) => {
  for (const [path, text] of [['reading', '13.25'], ['at', '24'], ['specs.0.name', 'a b']]) {
    for (let n = 1; n <= text.length; n++) {
      await page.locator(field('winding', path)).press(text[n - 1]);
      assert.equal(JSON.parse(await stored(page, 'winding')).given[path], text.slice(0, n));
    }
  }
  await says(page, 'saved', 'saved');
});

scene('a reload brings everything back', { at: '#/winding' }, async (page) => {
  await fill(page, { ...plain, reading: '0.026', at: '75,2', leads: 'abc' });
  await choose(page, 'winding-reading-unit', 'kohm');
  await choose(page, 'winding-at-unit', 'degF');
  await press(page, 'add');
  await fill(page, { 'specs.1.name': '  2031 on ', 'specs.1.nominal': '13', 'specs.1.tolerance': '10', 'specs.1.source': 'page 7' });
  await choose(page, 'winding-specs.1.at-unit', 'degF');
  await choose(page, 'winding-arrangement', 'series');
  await fill(page, { 'arrangement.series': '2' });
  await choose(page, 'winding-measured_at', 'component_connector');
  await unfold(page, field('winding', 'known_good.reading'));
  const [form, parts, head, answer] = [await held(page), await opened(page), await headText(page), await answerText(page)];
  assert.ok(parts.includes('fine') && parts.includes('known_good') && parts.includes('specs.1'), JSON.stringify(parts));
  await reload(page);
  assert.deepEqual(await held(page), form);
  assert.deepEqual(await opened(page), parts);
  assert.equal(await headText(page), head);
  assert.equal(await answerText(page), answer);
  assert.ok(await page.isVisible(field('winding', 'arrangement.series')));
  assert.equal(await note(page, 'winding', 'leads') !== '', true, 'what was wrong is still told');
  await fill(page, { leads: '0.1' });
  assert.equal(await answered(page), true);
  const kept = await headText(page);
  await reload(page);
  assert.equal(await headText(page), kept);
  // Another place and back.
  await go(page, '#/loop');
  await page.waitForSelector(field('loop', 'supply'));
  await go(page, '#/winding');
  await page.waitForSelector(field('winding', 'reading'));
  assert.equal(await headText(page), kept);
});

scene('the look is kept', {}, async (page) => {
  await page.check('input[name="look"][value="sun"]');
  await reload(page);
  assert.equal(await page.evaluate(() => document.documentElement.dataset.look), 'sun');
  assert.equal(await page.isChecked('input[name="look"][value="sun"]'), true);
});

for (const [name, key, init] of [
  ['forbidden', 'unsaved.forbidden', () => Object.defineProperty(globalThis, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } })],
  ['full', 'unsaved.full', () => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; }],
  ['absent', 'unsaved.forbidden', () => Object.defineProperty(globalThis, 'localStorage', { value: null })],
]) {
  scene(`storage that is ${name} is told, and the page computes`, { at: '#/winding', init }, async (page) => {
    await says(page, 'saved', key); // before anything is typed
    await fill(page, plain);
    assert.equal(await verdict(page), 'within');
    await says(page, 'saved', key);
    assert.notEqual(await page.textContent('#saved'), await word(page, 'saved'));
    await press(page, 'demo');
    assert.equal(await answered(page), true);
    await press(page, 'undo');
    assert.equal(await page.inputValue(field('winding', 'reading')), '13');
    await fill(page, { reading: '9' });
    assert.equal(await verdict(page), 'below');
  });
}

scene('storage that fills up while typing is told at that keystroke', { at: '#/winding' }, async (page) => {
  await fill(page, { reading: '13' });
  await says(page, 'saved', 'saved');
  await page.evaluate(() => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; });
  await page.locator(field('winding', 'at')).press('2');
  assert.equal(await page.textContent('#saved'), await word(page, 'unsaved.full'));
});

const newer = '{"v":2,"given":{"reading":"13"},"later":{"photos":[]}}';
const odd = ['{"v":1,"given":{"reading":13},"units":{},"rows":{},"open":[]}', '{"v":1,"given":{"reading":"13"', '\u0000', '[]', '"text"', '{"v":1,"given":{},"units":{},"rows":{"specs":1e9},"open":[]}'];
for (const [key, text, fault] of [['winding', newer, 'newer'], ...odd.map((text) => ['winding', text, 'damaged']), ['rows', newer, 'newer'], ['rows', '{"v":1,"rows":[{}]}', 'damaged'], ['rows', 'x', 'damaged']]) {
  scene(`what is kept under “${key}” and cannot be read is set aside, not deleted: ${JSON.stringify(text).slice(0, 50)}`, {}, async (page) => {
    await page.evaluate(([key, text]) => localStorage.setItem(`ohmwright/${key}`, text), [key, text]);
    await reload(page);
    await go(page, '#/winding');
    await page.waitForSelector(field('winding', 'reading'));
    const told = page.locator('main > details', { hasText: await word(page, fault) });
    assert.equal(await told.count(), 1);
    await told.locator('summary').click();
    assert.equal(await told.locator('pre').textContent(), text);
    const aside = () => page.evaluate((key) => Object.entries(localStorage).filter(([k]) => k.startsWith(`ohmwright/${key}.aside.`)), key);
    assert.deepEqual((await aside()).map(([, v]) => v), [text]);
    await fill(page, plain);
    assert.equal(await verdict(page), 'within');
    await reload(page);
    assert.equal(await page.inputValue(field('winding', 'reading')), '13');
    assert.equal((await aside()).length, 1);
    assert.equal(await page.locator('main > details').count(), 0, 'told once');
  });
}

scene('what cannot be set aside, as the storage is full, is not deleted either', {}, async (page) => {
  await page.evaluate((text) => localStorage.setItem('ohmwright/winding', text), newer);
  await page.context().addInitScript(() => { Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError'); }; });
  await reload(page);
  await go(page, '#/winding');
  await page.waitForSelector(field('winding', 'reading'));
  const left = await page.evaluate(() => Object.values(localStorage));
  assert.ok(left.includes(newer), JSON.stringify(left));
});

scene('a stored choice or unit that this page does not have leaves the form usable', {}, async (page) => {
  await page.evaluate(() =>
    localStorage.setItem('ohmwright/winding', '{"v":1,"given":{"reading":"13","at":"24","arrangement":"heap","nowhere.7":"x"},"units":{"at":"degZ"},"rows":{"specs":1,"others":3},"open":["nothing"]}'));
  await go(page, '#/winding');
  await page.waitForSelector(field('winding', 'reading'));
  assert.equal(await page.inputValue(field('winding', 'reading')), '13');
  await choose(page, 'winding-at-unit', 'degC');
  await choose(page, 'winding-arrangement', 'single');
  assert.equal(await answered(page), true);
});

// ---- undo

const step = (name, setup, act) =>
  scene(`undo takes back ${name}`, { at: '#/winding' }, async (page) => {
    await setup(page);
    const [before, head] = [await held(page), await headText(page)];
    await act(page);
    assert.notDeepEqual(await held(page), before, 'something happened');
    await press(page, 'undo');
    assert.deepEqual(await held(page), before);
    assert.equal(await headText(page), head);
    await reload(page);
    assert.deepEqual(await held(page), before, 'and it is saved');
  });

const filled = (page) => fill(page, plain);
step('typing in one field', filled, (page) => fill(page, { leads: '0.3' }));
step('a unit', filled, (page) => choose(page, 'winding-at-unit', 'degF'));
step('a choice', filled, (page) => choose(page, 'winding-measured_at', 'control_unit'));
step('the OL button', filled, (page) => page.click('[data-path="reading"] [data-put="OL"]'));
step('the sign button', filled, (page) => page.click('[data-path="at"] [data-put="sign"]'));
step('a row added', filled, (page) => press(page, 'add'));
step('a row removed', async (page) => {
  await filled(page);
  await press(page, 'add');
  await fill(page, { 'specs.1.name': 'second', 'specs.1.min': '5', 'specs.1.source': 'page 7' });
  await press(page, 'add');
  await fill(page, { 'specs.2.max': '7' });
}, (page) => page.click('[data-row="1"] [data-do="remove"]'));
step('starting anew', filled, (page) => press(page, 'clear'));
step('the example', filled, (page) => press(page, 'demo'));
step('a link opened', filled, async (page) => {
  await go(page, '#/winding?v=1&reading=9.7ohm&at=30degC');
  await holds(page, 'reading', '9.7');
});
step('a kept row used', async (page) => {
  await filled(page);
  await page.click('[data-row="0"] [data-do="keep"]');
}, (page) => press(page, 'use'));

scene('the first undo of a fresh form, and one too many', { at: '#/winding' }, async (page) => {
  await fill(page, { reading: '13' });
  await fill(page, { at: '24' });
  await press(page, 'undo');
  assert.deepEqual((await held(page)).texts, { 'winding-reading': '13' });
  await press(page, 'undo');
  assert.deepEqual((await held(page)).texts, {});
  await press(page, 'undo');
  await says(page, 'said', 'nothing');
});

scene('a row removed from the middle takes nothing of its neighbours', { at: '#/winding' }, async (page) => {
  await fill(page, { ...plain, 'specs.0.name': 'first' });
  for (const [i, name] of [[1, 'second'], [2, 'third']]) {
    await press(page, 'add');
    await fill(page, { [`specs.${i}.name`]: name, [`specs.${i}.min`]: String(20 * i) });
  }
  await choose(page, 'winding-specs.2.at-unit', 'degF');
  await page.click('[data-row="1"] [data-do="remove"]');
  assert.deepEqual(await page.$$eval('#winding input[id$=".name"]', (all) => all.map((i) => i.value)), ['first', 'third']);
  assert.equal(await page.isChecked('input[name="winding-specs.1.at-unit"][value="degF"]'), true);
  assert.deepEqual(await rowVerdicts(page), ['within', 'below']);
});

// ---- kept rows

scene('a row is kept, used again in an empty form, forgotten, and brought back', { at: '#/winding' }, async (page) => {
  await fill(page, { ...plain, 'specs.0.name': '2031 on', 'specs.0.source': 'page 7' });
  await choose(page, 'winding-specs.0.at-unit', 'degF');
  const before = await held(page);
  assert.equal(await page.isVisible('#winding [data-do="use"]'), false);
  await page.click('[data-row="0"] [data-do="keep"]');
  const use = page.locator('#winding [data-do="use"]');
  assert.equal(await use.count(), 1);
  assert.match(await use.textContent(), /2031 on/);
  assert.match(await use.textContent(), /12\D+14\.5/);
  await press(page, 'clear');
  assert.deepEqual((await held(page)).texts, {});
  await reload(page);
  await use.click();
  const after = await held(page);
  assert.deepEqual(after.texts, Object.fromEntries(Object.entries(before.texts).filter(([id]) => id.startsWith('winding-specs.0'))));
  assert.deepEqual(after.chosen, before.chosen);
  assert.equal(after.rows, 1, 'an empty card is taken first');
  await use.click();
  assert.equal((await held(page)).rows, 2);
  await press(page, 'undo');
  await press(page, 'forget');
  assert.equal(await use.count(), 0);
  assert.deepEqual(JSON.parse(await stored(page, 'rows')).rows, []);
  await press(page, 'undo');
  assert.equal(await use.count(), 1);
  assert.deepEqual(await held(page), after, 'undoing that touches nothing else');
  await reload(page);
  assert.equal(await use.count(), 1);
});

scene('undo goes back in order, over a kept row forgotten', { at: '#/winding' }, async (page) => {
  await fill(page, plain);
  await page.click('[data-row="0"] [data-do="keep"]');
  await press(page, 'forget');
  await fill(page, { reading: '9' });
  await press(page, 'undo'); // the typing came last
  assert.equal(await page.inputValue(field('winding', 'reading')), '13');
  assert.equal(await page.locator('#winding [data-do="use"]').count(), 0);
  await press(page, 'undo');
  assert.equal(await page.locator('#winding [data-do="use"]').count(), 1);
});

// ---- links

const shared = async (page) => {
  await page.context().grantPermissions(['clipboard-read', 'clipboard-write'], { origin: new URL(page.url()).origin });
  await press(page, 'share');
  await says(page, 'said', 'copied');
  return page.evaluate(() => navigator.clipboard.readText());
};

scene('a link shared gives the same answer and the same fields elsewhere', { at: '#/winding' }, async (page) => {
  await fill(page, { ...plain, at: '75.2', 'specs.0.name': 'a & b = 10% #?+é "Ω" <i>', 'specs.0.source': 'x' });
  await choose(page, 'winding-at-unit', 'degF');
  await choose(page, 'winding-arrangement', 'parallel');
  await fill(page, { 'arrangement.parallel': '1', supply: '13.8', 'known_good.reading': '12.7', 'known_good.at': '20', 'meter.percent': '0.5' });
  const [head, answer, form] = [await headText(page), await answerText(page), await held(page)];
  const link = await shared(page);
  assert.ok(link.startsWith(`${base}#/winding?v=1&`), link);
  assert.doesNotMatch(link, /[\s"<>]/);
  const other = await visit({ at: link.slice(base.length) });
  try {
    assert.equal(await headText(other), head);
    assert.equal(await answerText(other), answer);
    assert.deepEqual(await held(other), form);
    assert.deepEqual(await notesOf(other), []);
    assert.ok(!other.url().includes('?'), 'the address is tidied, so that a reload keeps later typing');
    await type(other, 'winding', 'reading', '9');
    await reload(other);
    assert.equal(await other.inputValue(field('winding', 'reading')), '9');
    // And the link of the link is the link.
    assert.deepEqual(other.faults, []);
  } finally {
    await other.context().close();
  }
});

scene('a link of a half-filled form keeps what was given', { at: '#/winding' }, async (page) => {
  await fill(page, { reading: '13', 'specs.0.min': '12' });
  const link = await shared(page);
  assert.match(link, /reading=13ohm/);
  const other = await visit({ at: link.slice(base.length) });
  try {
    assert.deepEqual((await held(other)).texts, (await held(page)).texts);
  } finally {
    await other.context().close();
  }
});

scene('without a clipboard the link is shown, to be copied by hand', { at: '#/winding' }, async (page) => {
  await fill(page, plain);
  await page.evaluate(() => Object.defineProperty(navigator, 'clipboard', { value: { writeText: () => Promise.reject(new DOMException('', 'NotAllowedError')) } }));
  await press(page, 'share');
  const link = await page.inputValue('#said input');
  assert.match(link, /#\/winding\?v=1&reading=13ohm/);
  assert.ok(await page.isVisible('#said input'));
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
  for (const cut of [whole.length - 6, whole.length - 9, whole.indexOf('specs.0.max') + 4, whole.indexOf('specs.0.min') + 7, whole.indexOf('&specs'), whole.indexOf('&at') + 2, whole.indexOf('v=1') + 1, whole.indexOf('?') + 1]) {
    const link = whole.slice(0, cut);
    await go(page, '#/');
    await page.waitForSelector('#start:not([hidden])');
    await go(page, link);
    await page.waitForFunction(() => !location.hash.includes('?') && document.body.dataset.place === 'winding');
    const reading = await page.inputValue(field('winding', 'reading'));
    assert.equal(reading, link.includes('reading=13ohm') ? '13' : '', link);
    assert.equal(await answered(page), link.includes('at=24degC'), link);
    if (/&(?:specs\.0\.m..?|a|at)$/.test(link)) assert.equal((await notesOf(page)).length, 1, `${link}: ${await notesOf(page)}`);
  }
});

scene('a link cut within the name of its tool is told', { at: '#/wind' }, async (page) => {
  assert.equal(await page.isVisible('#start'), true);
  assert.match(await said(page), /wind/);
});

for (const [name, link] of [
  ['a version from the future', '#/winding?v=2&reading=9ohm&at=24degC'],
  ['a tool that is not known', '#/anvil?v=1&reading=9ohm'],
  ['far too many bytes', `#/winding?v=1&reading=9ohm&at=24degC&specs.0.name=${'a'.repeat(300_000)}`],
]) {
  scene(`a link with ${name}: told, and the entries stay`, { at: '#/winding' }, async (page) => {
    await fill(page, plain);
    const before = await held(page);
    await go(page, link);
    await page.waitForSelector('#start:not([hidden])');
    assert.notEqual(await said(page), '');
    if (name.includes('version')) assert.match(await said(page), /\b2\b/);
    if (name.includes('tool')) assert.match(await said(page), /anvil/);
    await go(page, '#/winding');
    await page.waitForSelector('#winding:not([hidden])');
    assert.deepEqual(await held(page), before);
    assert.equal(await verdict(page), 'within');
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
    await fill(page, { ...plain, reading: '9' });
    const before = await held(page);
    await go(page, `${whole}${more}`);
    await holds(page, 'reading', '13');
    assert.equal(await answered(page), true);
    assert.equal(await verdict(page), 'within');
    const all = [...(await notesOf(page)), ...(await page.$$eval('#winding form [id$="-note"]', (all) => all.map((p) => p.textContent)))].join(' ');
    assert.match(all, told);
    await press(page, 'undo');
    assert.deepEqual(await held(page), before);
    assert.deepEqual(await notesOf(page), [], 'what was said of the link goes with it');
  });
}

scene('10% typed without its code is read', { at: '#/winding?reading=13ohm&at=24degC&specs.0.nominal=13ohm&specs.0.tolerance=10%' }, async (page) => {
  assert.equal(await page.inputValue(field('winding', 'specs.0.tolerance')), '10');
  assert.deepEqual(await rowVerdicts(page), ['within']);
  assert.deepEqual(await notesOf(page), []);
});

scene('a unit that the form has no segment for stays with the number', { at: '#/winding?reading=13000mohm&at=297.15K&specs.0.min=12ohm' }, async (page) => {
  assert.equal(await answered(page), true);
  assert.equal(await headText(page), (await expected(page, 'winding', { reading: '13 ohm', at: '24 degC', 'specs.0.min': '12 ohm' })).head);
  assert.match(await page.inputValue(field('winding', 'reading')), /13000\s*mohm/);
});

scene('the example fills both forms from the start', {}, async (page) => {
  await page.click('a[data-demo]');
  await page.waitForFunction(() => document.querySelector('#winding')?.dataset.answered === 'yes');
  assert.equal(await verdict(page), 'disagree');
  await go(page, '#/loop');
  await page.waitForSelector('#loop:not([hidden])');
  await press(page, 'demo');
  assert.equal(await answered(page), true);
});

// ---- the global promise

// same compares two responses: texts exactly, numbers to 1e-12 of their size.
function same(got, want, path = '') {
  if (typeof want === 'number') {
    assert.ok(typeof got === 'number' && Math.abs(got - want) <= 1e-12 * Math.abs(want), `${path}: ${got}; want ${want}`);
  } else if (want !== null && typeof want === 'object') {
    assert.deepEqual(Object.keys(got), Object.keys(want), path);
    for (const key of Object.keys(want)) same(got[key], want[key], `${path}.${key}`);
  } else assert.equal(got, want, path);
}

scene('ohmwright.run, tools and describe say what the command line says', {}, async (page) => {
  const cli = (...args) => JSON.parse(execFileSync(program(), args));
  const ask = (name, ...args) => page.evaluate(async ([name, args]) => (await globalThis.ohmwright)[name](...args), [name, args]).then(JSON.parse);
  assert.ok(await page.evaluate(() => globalThis.ohmwright instanceof Promise));
  const tools = cli('tools');
  same(await ask('tools'), tools);
  assert.ok(tools.length >= 2);
  for (const { tool } of tools) {
    const described = cli('describe', tool);
    same(await ask('describe', tool), described);
    same(await ask('run', tool, JSON.stringify(described.example)), run(tool, JSON.stringify(described.example)).response);
  }
  for (const request of [
    '{"reading":"13 ohm","at":"24 degC"}', '{"reading":"OL","at":"24 degC","specs":[{"min":"5 ohm"}]}', '{"reading":"9,7Ω","at":"75 degF","specs":[{"nominal":"10 ohm","tolerance":"10 %"}]}',
    '{"reading":"1,250 ohm","colour":1}', '{"reading":"1e-300 ohm","at":"-234.4 degC"}', '{"reading":"26 ohm","at":"30 degC","arrangement":{"series":2},"material":"aluminium","supply":"13.8 V","driver_limit":"1 A"}', '', '[]', '{',
  ]) {
    same(await ask('run', 'winding', request), run('winding', request).response, request);
  }
  assert.equal((await ask('run', 'anvil', '{}')).errors[0].code, 'unknown'); // where the command line speaks of its usage
});

scene('hostile requests are refused, and the module answers on', { at: '#/winding' }, async (page) => {
  const replies = await page.evaluate(async () => {
    const core = await globalThis.ohmwright;
    const odd = [
      '{', '{"reading":', '\u0000', '\ud800', '"', 'null', '[]', '{}{}', '{"reading":1e999}', 'x'.repeat(100 << 10), `{"reading":"${'9'.repeat(100 << 10)} ohm"}`,
      '['.repeat(100_000), '{"a":'.repeat(50_000), `{"specs":${'['.repeat(30_000)}${']'.repeat(30_000)}}`, `{"specs":[${'{},'.repeat(20_000)}{}]}`, '{"reading":"NaN ohm","at":"inf degC"}',
      '{"__proto__":{"reading":"1 ohm"}}', `{"${'k'.repeat(60_000)}":1}`, undefined, null, 7, {}, [], true, () => 1, Symbol('s'), 10n, { toString() { throw new Error('no'); } },
    ];
    const out = [];
    for (const request of odd) {
      for (const tool of ['winding', 'loop', 'circuit', 'code', 'exercise']) {
        try {
          out.push([String(typeof request === 'string' ? request.slice(0, 20) : typeof request), core.run(tool, request)]);
        } catch (e) {
          out.push(['thrown', String(e)]);
        }
      }
    }
    for (const tool of ['', 'anvil', 'x'.repeat(100_000), '__proto__', undefined, 3, {}]) out.push(['tool', core.run(tool, '{}')], ['describe', core.describe(tool)]);
    out.push(['none', core.run()], ['none', core.describe()], ['more', core.run('winding', '{}', 'de', 4, 5)]);
    return out;
  });
  for (const [request, text] of replies) {
    const reply = JSON.parse(text);
    assert.equal(reply.ok, false, request);
    assert.ok(reply.errors.length > 0 && reply.errors.every((e) => typeof e.code === 'string' && e.message), request);
    assert.ok(text.length < 64 << 10, `${request}: ${text.length} characters`);
  }
  await fill(page, plain);
  assert.equal(await verdict(page), 'within');
  const after = await page.evaluate(async () => JSON.parse((await globalThis.ohmwright).run('winding', '{"reading":"13 ohm","at":"24 degC"}')));
  assert.equal(after.ok, true);
});

scene('a module that stopped is told, and typing is still saved', { at: '#/winding' }, async (page) => {
  await fill(page, plain);
  await page.evaluate(() => dispatchEvent(new Event('ohmwright-ended')));
  await says(page, 'said', 'lost');
  await type(page, 'winding', 'reading', '9');
  assert.equal(JSON.parse(await stored(page, 'winding')).given.reading, '9');
  await reload(page);
  assert.equal(await verdict(page), 'below');
});

scene('two pages of one reader: the later reload finds what was typed last', { at: '#/winding' }, async (page) => {
  await fill(page, plain);
  const second = await visit({ context: page.context(), at: '#/winding' });
  assert.equal(await second.inputValue(field('winding', 'reading')), '13');
  await type(second, 'winding', 'leads', '0.3');
  await reload(page);
  assert.equal(await page.inputValue(field('winding', 'leads')), '0.3');
  assert.deepEqual(second.faults, []);
});

scene('a link with a row numbered beyond any list: it is the first row, and made at once', { at: '#/winding' }, async (page) => {
  await page.evaluate(() => { location.hash = '#/winding?v=1&reading=6ohm&at=20degC&specs.99999999.min=5ohm'; });
  await page.waitForFunction(() => document.querySelector('#winding [data-path="specs.0.min"] input')?.value === '5');
  assert.equal(await page.locator('#winding .card').count(), 1);
});
