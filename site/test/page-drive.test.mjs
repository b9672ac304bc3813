// The drive question on a phone: sliders under a finger, by keyboard and for a screen reader; what is typed is never changed.
// node --test site/test/page-drive.test.mjs
import assert from 'node:assert/strict';
import { along, answered, base, beside, choose, expected, field, finger, frame, headText, held, laptop, phone, ready, says, scene, slider, stored, tabTo, type, useBrowser } from './browser.mjs';

useBrowser();

const DRIVE = '#/drive?v=1&supply=13.8V&resistance=5.3ohm&winding_temperature=88degC&inductance=12mH&frequency=300Hz&duty=45%25&wiring=0.2ohm&driver=0.15ohm&driver_limit=3A';
const given = { supply: '13.8 V', resistance: '5.3 ohm', winding_temperature: '88 degC', inductance: '12 mH', frequency: '300 Hz', duty: '45 %', wiring: '0.2 ohm', driver: '0.15 ohm', driver_limit: '3 A' };
const text = (page, path) => page.inputValue(field('drive', path));
const undo = (page) => page.click('#drive .undo');

// bring scrolls a slider to a height on the screen.
const bring = async (page, path, height) => {
  await page.evaluate(([id, height]) => {
    const r = document.getElementById(id).getBoundingClientRect();
    scrollBy(0, r.y + r.height / 2 - height);
  }, [`drive-${path}-slide`, height]);
  await frame(page);
  return slider(page, 'drive', path);
};

// seen is what of the answer is in view: the head, and the drawing, neither covered nor covering the slider.
const seen = (page, path) =>
  page.evaluate((id) => {
    const box = (e) => e.getBoundingClientRect();
    const onTop = (e) => {
      const r = box(e);
      const places = [0.1, 0.5, 0.9].map((s) => document.elementFromPoint(r.x + r.width / 2, r.y + r.height * s));
      return places.every((hit) => hit && e.contains(hit)) && r.top >= 0 && r.bottom <= innerHeight;
    };
    return { head: onTop(document.querySelector('#drive .head')), drawing: onTop(document.querySelector('#drive .live .drawing')), slider: onTop(document.getElementById(id)), curve: document.querySelector('#drive .live .current').getAttribute('d') };
  }, `drive-${path}-slide`);

for (const [where, height] of [['low', 560], ['high', 250]]) {
  scene(`a slider ${where} on the screen follows the finger: number, answer and drawing, all in view`, { at: DRIVE }, async (page) => {
    const s = await bring(page, 'duty', height);
    const { curve } = await seen(page, 'duty');
    const touch = await finger(page, along(s, 0.45), along(s, 0.55));
    const curves = new Set([curve]);
    for (const share of [0.6, 0.7, 0.8]) {
      await touch.move(along(s, share));
      const number = Number(await text(page, 'duty'));
      assert.ok(Math.abs(number - 100 * share) <= 6, `${number} % at ${share}`); // a browser lets a finger rest before it drags
      assert.equal(await headText(page), (await expected(page, 'drive', { ...given, duty: `${number} %` })).head);
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
    assert.equal(await text(page, 'duty'), '45');
    assert.equal(await page.locator('#drive .live[data-beside]').count(), 0);
    assert.equal(await page.evaluate(() => document.querySelector('#drive .body').style.paddingTop), '');
  });
}

scene('held sideways, a phone still shows what follows the finger', { at: DRIVE, size: { ...phone, viewport: { width: 740, height: 360 } } }, async (page) => {
  await page.evaluate(() => document.getElementById('said').click()); // the message lies over the slider
  const s = await bring(page, 'duty', 300);
  const touch = await finger(page, along(s, 0.45), along(s, 0.6), along(s, 0.7));
  const now = await seen(page, 'duty');
  assert.deepEqual([now.head, now.drawing, now.slider], [true, true, true], JSON.stringify(now));
  await touch.up();
});

scene('a finger that goes up or down scrolls the page and moves no slider', { at: DRIVE }, async (page) => {
  const s = await bring(page, 'duty', 500);
  const before = await page.evaluate(() => scrollY);
  const [x] = along(s, 0.8);
  const touch = await finger(page, [x, s.middle], [x, s.middle - 20], [x, s.middle - 60], [x, s.middle - 120], [x, s.middle - 200]);
  await touch.up();
  assert.ok((await page.evaluate(() => scrollY)) > before + 100, 'scrolled');
  assert.equal(await text(page, 'duty'), '45');
  assert.equal((await slider(page, 'drive', 'duty')).value, 45);
  assert.equal(await page.locator('#drive .live[data-beside]').count(), 0);
  // Neither has an undo been used up.
  assert.equal((await slider(page, 'drive', 'duty')).along, 0.45);
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
    const own = await page.evaluate(([id, x]) => {
      const range = document.getElementById(id);
      range.scrollIntoView({ block: 'center' });
      const r = range.getBoundingClientRect();
      return [1, r.height / 2, r.height - 1].every((y) => document.elementFromPoint(x, r.y + y) === range);
    }, [`drive-${path}-slide`, s.x + s.width / 2]);
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
  assert.equal(await text(page, 'duty'), first);
  assert.equal((await slider(page, 'drive', 'duty')).value, Number(first), 'the slider went back too');
  await undo(page);
  assert.equal(await text(page, 'duty'), '45');
  assert.equal((await slider(page, 'drive', 'duty')).value, 45);
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
  assert.equal(await text(page, 'duty'), '59');
});

// ---- keyboard and screen reader

scene('a slider by keyboard: arrows, page up and down, home and end; one run is one step of undo', { at: DRIVE }, async (page) => {
  await page.focus(field('drive', 'duty'));
  const at = await tabTo(page, (e) => e.id === 'drive-duty-slide', 5);
  assert.ok(at.ringed);
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
  assert.equal(await headText(page), (await expected(page, 'drive', { ...given, duty: '100 %' })).head);
  const now = await seen(page, 'duty');
  assert.deepEqual([now.head, now.drawing, now.slider], [true, true, true], JSON.stringify(now));
  assert.equal(await pressed('Home'), '0');
  assert.equal((await slider(page, 'drive', 'duty')).said, '0 %');
  await undo(page);
  assert.equal(await text(page, 'duty'), '45');
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
  assert.equal((await slider(page, 'drive', 'frequency')).said, '20.0 kHz');
});

scene('a screen reader hears name, number and unit, and that nothing is set', { at: '#/drive' }, async (page) => {
  const unset = await page.evaluate(() => JSON.parse(document.getElementById('words').textContent).unset);
  for (const path of ['supply', 'frequency', 'duty']) {
    const s = await slider(page, 'drive', path);
    assert.deepEqual([s.unset, s.said], [true, unset], path);
    assert.equal(await text(page, path), '');
    const name = await page.textContent(`label[for="drive-${path}"]`);
    assert.equal(await page.getByRole('slider', { name, exact: true }).count(), 1, path);
  }
  assert.ok(Math.abs((await slider(page, 'drive', 'frequency')).along - 0.5) < 0.01, 'in the middle');
  await type(page, 'drive', 'supply', '13.8');
  const s = await slider(page, 'drive', 'supply');
  assert.deepEqual([s.unset, s.said, s.value], [false, '13.8 V', 13.8]);
  await page.fill(field('drive', 'supply'), '');
  assert.deepEqual([(await slider(page, 'drive', 'supply')).unset, (await slider(page, 'drive', 'supply')).said], [true, unset]);
});

// ---- numbers and sliders

scene('typing moves the slider, and no slider changes what was typed', { at: DRIVE }, async (page) => {
  const kept = async (path, typed, value) => {
    await type(page, 'drive', path, typed);
    await page.keyboard.press('Tab');
    await frame(page);
    assert.equal(await text(page, path), typed);
    const s = await slider(page, 'drive', path);
    assert.ok(Math.abs(s.value - value) < 1e-9, `${path} ${typed}: ${s.value}`);
  };
  await kept('supply', '13.83', 13.8);
  await kept('supply', '1.38e1', 13.8);
  await kept('supply', '12500 mV', 12.5);
  await kept('supply', '48', 32); // beyond the slider's run
  await kept('supply', '2', 6);
  await kept('duty', '0.3', 0);
  await kept('duty', '130', 100); // refused, and still no smaller than it is
  await kept('winding_temperature', '−40', -40);
  await page.reload();
  await ready(page);
  assert.deepEqual([await text(page, 'supply'), await text(page, 'duty'), await text(page, 'winding_temperature')], ['2', '130', '−40']);
  assert.equal((await slider(page, 'drive', 'duty')).value, 100);
  await type(page, 'drive', 'supply', 'abc');
  assert.equal(await text(page, 'supply'), 'abc');
});

scene('a slider runs over round numbers of the unit chosen', { at: DRIVE }, async (page) => {
  const ends = (path) => page.$eval(`[id="drive-${path}-slide"]`, (r) => [r.min, r.max, r.step].map(Number));
  assert.deepEqual(await ends('winding_temperature'), [-40, 180, 1]);
  await choose(page, 'drive-winding_temperature-unit', 'degF');
  assert.deepEqual(await ends('winding_temperature'), [-40, 356, 1]);
  assert.equal(await text(page, 'winding_temperature'), '88', 'what was typed stays, in the new unit');
  assert.equal((await slider(page, 'drive', 'winding_temperature')).value, 88);
  const s = await bring(page, 'winding_temperature', 400);
  const touch = await finger(page, along(s, s.along), along(s, 0.6), along(s, 0.7));
  await touch.up();
  const shown = await text(page, 'winding_temperature');
  assert.match(shown, /^\d+$/);
  assert.equal(await headText(page), (await expected(page, 'drive', { ...given, winding_temperature: `${shown} degF` })).head);
  assert.equal((await slider(page, 'drive', 'winding_temperature')).said, `${shown} °F`);
  await page.reload();
  await ready(page);
  assert.deepEqual(await ends('winding_temperature'), [-40, 356, 1]);
  assert.equal((await slider(page, 'drive', 'winding_temperature')).value, Number(shown));
});

scene('an empty field in another unit says its default in that unit', { at: DRIVE }, async (page) => {
  const holder = () => page.getAttribute(field('drive', 'thermal.ambient'), 'placeholder');
  const before = await holder();
  await choose(page, 'drive-thermal.ambient-unit', 'degF');
  assert.equal(await holder(), before, 'without a default there is none to say');
  assert.ok((await slider(page, 'drive', 'thermal.ambient')).unset);
});

scene('a slider writes with the reader’s decimal mark', { at: DRIVE, locale: 'de-DE' }, async (page) => {
  assert.equal(await text(page, 'supply'), '13,8');
  await page.focus('[id="drive-supply-slide"]');
  await page.keyboard.press('ArrowRight');
  await frame(page);
  assert.equal(await text(page, 'supply'), '13,9');
  assert.equal((await slider(page, 'drive', 'supply')).said, '13,9 V');
  assert.equal(await answered(page), true);
});

scene('sliders work without a network, and what they set is there after a reload', { at: DRIVE, workers: true, expects: /ERR_INTERNET_DISCONNECTED|Failed to/ }, async (page) => {
  await says(page, 'offline', 'offline');
  await page.context().setOffline(true);
  await page.reload();
  await ready(page);
  const s = await bring(page, 'duty', 400);
  const touch = await finger(page, along(s, 0.45), along(s, 0.6), along(s, 0.7));
  await touch.up();
  const set = await text(page, 'duty');
  assert.equal(await headText(page), (await expected(page, 'drive', { ...given, duty: `${set} %` })).head);
  await page.reload();
  await ready(page);
  assert.equal(await text(page, 'duty'), set);
  assert.equal((await slider(page, 'drive', 'duty')).value, Number(set));
});

scene('beside a wide form the drawing stays in view while a slider is moved', { at: DRIVE, size: laptop }, async (page) => {
  for (const path of ['supply', 'duty']) {
    const s = await bring(page, path, 500);
    await page.mouse.move(...along(s, s.along));
    await page.mouse.down();
    await page.mouse.move(...along(s, 0.3), { steps: 4 });
    await frame(page);
    const now = await seen(page, path);
    assert.deepEqual([now.head, now.drawing, now.slider], [true, true, true], `${path} ${JSON.stringify(now)}`);
    await page.mouse.up();
  }
});

// ---- faults, and other places

const wrong = {
  'duty 130 %': ['duty', '130', 'range', { duty: '130 %' }],
  'frequency 0': ['frequency', '0', 'range', { frequency: '0 Hz' }],
  'a negative inductance': ['inductance', '-3', 'range', { inductance: '-3 mH' }],
  'a target above what the supply can give': ['target_current', '40', 'range', { target_current: '40 A', duty: undefined }],
  'both duty and target': ['target_current', '1', 'conflict', { target_current: '1 A' }],
};
for (const [name, [path, typed, code, change]] of Object.entries(wrong)) {
  scene(`${name} is told beside its field, and nothing is lost`, { at: DRIVE }, async (page) => {
    if ('duty' in change && change.duty === undefined) await page.fill(field('drive', 'duty'), '');
    const before = await held(page);
    await type(page, 'drive', path, typed);
    const asked = Object.fromEntries(Object.entries({ ...given, ...change }).filter(([, v]) => v !== undefined));
    await beside(page, 'drive', path, code, asked);
    assert.deepEqual({ ...(await held(page)).texts }, { ...before.texts, [`drive-${path}`]: typed });
  });
}

scene('a clamp below the diode drop is told beside its field', { at: DRIVE }, async (page) => {
  await choose(page, 'drive-off_path.kind', 'clamp');
  await type(page, 'drive', 'off_path.voltage', '0.4');
  await beside(page, 'drive', 'off_path.voltage', 'range', { ...given, 'off_path.kind': 'clamp', 'off_path.voltage': '0.4 V' });
});

scene('what the drive knows is taken over to the winding, the circuit and a recording', { at: DRIVE }, async (page) => {
  for (const [tool, path, value] of [['winding', 'supply', '13.8'], ['circuit', 'supply', '13.8'], ['trace', 'inductance', '12']]) {
    await page.goto(`${base}#/drive`);
    await page.click(`#drive [data-carry="${tool}"]`);
    await page.waitForFunction((tool) => document.body.dataset.place === tool, tool);
    assert.equal(await page.inputValue(field(tool, path)), value, tool);
    // A resistance that may have been read is never made a specification.
    if (tool === 'winding') assert.deepEqual(await page.$$eval('#winding [data-path^="specs."] input[type=text]', (all) => all.map((i) => i.value).filter(Boolean)), []);
  }
});

scene('tapping the strip leads to what does not fit', { at: DRIVE }, async (page) => {
  await page.fill(field('drive', 'duty'), '130');
  await page.waitForSelector('#drive .head [data-verdict=refused]');
  await page.click('#drive .head');
  assert.equal(await page.evaluate(() => document.activeElement.dataset.path), 'duty');
});
