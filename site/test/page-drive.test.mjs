// The drive question: sliders under a finger, by keyboard and for a screen reader.
// node --test site/test/page-drive.test.mjs
import assert from 'node:assert/strict';
import { phone, scene, useBrowser } from './browser.mjs';
import { bring, DRIVE, given, seen, text, undo } from './drive.mjs';
import { along, choose, expected, field, finger, frame, headText, quiet, slider, stored, tabTo, type } from './reader.mjs';

useBrowser();

for (const [where, height] of [
  ['low', 560],
  ['high', 250],
]) {
  scene(`a slider ${where} on the screen follows the finger: number, answer and drawing, all in view`, { at: DRIVE }, async (page) => {
    const s = await bring(page, 'duty', height);
    const { curve } = await seen(page, 'duty');
    const touch = await finger(page, along(s, 0.45), along(s, 0.55));
    const curves = new Set([curve]);
    for (const share of [0.6, 0.7, 0.8]) {
      await touch.move(along(s, share));
      const number = Number(await text(page, 'duty'));
      assert.ok(Math.abs(number - 100 * share) <= 6, `${number} % at ${share}`); // a browser lets a finger rest before it drags
      assert.equal(
        await headText(page),
        (await expected(page, 'drive', { ...given, duty: `${number} %` })).head,
        'drive: the head of the answer',
      );
      const now = await seen(page, 'duty');
      assert.deepEqual([now.head, now.drawing, now.slider], [true, true, true], JSON.stringify(now));
      curves.add(now.curve);
    }
    assert.equal(curves.size, 4, 'the curve is drawn anew each time');
    await touch.up();
    const last = await text(page, 'duty');
    assert.match(await stored(page, 'drive'), new RegExp(`"duty":"${last}"`));
    // A touch elsewhere gives the room back.
    await page.locator('#drive .undo').tap();
    assert.equal(await text(page, 'duty'), '45', 'drive, field duty: what stands in it');
    assert.equal(await page.locator('#drive .live[data-beside]').count(), 0, 'drive: #drive .live[data-beside]: how many there are');
    assert.equal(await page.evaluate(() => document.querySelector('#drive .body').style.paddingTop), '');
  });
}

scene(
  'held sideways, a phone still shows what follows the finger',
  { at: DRIVE, size: { ...phone, viewport: { width: 740, height: 360 } } },
  async (page) => {
    await quiet(page); // the message lies over the slider
    const s = await bring(page, 'duty', 300);
    const touch = await finger(page, along(s, 0.45), along(s, 0.6), along(s, 0.7));
    const now = await seen(page, 'duty');
    assert.deepEqual([now.head, now.drawing, now.slider], [true, true, true], JSON.stringify(now));
    await touch.up();
  },
);

scene('a finger that goes up or down scrolls the page and moves no slider', { at: DRIVE }, async (page) => {
  const s = await bring(page, 'duty', 500);
  const before = await page.evaluate(() => scrollY);
  const [x] = along(s, 0.8);
  const touch = await finger(page, [x, s.middle], [x, s.middle - 20], [x, s.middle - 60], [x, s.middle - 120], [x, s.middle - 200]);
  await touch.up();
  assert.ok((await page.evaluate(() => scrollY)) > before + 100, 'scrolled');
  assert.equal(await text(page, 'duty'), '45', 'drive, field duty: what stands in it');
  assert.equal((await slider(page, 'drive', 'duty')).value, 45, 'drive, field duty: its slider');
  assert.equal(await page.locator('#drive .live[data-beside]').count(), 0, 'drive: #drive .live[data-beside]: how many there are');
  // Neither has an undo been used up.
  assert.equal((await slider(page, 'drive', 'duty')).along, 0.45, 'drive, field duty: its slider');
  await undo(page);
  assert.equal(await text(page, 'duty'), '', 'the step before is the link that was opened');
});

scene('a tap on the track sets the slider there', { at: DRIVE }, async (page) => {
  const s = await bring(page, 'duty', 400);
  await page.touchscreen.tap(...along(s, 0.75));
  await frame(page);
  assert.ok(Math.abs(Number(await text(page, 'duty')) - 75) <= 1, await text(page, 'duty'));
});

scene('sliders are large enough for a glove', { at: DRIVE }, async (page) => {
  for (const path of ['supply', 'winding_temperature', 'frequency', 'duty']) {
    const s = await slider(page, 'drive', path);
    assert.ok(s.height >= 56, `${path} ${s.height}`);
    assert.ok(s.width >= 320, `${path} ${s.width}`);
    // All of its height is the slider's own.
    const own = await page.evaluate(
      ([id, x]) => {
        const range = document.getElementById(id);
        range.scrollIntoView({ block: 'center' });
        const r = range.getBoundingClientRect();
        return [1, r.height / 2, r.height - 1].every((y) => document.elementFromPoint(x, r.y + y) === range);
      },
      [`drive-${path}-slide`, s.x + s.width / 2],
    );
    assert.ok(own, path);
  }
  const thumb = await page.evaluate(() => getComputedStyle(document.getElementById('drive-duty-slide')).getPropertyValue('--thumb'));
  assert.ok(parseFloat(thumb) >= 44, thumb);
});

scene('each drag is one step of undo', { at: DRIVE }, async (page) => {
  const drag = async (from, to) => {
    const s = await bring(page, 'duty', 400);
    const touch = await finger(page, along(s, from), along(s, (from + to) / 2), along(s, to));
    await touch.up();
    return text(page, 'duty');
  };
  const first = await drag(0.45, 0.6);
  const second = await drag(Number(first) / 100, 0.9);
  assert.ok(Number(second) > Number(first) && Number(first) > 45, `${first} ${second}`);
  await undo(page);
  assert.equal(await text(page, 'duty'), first, 'drive, field duty: what stands in it');
  assert.equal((await slider(page, 'drive', 'duty')).value, Number(first), 'the slider went back too');
  await undo(page);
  assert.equal(await text(page, 'duty'), '45', 'drive, field duty: what stands in it');
  assert.equal((await slider(page, 'drive', 'duty')).value, 45, 'drive, field duty: its slider');
});

scene('the core is asked once for each frame, however often a finger is reported', { at: DRIVE }, async (page) => {
  const asked = await page.evaluate(async () => {
    const core = await globalThis.ohmwright;
    const { answer } = core;
    let n = 0;
    core.answer = (...args) => (n++, answer(...args));
    const range = document.getElementById('drive-duty-slide');
    const counts = [];
    for (let i = 0; i < 5; i++) {
      await new Promise((resolve) => requestAnimationFrame(resolve));
      n = 0;
      for (let j = 0; j < 10; j++) {
        range.value = 10 + 10 * i + j;
        range.dispatchEvent(new InputEvent('input', { bubbles: true }));
      }
      counts.push(n);
      await new Promise((resolve) => requestAnimationFrame(resolve));
      counts.push(n);
    }
    return counts;
  });
  assert.deepEqual(asked, [0, 1, 0, 1, 0, 1, 0, 1, 0, 1]);
  assert.equal(await text(page, 'duty'), '59', 'drive, field duty: what stands in it');
});

// ---- keyboard and screen reader

scene('a slider by keyboard: arrows, page up and down, home and end; one run is one step of undo', { at: DRIVE }, async (page) => {
  await page.focus(field('drive', 'duty'));
  const at = await tabTo(page, (e) => e.id === 'drive-duty-slide', 5);
  assert.ok(at.ringed, 'drive, field duty: its slider should have a ring when it has the focus');
  const pressed = async (key) => {
    await page.keyboard.press(key);
    await frame(page);
    return text(page, 'duty');
  };
  assert.equal(await pressed('ArrowRight'), '46');
  assert.equal(await pressed('ArrowUp'), '47');
  assert.equal(await pressed('ArrowLeft'), '46');
  const up = Number(await pressed('PageUp'));
  assert.ok(up >= 50 && up <= 60, `${up} after a page up`);
  assert.equal(await pressed('PageDown'), '46');
  assert.equal(await pressed('End'), '100');
  assert.equal(await headText(page), (await expected(page, 'drive', { ...given, duty: '100 %' })).head, 'drive: the head of the answer');
  const now = await seen(page, 'duty');
  assert.deepEqual([now.head, now.drawing, now.slider], [true, true, true], JSON.stringify(now));
  assert.equal(await pressed('Home'), '0');
  assert.equal((await slider(page, 'drive', 'duty')).said, '0 %', 'drive, field duty: its slider');
  await undo(page);
  assert.equal(await text(page, 'duty'), '45', 'drive, field duty: what stands in it');
});

scene('what a slider runs over by equal ratios it gives to three figures', { at: DRIVE }, async (page) => {
  await page.focus('[id="drive-frequency-slide"]');
  const pressed = async (key) => {
    await page.keyboard.press(key);
    await frame(page);
    return text(page, 'frequency');
  };
  assert.equal(await pressed('Home'), '5.00');
  assert.equal(await pressed('ArrowRight'), '5.12'); // 5 × 10^0.01
  assert.equal(await pressed('End'), '20000');
  await choose(page, 'drive-frequency-unit', 'kHz');
  assert.equal(await text(page, 'frequency'), '20000', 'a number typed or set stays; its unit changes');
  await page.focus('[id="drive-frequency-slide"]');
  assert.equal(await pressed('Home'), '0.00500');
  assert.equal(await pressed('End'), '20.0');
  assert.equal((await slider(page, 'drive', 'frequency')).said, '20.0 kHz', 'drive, field frequency: its slider');
});

scene('a screen reader hears name, number and unit, and that nothing is set', { at: '#/drive' }, async (page) => {
  const unset = await page.evaluate(() => JSON.parse(document.getElementById('words').textContent).unset);
  for (const path of ['supply', 'frequency', 'duty']) {
    const s = await slider(page, 'drive', path);
    assert.deepEqual([s.unset, s.said], [true, unset], path);
    assert.equal(await text(page, path), '', `drive, field ${path}: what stands in it`);
    const name = await page.textContent(`label[for="drive-${path}"]`);
    assert.equal(await page.getByRole('slider', { name, exact: true }).count(), 1, path);
  }
  assert.ok(Math.abs((await slider(page, 'drive', 'frequency')).along - 0.5) < 0.01, 'in the middle');
  await type(page, 'drive', 'supply', '13.8');
  const s = await slider(page, 'drive', 'supply');
  assert.deepEqual([s.unset, s.said, s.value], [false, '13.8 V', 13.8]);
  await page.fill(field('drive', 'supply'), '');
  assert.deepEqual(
    [(await slider(page, 'drive', 'supply')).unset, (await slider(page, 'drive', 'supply')).said],
    [true, unset],
    'drive, field supply: its slider',
  );
});
