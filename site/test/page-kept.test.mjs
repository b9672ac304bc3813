// What the page keeps and gives back: saving, undo, kept rows.
// node --test site/test/page-kept.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser, visit } from './browser.mjs';
import {
  answered, answerText, choose, field, fill, go, headText, held, note, opened, press, reload, rowVerdicts, says, stored, type, unfold,
  verdict, word,
} from './reader.mjs';
import { holds, plain } from './winding.mjs';

useBrowser();

// full makes storage refuse to keep anything, in the page.
const full = () => {
  Storage.prototype.setItem = () => {
    throw new DOMException('full', 'QuotaExceededError');
  };
};

// ---- saving

scene('every keystroke is saved, and the page says so', { at: '#/winding' }, async (page) => {
  for (const [path, text] of [
    ['reading', '13.25'],
    ['at', '24'],
    ['specs.0.name', 'a b'],
  ]) {
    for (let n = 1; n <= text.length; n++) {
      await page.locator(field('winding', path)).press(text[n - 1]);
      assert.equal(JSON.parse(await stored(page, 'winding')).given[path], text.slice(0, n), 'winding: what the device keeps');
    }
  }
  await says(page, 'saved', 'saved');
});

scene('a reload brings everything back', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', { ...plain, reading: '0.026', at: '75,2', leads: 'abc' });
  await choose(page, 'winding-reading-unit', 'kohm');
  await choose(page, 'winding-at-unit', 'degF');
  await press(page, 'add');
  await fill(page, 'winding', {
    'specs.1.name': '  2031 on ',
    'specs.1.nominal': '13',
    'specs.1.tolerance': '10',
    'specs.1.source': 'page 7',
  });
  await choose(page, 'winding-specs.1.at-unit', 'degF');
  await choose(page, 'winding-arrangement', 'series');
  await fill(page, 'winding', { 'arrangement.series': '2' });
  await choose(page, 'winding-measured_at', 'component_connector');
  await unfold(page, field('winding', 'known_good.reading'));
  const [form, parts, head, answer] = [await held(page), await opened(page), await headText(page), await answerText(page)];
  assert.ok(parts.includes('fine') && parts.includes('known_good') && parts.includes('specs.1'), JSON.stringify(parts));
  await reload(page);
  assert.deepEqual(await held(page), form, 'winding: what the form holds');
  assert.deepEqual(await opened(page), parts, 'winding: the parts that are open');
  assert.equal(await headText(page), head, 'winding: the head of the answer');
  assert.equal(await answerText(page), answer, 'winding: the answer');
  assert.ok(await page.isVisible(field('winding', 'arrangement.series')), 'winding, field arrangement.series: should be seen');
  assert.equal((await note(page, 'winding', 'leads')) !== '', true, 'what was wrong is still told');
  await fill(page, 'winding', { leads: '0.1' });
  assert.equal(await answered(page), true, 'winding: the form should be answered');
  const kept = await headText(page);
  await reload(page);
  assert.equal(await headText(page), kept, 'winding: the head of the answer');
  // Another place and back.
  await go(page, '#/loop');
  await page.waitForSelector(field('loop', 'supply'));
  await go(page, '#/winding');
  await page.waitForSelector(field('winding', 'reading'));
  assert.equal(await headText(page), kept, 'winding: the head of the answer');
});

scene('the look is kept', {}, async (page) => {
  await page.check('input[name="look"][value="sun"]');
  await reload(page);
  assert.equal(await page.evaluate(() => document.documentElement.dataset.look), 'sun');
  assert.equal(await page.isChecked('input[name="look"][value="sun"]'), true, 'winding: input[name="look"][value="sun"]: should be chosen');
});

for (const [name, key, init] of [
  [
    'forbidden',
    'unsaved.forbidden',
    () =>
      Object.defineProperty(globalThis, 'localStorage', {
        get() {
          throw new DOMException('no', 'SecurityError');
        },
      }),
  ],
  ['full', 'unsaved.full', full],
  ['absent', 'unsaved.forbidden', () => Object.defineProperty(globalThis, 'localStorage', { value: null })],
]) {
  scene(`storage that is ${name} is told, and the page computes`, { at: '#/winding', init, fresh: true }, async (page) => {
    await says(page, 'saved', key); // before anything is typed
    await fill(page, 'winding', plain);
    assert.equal(await verdict(page), 'within', 'winding: the verdict');
    await says(page, 'saved', key);
    assert.notEqual(await page.textContent('#saved'), await word(page, 'saved'), 'winding: #saved: what is read there');
    await press(page, 'demo');
    assert.equal(await answered(page), true, 'winding: the form should be answered');
    await press(page, 'undo');
    assert.equal(await page.inputValue(field('winding', 'reading')), '13', 'winding, field reading: what stands in it');
    await fill(page, 'winding', { reading: '9' });
    assert.equal(await verdict(page), 'below', 'winding: the verdict');
  });
}

scene('storage that fills up while typing is told at that keystroke', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', { reading: '13' });
  await says(page, 'saved', 'saved');
  await page.evaluate(full);
  await page.locator(field('winding', 'at')).press('2');
  assert.equal(await page.textContent('#saved'), await word(page, 'unsaved.full'), 'winding: #saved: what is read there');
});

const newer = '{"v":2,"given":{"reading":"13"},"later":{"photos":[]}}';
const odd = [
  '{"v":1,"given":{"reading":13},"units":{},"rows":{},"open":[]}',
  '{"v":1,"given":{"reading":"13"',
  '\u0000',
  '[]',
  '"text"',
  '{"v":1,"given":{},"units":{},"rows":{"specs":1e9},"open":[]}',
];
for (const [key, text, fault] of [
  ['winding', newer, 'newer'],
  ...odd.map((text) => ['winding', text, 'damaged']),
  ['rows', newer, 'newer'],
  ['rows', '{"v":1,"rows":[{}]}', 'damaged'],
  ['rows', 'x', 'damaged'],
]) {
  scene(
    `what is kept under “${key}” and cannot be read is set aside, not deleted: ${JSON.stringify(text).slice(0, 50)}`,
    {},
    async (page) => {
      await page.evaluate(([key, text]) => localStorage.setItem(`ohmwright/${key}`, text), [key, text]);
      await reload(page);
      await go(page, '#/winding');
      await page.waitForSelector(field('winding', 'reading'));
      const told = page.locator('main > details', { hasText: await word(page, fault) });
      assert.equal(await told.count(), 1, 'winding: how many there are');
      await told.locator('summary').click();
      assert.equal(await told.locator('pre').textContent(), text);
      const aside = () =>
        page.evaluate((key) => Object.entries(localStorage).filter(([k]) => k.startsWith(`ohmwright/${key}.aside.`)), key);
      assert.deepEqual(
        (await aside()).map(([, v]) => v),
        [text],
      );
      await fill(page, 'winding', plain);
      assert.equal(await verdict(page), 'within', 'winding: the verdict');
      await reload(page);
      assert.equal(await page.inputValue(field('winding', 'reading')), '13', 'winding, field reading: what stands in it');
      assert.equal((await aside()).length, 1);
      assert.equal(await page.locator('main > details').count(), 1, 'seen until it is deleted');
    },
  );
}

scene('what cannot be set aside, as the storage is full, is not deleted either', { fresh: true }, async (page) => {
  await page.evaluate((text) => localStorage.setItem('ohmwright/winding', text), newer);
  await page.context().addInitScript(full);
  await reload(page);
  await go(page, '#/winding');
  await page.waitForSelector(field('winding', 'reading'));
  const left = await page.evaluate(() => Object.values(localStorage));
  assert.ok(left.includes(newer), JSON.stringify(left));
});

scene('a stored choice or unit that this page does not have leaves the form usable', {}, async (page) => {
  const given = { reading: '13', at: '24', arrangement: 'heap', 'nowhere.7': 'x' };
  const kept = { v: 1, given, units: { at: 'degZ' }, rows: { specs: 1, others: 3 }, open: ['nothing'] };
  await page.evaluate((text) => localStorage.setItem('ohmwright/winding', text), JSON.stringify(kept));
  await go(page, '#/winding');
  await page.waitForSelector(field('winding', 'reading'));
  assert.equal(await page.inputValue(field('winding', 'reading')), '13', 'winding, field reading: what stands in it');
  await choose(page, 'winding-at-unit', 'degC');
  await choose(page, 'winding-arrangement', 'single');
  assert.equal(await answered(page), true, 'winding: the form should be answered');
});

// ---- undo

const step = (name, setup, act) =>
  scene(`undo takes back ${name}`, { at: '#/winding' }, async (page) => {
    await setup(page);
    const [before, head] = [await held(page), await headText(page)];
    await act(page);
    assert.notDeepEqual(await held(page), before, 'something happened');
    await press(page, 'undo');
    assert.deepEqual(await held(page), before, 'winding: what the form holds');
    assert.equal(await headText(page), head, 'winding: the head of the answer');
    await reload(page);
    assert.deepEqual(await held(page), before, 'and it is saved');
  });

const filled = (page) => fill(page, 'winding', plain);
step('typing in one field', filled, (page) => fill(page, 'winding', { leads: '0.3' }));
step('a unit', filled, (page) => choose(page, 'winding-at-unit', 'degF'));
step('a choice', filled, (page) => choose(page, 'winding-measured_at', 'control_unit'));
step('the OL button', filled, (page) => page.click('[data-path="reading"] [data-put="OL"]'));
step('the sign button', filled, (page) => page.click('[data-path="at"] [data-put="sign"]'));
step('a row added', filled, (page) => press(page, 'add'));
step(
  'a row removed',
  async (page) => {
    await filled(page);
    await press(page, 'add');
    await fill(page, 'winding', { 'specs.1.name': 'second', 'specs.1.min': '5', 'specs.1.source': 'page 7' });
    await press(page, 'add');
    await fill(page, 'winding', { 'specs.2.max': '7' });
  },
  (page) => page.click('[data-row="1"] [data-do="remove"]'),
);
step('starting anew', filled, (page) => press(page, 'clear'));
step('the example', filled, (page) => press(page, 'demo'));
step('a link opened', filled, async (page) => {
  await go(page, '#/winding?v=1&reading=9.7ohm&at=30degC');
  await holds(page, 'reading', '9.7');
});
step(
  'a kept row used',
  async (page) => {
    await filled(page);
    await page.click('[data-row="0"] [data-do="keep"]');
  },
  (page) => press(page, 'use'),
);

scene('the first undo of a fresh form, and one too many', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', { reading: '13' });
  await fill(page, 'winding', { at: '24' });
  await press(page, 'undo');
  assert.deepEqual((await held(page)).texts, { 'winding-reading': '13' }, 'winding: what the form holds');
  await press(page, 'undo');
  assert.deepEqual((await held(page)).texts, {}, 'winding: what the form holds');
  await press(page, 'undo');
  await says(page, 'said', 'nothing');
});

scene('a row removed from the middle takes nothing of its neighbours', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', { ...plain, 'specs.0.name': 'first' });
  for (const [i, name] of [
    [1, 'second'],
    [2, 'third'],
  ]) {
    await press(page, 'add');
    await fill(page, 'winding', { [`specs.${i}.name`]: name, [`specs.${i}.min`]: String(20 * i) });
  }
  await choose(page, 'winding-specs.2.at-unit', 'degF');
  await page.click('[data-row="1"] [data-do="remove"]');
  assert.deepEqual(
    await page.$$eval('#winding input[id$=".name"]', (all) => all.map((i) => i.value)),
    ['first', 'third'],
    'winding: #winding input[id$=".name"]: what is read there',
  );
  assert.equal(
    await page.isChecked('input[name="winding-specs.1.at-unit"][value="degF"]'),
    true,
    'winding: input[name="winding-specs.1.at-unit"][value="degF"]: should be chosen',
  );
  assert.deepEqual(await rowVerdicts(page), ['within', 'below'], 'winding: the verdicts of the rows');
});

// ---- kept rows

scene('a row is kept, used again in an empty form, forgotten, and brought back', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', { ...plain, 'specs.0.name': '2031 on', 'specs.0.source': 'page 7' });
  await choose(page, 'winding-specs.0.at-unit', 'degF');
  const before = await held(page);
  assert.equal(await page.isVisible('#winding [data-do="use"]'), false, 'winding: #winding [data-do="use"]: should not be seen');
  await page.click('[data-row="0"] [data-do="keep"]');
  const use = page.locator('#winding [data-do="use"]');
  assert.equal(await use.count(), 1, 'winding: how many there are');
  assert.match(await use.textContent(), /2031 on/);
  assert.match(await use.textContent(), /12\D+14\.5/);
  await press(page, 'clear');
  assert.deepEqual((await held(page)).texts, {}, 'winding: what the form holds');
  await reload(page);
  await use.click();
  const after = await held(page);
  assert.deepEqual(after.texts, Object.fromEntries(Object.entries(before.texts).filter(([id]) => id.startsWith('winding-specs.0'))));
  assert.deepEqual(after.chosen, before.chosen);
  assert.equal(after.rows, 1, 'an empty card is taken first');
  await use.click();
  assert.equal((await held(page)).rows, 2, 'winding: what the form holds');
  await press(page, 'undo');
  await press(page, 'forget');
  assert.equal(await use.count(), 0, 'winding: how many there are');
  assert.deepEqual(JSON.parse(await stored(page, 'rows')).rows, [], 'winding: what the device keeps');
  await press(page, 'undo');
  assert.equal(await use.count(), 1, 'winding: how many there are');
  assert.deepEqual(await held(page), after, 'undoing that touches nothing else');
  await reload(page);
  assert.equal(await use.count(), 1, 'winding: how many there are');
});

scene('undo goes back in order, over a kept row forgotten', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await page.click('[data-row="0"] [data-do="keep"]');
  await press(page, 'forget');
  await fill(page, 'winding', { reading: '9' });
  await press(page, 'undo'); // the typing came last
  assert.equal(await page.inputValue(field('winding', 'reading')), '13', 'winding, field reading: what stands in it');
  assert.equal(await page.locator('#winding [data-do="use"]').count(), 0, 'winding: #winding [data-do="use"]: how many there are');
  await press(page, 'undo');
  assert.equal(await page.locator('#winding [data-do="use"]').count(), 1, 'winding: #winding [data-do="use"]: how many there are');
});

// ---- at odds

scene('a module that stopped is told, and typing is still saved', { at: '#/winding' }, async (page) => {
  await fill(page, 'winding', plain);
  await page.evaluate(() => dispatchEvent(new Event('ohmwright-ended')));
  await says(page, 'said', 'lost');
  await type(page, 'winding', 'reading', '9');
  assert.equal(JSON.parse(await stored(page, 'winding')).given.reading, '9', 'winding: what the device keeps');
  await reload(page);
  assert.equal(await verdict(page), 'below', 'winding: the verdict');
});

scene('two pages of one reader: the later reload finds what was typed last', { at: '#/winding', fresh: true }, async (page) => {
  await fill(page, 'winding', plain);
  const second = await visit({ context: page.context(), at: '#/winding' });
  assert.equal(await second.inputValue(field('winding', 'reading')), '13', 'winding, field reading: what stands in it');
  await type(second, 'winding', 'leads', '0.3');
  await reload(page);
  assert.equal(await page.inputValue(field('winding', 'leads')), '0.3', 'winding, field leads: what stands in it');
  assert.deepEqual(second.faults, []);
});
