// The drive question: what is typed is never changed by a slider; faults, and other places.
// node --test site/test/page-drive-form.test.mjs
import assert from 'node:assert/strict';
import { base, laptop, scene, useBrowser } from './browser.mjs';
import { bring, DRIVE, given, seen, text } from './drive.mjs';
import { along, answered, beside, choose, expected, field, finger, frame, headText, held, reload, says, slider, type } from './reader.mjs';

useBrowser();

// ---- numbers and sliders

scene('typing moves the slider, and no slider changes what was typed', { at: DRIVE }, async (page) => {
  const kept = async (path, typed, value) => {
    await type(page, 'drive', path, typed);
    await page.keyboard.press('Tab');
    await frame(page);
    assert.equal(await text(page, path), typed, `drive, field ${path}: what stands in it`);
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
  await reload(page);
  assert.deepEqual(
    [await text(page, 'supply'), await text(page, 'duty'), await text(page, 'winding_temperature')],
    ['2', '130', '−40'],
    'drive, field supply: what stands in it',
  );
  assert.equal((await slider(page, 'drive', 'duty')).value, 100, 'drive, field duty: its slider');
  await type(page, 'drive', 'supply', 'abc');
  assert.equal(await text(page, 'supply'), 'abc', 'drive, field supply: what stands in it');
});

scene('a slider runs over round numbers of the unit chosen', { at: DRIVE }, async (page) => {
  const ends = (path) => page.$eval(`[id="drive-${path}-slide"]`, (r) => [r.min, r.max, r.step].map(Number));
  assert.deepEqual(await ends('winding_temperature'), [-40, 180, 1]);
  await choose(page, 'drive-winding_temperature-unit', 'degF');
  assert.deepEqual(await ends('winding_temperature'), [-40, 356, 1]);
  assert.equal(await text(page, 'winding_temperature'), '88', 'what was typed stays, in the new unit');
  assert.equal((await slider(page, 'drive', 'winding_temperature')).value, 88, 'drive, field winding_temperature: its slider');
  const s = await bring(page, 'winding_temperature', 400);
  const touch = await finger(page, along(s, s.along), along(s, 0.6), along(s, 0.7));
  await touch.up();
  const shown = await text(page, 'winding_temperature');
  assert.match(shown, /^\d+$/);
  assert.equal(
    await headText(page),
    (await expected(page, 'drive', { ...given, winding_temperature: `${shown} degF` })).head,
    'drive: the head of the answer',
  );
  assert.equal((await slider(page, 'drive', 'winding_temperature')).said, `${shown} °F`, 'drive, field winding_temperature: its slider');
  await reload(page);
  assert.deepEqual(await ends('winding_temperature'), [-40, 356, 1]);
  assert.equal((await slider(page, 'drive', 'winding_temperature')).value, Number(shown), 'drive, field winding_temperature: its slider');
});

scene('an empty field in another unit says its default in that unit', { at: DRIVE }, async (page) => {
  const holder = () => page.getAttribute(field('drive', 'thermal.ambient'), 'placeholder');
  const before = await holder();
  await choose(page, 'drive-thermal.ambient-unit', 'degF');
  assert.equal(await holder(), before, 'without a default there is none to say');
  assert.ok((await slider(page, 'drive', 'thermal.ambient')).unset, 'drive, field thermal.ambient: its slider');
});

scene('a slider writes with the reader’s decimal mark', { at: DRIVE, locale: 'de-DE' }, async (page) => {
  assert.equal(await text(page, 'supply'), '13,8', 'drive, field supply: what stands in it');
  await page.focus('[id="drive-supply-slide"]');
  await page.keyboard.press('ArrowRight');
  await frame(page);
  assert.equal(await text(page, 'supply'), '13,9', 'drive, field supply: what stands in it');
  assert.equal((await slider(page, 'drive', 'supply')).said, '13,9 V', 'drive, field supply: its slider');
  assert.equal(await answered(page), true, 'drive: the form should be answered');
});

scene(
  'sliders work without a network, and what they set is there after a reload',
  { at: DRIVE, workers: true, expects: /ERR_INTERNET_DISCONNECTED|Failed to/ },
  async (page) => {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await reload(page);
    const s = await bring(page, 'duty', 400);
    const touch = await finger(page, along(s, 0.45), along(s, 0.6), along(s, 0.7));
    await touch.up();
    const set = await text(page, 'duty');
    assert.equal(
      await headText(page),
      (await expected(page, 'drive', { ...given, duty: `${set} %` })).head,
      'drive: the head of the answer',
    );
    await reload(page);
    assert.equal(await text(page, 'duty'), set, 'drive, field duty: what stands in it');
    assert.equal((await slider(page, 'drive', 'duty')).value, Number(set), 'drive, field duty: its slider');
  },
);

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
  'an on-time longer than the period': ['on_time', '12', 'range', { on_time: '12 ms', duty: undefined }],
  'both duty and on-time': ['on_time', '1', 'conflict', { on_time: '1 ms' }],
  'both duty and target': ['target_current', '1', 'conflict', { target_current: '1 A' }],
};
for (const [name, [path, typed, code, change]] of Object.entries(wrong)) {
  scene(`${name} is told beside its field, and nothing is lost`, { at: DRIVE }, async (page) => {
    if ('duty' in change && change.duty === undefined) await page.fill(field('drive', 'duty'), '');
    const before = await held(page);
    await type(page, 'drive', path, typed);
    const asked = Object.fromEntries(Object.entries({ ...given, ...change }).filter(([, v]) => v !== undefined));
    await beside(page, 'drive', path, code, asked);
    assert.deepEqual({ ...(await held(page)).texts }, { ...before.texts, [`drive-${path}`]: typed }, 'drive: what the form holds');
  });
}

scene('a clamp below the diode drop is told beside its field', { at: DRIVE }, async (page) => {
  await choose(page, 'drive-off_path.kind', 'clamp');
  await type(page, 'drive', 'off_path.voltage', '0.4');
  await beside(page, 'drive', 'off_path.voltage', 'range', { ...given, 'off_path.kind': 'clamp', 'off_path.voltage': '0.4 V' });
});

scene('what the drive knows is taken over to the winding, the circuit and a recording', { at: DRIVE }, async (page) => {
  for (const [tool, path, value] of [
    ['winding', 'supply', '13.8'],
    ['circuit', 'supply', '13.8'],
    ['trace', 'inductance', '12'],
  ]) {
    await page.goto(`${base}#/drive`);
    await page.click(`#drive [data-carry="${tool}"]`);
    await page.waitForFunction((tool) => document.body.dataset.place === tool, tool);
    assert.equal(await page.inputValue(field(tool, path)), value, tool);
    // A resistance that may have been read is never made a specification.
    if (tool === 'winding')
      assert.deepEqual(
        await page.$$eval('#winding [data-path^="specs."] input[type=text]', (all) => all.map((i) => i.value).filter(Boolean)),
        [],
        'drive: #winding [data-path^="specs."] input[type=text]: what is read there',
      );
  }
});

scene('tapping the strip leads to what does not fit', { at: DRIVE }, async (page) => {
  await page.fill(field('drive', 'duty'), '130');
  await page.waitForSelector('#drive .head [data-verdict=refused]');
  await page.click('#drive .head');
  assert.equal(await page.evaluate(() => document.activeElement.dataset.path), 'duty', 'drive: where the focus is');
});
