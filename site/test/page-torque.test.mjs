// The torque question on the page: the converter, a pasted table, a wide page, bad input.
// node --test site/test/page-torque.test.mjs
import assert from 'node:assert/strict';
import { laptop, scene, useBrowser } from './browser.mjs';
import { answered, beside, expected, field, focused, frame, go, headText, held, press, reload, says, type, unfold } from './reader.mjs';
import { bring, cards, drawn, long, pattern, places, tap, text, undo } from './torque.mjs';

useBrowser();

// ---- the converter

// Exact, from the definitions: 1 lbf = 4.448 221 615 260 5 N, 1 in = 0.0254 m, 1 kgf = 9.806 65 N (NIST SP 811).
const inch = 0.0254;
const pound = 4.4482216152605;
const newtonMetres = {
  'N.m': 1,
  'cN.m': 0.01,
  'lbf.in': pound * inch,
  'lbf.ft': pound * 12 * inch,
  'ozf.in': (pound * inch) / 16,
  'kgf.cm': 0.0980665,
  'kgf.m': 9.80665,
};
const shown = (page) =>
  page.$$eval('#torque .units-list li', (all) =>
    all.map((li) => {
      const r = li.getBoundingClientRect();
      return {
        unit: li.dataset.unit,
        value: Number(li.querySelector('strong').textContent.replace(',', '.')),
        size: parseFloat(getComputedStyle(li.querySelector('strong')).fontSize),
        top: r.top,
        bottom: r.bottom,
        height: li.querySelector('button').getBoundingClientRect().height,
      };
    }),
  );

const converts = async (page, value, unit) => {
  const all = await shown(page);
  assert.deepEqual(all.map((u) => u.unit).sort(), Object.keys(newtonMetres).sort());
  for (const u of all) {
    const want = (value * newtonMetres[unit]) / newtonMetres[u.unit];
    assert.ok(Math.abs(u.value / want - 1) <= 0.5001e-3, `${u.unit}: ${u.value}, not ${want}`); // four figures
  }
  return all;
};

scene(
  'one figure typed is there in every unit at once, without a network',
  { at: '#/torque', workers: true, expects: /ERR_INTERNET_DISCONNECTED|Failed to/ },
  async (page) => {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await reload(page);
    await page.tap(field('torque', 'torque'));
    await page.keyboard.type('90');
    await converts(page, 90, 'N.m');
    await page.tap('#torque [data-path="torque"] label:has(input[value="lbf.in"])');
    await converts(page, 90, 'lbf.in');
    assert.match(await headText(page), /10\.17\sN·m/);
    // All of them are in view together with the field.
    await page.evaluate(() => document.querySelector('[data-path="torque"]').scrollIntoView());
    const [top, all] = [
      await page.evaluate(() => document.querySelector('label[for="torque-torque"]').getBoundingClientRect().top),
      await shown(page),
    ];
    assert.ok(
      top >= (await page.evaluate(() => document.querySelector('#torque .strip').getBoundingClientRect().bottom)),
      'the field is in view',
    );
    for (const u of all) assert.ok(u.top >= 0 && u.bottom <= 740 && u.height >= 56, `${u.unit} ${JSON.stringify(u)}`);
    // What the wrench shows is largest, and first; a tap says so, another takes it back.
    await page.tap('#torque .units-list [data-unit="lbf.ft"] button');
    const own = await shown(page);
    const large = own.find((u) => u.unit === 'lbf.ft');
    assert.ok(large.size >= 36, `${large.size} px`);
    for (const u of own) if (u !== large) assert.ok(u.size < large.size / 1.5 && u.top > large.top && u.bottom <= 740, JSON.stringify(u));
    assert.equal(
      await page.getAttribute('#torque .units-list [data-unit="lbf.ft"] button', 'aria-pressed'),
      'true',
      'torque: #torque .units-list [data-unit="lbf.ft"] button: its aria-pressed',
    );
    assert.equal((await focused(page)).tag, 'BUTTON', 'the focus stays');
    await reload(page);
    assert.equal(await page.locator('#torque .units-list .own').getAttribute('data-unit'), 'lbf.ft');
    await page.tap('#torque .units-list [data-unit="lbf.ft"] button');
    assert.equal(await page.locator('#torque .units-list .own').count(), 0, 'torque: #torque .units-list .own: how many there are');
    await undo(page);
    assert.equal(await page.locator('#torque .units-list .own').count(), 1, 'torque: #torque .units-list .own: how many there are');
  },
);

scene('a table of several lines is kept as it was pasted, and read line by line', { at: '#/torque' }, async (page) => {
  const table = '\tN·m\tin-lb\nM6\t10\t89\nM8\t21\t155';
  await page.fill(field('torque', 'table'), table);
  const rows = await page.$$eval('#torque [data-slot="table"] li[data-line]', (all) =>
    all.map((li) => [li.dataset.line, li.dataset.verdict]),
  );
  assert.deepEqual(
    rows.filter(([line]) => line !== '1').sort(),
    [
      ['2', 'agree'],
      ['3', 'disagree'],
    ],
    JSON.stringify(rows),
  );
  await reload(page);
  assert.equal(await text(page, 'table'), table, 'torque, field table: what stands in it');
  // Enter makes a line there, and goes on to no other field.
  await page.focus(field('torque', 'table'));
  await page.keyboard.press('Control+End');
  await page.keyboard.press('Enter');
  await page.keyboard.type('M10 9 N.m');
  assert.equal((await text(page, 'table')).split('\n').length, 4, 'torque, field table: what stands in it');
  await undo(page);
  assert.equal(await text(page, 'table'), table, 'torque, field table: what stands in it');
  // A long one is read to its end.
  await page.fill(field('torque', 'table'), Array.from({ length: 60 }, () => 'M6 x 1.0 valve body to case\t10 N·m\t89 in-lb').join('\n'));
  assert.equal(await page.locator('#torque [data-slot="table"] li[data-line="60"]').getAttribute('data-verdict'), 'agree');
});

// ---- a wide page

scene(
  'the plate stays in view beside its rows, however long the answer is',
  {
    at: long,
    size: laptop,
  },
  async (page) => {
    for (const [place, scroll] of [
      ['its rows', 0],
      ['its rows', 5000],
    ]) {
      await page.evaluate((top) => {
        document.querySelector('#torque [data-list="bolts"]').scrollIntoView();
        document.querySelector('#torque .body').scrollTop = top;
      }, scroll);
      await frame(page);
      await frame(page);
      const seen = await page.evaluate(() => {
        const r = document.querySelector('#torque [data-plate]').getBoundingClientRect();
        const strip = document.querySelector('#torque .strip').getBoundingClientRect();
        const on = (y) => document.elementFromPoint(r.left + r.width / 2, y)?.closest('[data-plate]') !== null;
        return { top: r.top, bottom: r.bottom, height: r.height, strip: strip.bottom, on: [on(r.top + 5), on(r.bottom - 5)] };
      });
      assert.ok(
        seen.height > 300 && seen.top >= seen.strip && seen.bottom <= 800 && seen.on.every(Boolean),
        `${place}, ${scroll}: ${JSON.stringify(seen)}`,
      );
    }
  },
);

scene(
  'what the page holds is not seen; what is wrong with it is told all the same',
  { at: `${pattern}&progress.done=abc` },
  async (page) => {
    assert.equal(
      await page.locator('#torque [data-path^="progress."]:visible, #torque [data-group="progress"]:visible').count(),
      0,
      'torque: #torque [data-path^="progress."]:visible, #torque [data-group="progress"]:visible: how many there are',
    );
    const { notes } = await expected(page, 'torque', { torque: '10 N.m', 'pattern.count': '4', 'progress.done': 'abc' });
    assert.deepEqual(
      await page.$$eval('#torque .form-notes li', (all) => all.map((li) => li.textContent)),
      [notes['progress.done'][1]],
      'torque: #torque .form-notes li: what is read there',
    );
    assert.equal(await answered(page), true, 'torque: the form should be answered');
    assert.equal((await drawn(page)).length, 4, 'torque: the bolts that are drawn');
  },
);

// ---- bad input

scene('what cannot be is told beside its field, in plain words, and nothing is lost', { at: '#/torque' }, async (page) => {
  const given = {};
  // tell enters what is wrong, looks at what is told, and puts what is right in its place.
  const tell = async (path, wrong, unit, code, right) => {
    const before = await held(page);
    await type(page, 'torque', path, wrong);
    const asked = { ...given, [path]: `${wrong} ${unit}`.trim() };
    await beside(page, 'torque', path, code, asked);
    assert.deepEqual({ ...(await held(page)).texts }, { ...before.texts, [`torque-${path}`]: wrong }, 'torque: what the form holds');
    await page.fill(field('torque', path), right);
    given[path] = `${right} ${unit}`.trim();
    if (right === '') delete given[path];
  };
  await tell('torque', '-10', 'N.m', 'range', '10');
  await tell('torque', '0', 'N.m', 'range', '10');
  assert.equal(await answered(page), true, 'torque: the form should be answered');
  const head = await headText(page);
  await unfold(page, field('torque', 'adapter.wrench'));
  await page.fill(field('torque', 'adapter.wrench'), '300');
  given['adapter.wrench'] = '300 mm';
  await page.fill(field('torque', 'adapter.angle'), '180');
  given['adapter.angle'] = '180 deg';
  await page.fill(field('torque', 'adapter.extension'), '300');
  assert.notEqual(await headText(page), head, 'no torque as if there were no adapter');
  assert.equal(await answered(page), false, 'torque: the form should not be answered');
  await tell('adapter.extension', '400', 'mm', 'conflict', '50');
  await tell('adapter.angle', '200', 'deg', 'range', '90');
  assert.match(await headText(page), /10\sN·m/);
  await unfold(page, field('torque', 'fastener.thread'));
  await page.check('input[name="torque-fastener.class"][value="8.8"]');
  given['fastener.class'] = '8.8';
  await page.fill(field('torque', 'fastener.thread'), 'M6.5');
  const { notes } = await expected(page, 'torque', { ...given, 'fastener.thread': 'M6.5' });
  const [code] = notes['fastener.thread'];
  await tell('fastener.thread', 'M6.5', '', code, 'M6');
  await tell('fastener.friction', '0', '', 'range', '0.12');
  await tell('fastener.friction', '2', '', 'range', '0.12');
  await page.check('input[name="torque-fastener.into"][value="aluminium"]');
  given['fastener.into'] = 'aluminium';
  await tell('fastener.engagement', '0', 'mm', 'range', '9');
  await tell('pattern.count', '500', '', 'range', '4');
  assert.deepEqual(
    await page.$$eval('#torque .note', (all) => all.map((n) => n.textContent).filter(Boolean)),
    [],
    'torque: #torque .note: what is read there',
  );
  assert.equal(await page.locator('#torque .left-out').count(), 0, 'torque: #torque .left-out: how many there are');
  const form = await held(page);
  await reload(page);
  assert.deepEqual(await held(page), form, 'torque: what the form holds');
});

scene(
  'a bolt whose place is no number is shown with what is wrong',
  { at: '#/torque?v=1&torque=10N.m&bolts.0.x=20&bolts.0.y=20&bolts.1.x=abc&bolts.1.y=20' },
  async (page) => {
    assert.deepEqual(await cards(page), [1], 'its row is open, though nobody opened it');
    await beside(page, 'torque', 'bolts.1.x', 'syntax', {
      torque: '10 N.m',
      'bolts.0.x': '20',
      'bolts.0.y': '20',
      'bolts.1.x': 'abc',
      'bolts.1.y': '20',
    });
    assert.deepEqual(await drawn(page), ['1'], 'the other is drawn');
    await page.fill(field('torque', 'bolts.1.x'), '80');
    assert.equal((await drawn(page)).length, 2, 'torque: the bolts that are drawn');
  },
);

scene('a class “8,8” and 500 bolts by link are told, and nothing is dropped in silence', {}, async (page) => {
  const follow = async (query) => {
    await go(page, `#/torque?v=1&${query}`);
    await page.waitForFunction(() => document.querySelector('#torque .head')?.firstChild && history.state?.own !== undefined);
  };
  const loose = () => page.$$eval('#torque .form-notes li', (all) => all.map((li) => li.textContent));
  await follow('torque=10N.m&fastener.thread=M6&fastener.class=8,8');
  assert.match((await loose()).join(' '), /8,8.*8\.8/);
  assert.equal(await text(page, 'fastener.thread'), 'M6', 'torque, field fastener.thread: what stands in it');
  const line = Array.from({ length: 500 }, (_, i) => `bolts.${i}.x=${(i % 20) * 5}&bolts.${i}.y=${Math.floor(i / 20) * 4}`).join('&');
  await follow(`torque=10N.m&${line}`);
  assert.equal(await answered(page), true, 'the torque is answered');
  const told = await loose();
  assert.ok(told.some((note) => note.includes('800 keys') && note.includes('bolts.100.x')), `what had no room is told: ${told}`);
  assert.ok((await page.locator('#torque .form-notes').boundingBox()).height < 300, 'in little room');
  assert.equal((await places(page)).length, 100, 'torque: the places of the bolts');
  await press(page, 'undo');
  assert.equal(await text(page, 'fastener.thread'), 'M6', 'torque, field fastener.thread: what stands in it');
});

scene(
  'beyond the most that a plate may have, a tap says so',
  { at: `#/torque?v=1&torque=10N.m&pattern.kind=circle&pattern.count=100&pattern.width=90` },
  async (page) => {
    assert.equal((await drawn(page)).length, 100, 'torque: the bolts that are drawn');
    await bring(page);
    await tap(page, 50, 50);
    await says(page, 'said', 'most');
    assert.equal(await text(page, 'pattern.count'), '100', 'and changes nothing');
    assert.deepEqual(await places(page), [], 'torque: the places of the bolts');
  },
);
