// A recording kept on the device: long ones, too long ones, undo.
// node --test site/test/page-trace-kept.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { answered, field, focused, note, press, quiet, reload, says, stored, type } from './reader.mjs';
import { answers, csv, gone, kept, long, pick, ramp, read, short, SUPPLY, undo } from './trace.mjs';

useBrowser();

scene('a recording of a megabyte is there after a reload, and is not written again at each keystroke', { at: SUPPLY }, async (page) => {
  const megabyte = ramp(45_000, 9)
    .slice(0, 1 << 20)
    .replace(/\n[^\n]*$/, '\n');
  assert.ok(megabyte.length > (1 << 20) - 40, `a recording of a megabyte was wanted, not of ${megabyte.length} bytes`);
  await pick(page, csv(megabyte, 'megabyte.csv'));
  await read(page, 'megabyte.csv');
  await answers(page, megabyte);
  assert.equal(await kept(page), megabyte, 'trace: the recording that the device keeps');
  assert.ok((await stored(page, 'trace')).length < 2000, 'the form itself is short');
  await page.evaluate(() => {
    globalThis.written = [];
    const { setItem } = Storage.prototype;
    Storage.prototype.setItem = function (key, text) {
      // The window's own memory, of the address, is written whenever that follows, which may be now.
      if (this === localStorage) globalThis.written.push(key);
      return setItem.call(this, key, text);
    };
  });
  await type(page, 'trace', 'supply', '13.5');
  const written = new Set(await page.evaluate(() => globalThis.written));
  assert.deepEqual([...written].sort(), ['ohmwright/trace', 'ohmwright/trace.past']);
  assert.ok((await stored(page, 'trace.past')).length < 200_000, 'nor are the steps of undo long');
  await reload(page);
  assert.equal(await page.textContent('#trace .file-name'), 'megabyte.csv', 'trace: #trace .file-name: what is read there');
  await answers(page, megabyte, { supply: '13.5 V' });
  assert.equal(await page.isVisible('#trace .unkept'), false, 'trace: #trace .unkept: should not be seen');
});

scene('beside a long recording typing is not held up: it is gone through once the typing pauses', { at: SUPPLY }, async (page) => {
  await pick(page, csv(long));
  await read(page, 'run 3.csv');
  await answers(page, long);
  const asked = await page.evaluate(async () => {
    const core = await globalThis.ohmwright;
    const { answer } = core;
    let n = 0;
    core.answer = (...args) => (n++, answer(...args));
    globalThis.asked = () => n;
    const input = document.getElementById('trace-supply');
    for (const text of ['1', '12', '12.', '12.6']) {
      input.value = text;
      input.dispatchEvent(new InputEvent('input', { bubbles: true }));
    }
    return n;
  });
  assert.equal(asked, 0);
  assert.match(await stored(page, 'trace'), /"12\.6"/, 'what is typed is kept at once');
  await page.waitForFunction(() => globalThis.asked() > 0);
  assert.equal(await page.evaluate(() => globalThis.asked()), 1);
  await answers(page, long, { supply: '12.6 V' });
  // Whoever goes on at once is not given an old answer.
  await page.fill(field('trace', 'supply'), '12.9');
  await undo(page);
  assert.equal(await page.inputValue(field('trace', 'supply')), '13.8', 'one edit, one step');
  await answers(page, long);
});

scene('two megabytes: told beside the field, and nothing is lost', { at: SUPPLY }, async (page) => {
  await pick(page, csv(short));
  await answers(page, short);
  for (const size of [2 << 20, (2 << 20) + 1, 5 << 20]) {
    await pick(
      page,
      csv(
        ramp(100)
          .repeat(Math.ceil(size / ramp(100).length))
          .slice(0, size),
        `${size}.csv`,
      ),
    );
    await read(page, `${size}.csv`);
    assert.equal(await answered(page), false, 'trace: the form should not be answered');
    const told = await note(page, 'trace', 'recording');
    assert.match(told, /1048576/);
    assert.equal(await page.getAttribute(field('trace', 'recording'), 'aria-invalid'), 'true', 'trace, field recording: its aria-invalid');
    assert.ok(await page.isVisible('[id="trace-recording-note"]'), 'trace: [id="trace-recording-note"]: should be seen');
    assert.equal(await page.inputValue(field('trace', 'supply')), '13.8', 'trace, field supply: what stands in it');
  }
  for (let n = 0; n < 3; n++) await undo(page);
  await read(page, 'run 3.csv');
  await answers(page, short);
});

scene(
  'where a recording does not fit on the device it says so, and no older one comes back in its place',
  {
    at: SUPPLY,
    fresh: true,
    init: () => {
      const { setItem } = Storage.prototype;
      Storage.prototype.setItem = function (key, text) {
        if (text.length > 100_000) throw new DOMException('full', 'QuotaExceededError');
        return setItem.call(this, key, text);
      };
    },
  },
  async (page) => {
    await pick(page, csv(short));
    await read(page, 'run 3.csv');
    assert.equal(await page.isVisible('#trace .unkept'), false, 'trace: #trace .unkept: should not be seen');
    await pick(page, csv(long, 'long.csv'));
    await read(page, 'long.csv');
    await answers(page, long);
    assert.equal(await page.isVisible('#trace .unkept'), true, 'trace: #trace .unkept: should be seen');
    assert.equal(await kept(page), null, 'trace: the recording that the device keeps');
    await type(page, 'trace', 'supply', '13.5');
    assert.equal(await page.isVisible('#trace .unkept'), true, 'trace: #trace .unkept: should be seen');
    await reload(page);
    assert.equal(await page.isVisible('#trace .file'), false, 'trace: #trace .file: should not be seen');
    assert.equal(await page.inputValue(field('trace', 'supply')), '13.5', 'all else is there');
  },
);

scene('taken away, replaced, begun anew: undo brings the recording back, by its name', { at: SUPPLY }, async (page) => {
  await pick(page, csv(short));
  await read(page, 'run 3.csv');
  await pick(page, csv(long, 'other.csv'));
  await read(page, 'other.csv');
  await press(page, 'away');
  await gone(page);
  assert.equal(await kept(page), null, 'trace: the recording that the device keeps');
  assert.equal((await focused(page)).id, 'trace-recording', 'trace: where the focus is');
  assert.equal(await answered(page), false, 'trace: the form should not be answered');
  await undo(page);
  await read(page, 'other.csv');
  assert.equal(await kept(page), long, 'trace: the recording that the device keeps');
  await undo(page);
  await read(page, 'run 3.csv');
  await answers(page, short);
  assert.equal(await kept(page), short, 'trace: the recording that the device keeps');
  await quiet(page);
  await press(page, 'clear');
  await gone(page);
  await undo(page);
  await read(page, 'run 3.csv');
  await undo(page);
  await gone(page);
  assert.equal(await kept(page), null, 'trace: the recording that the device keeps');
});

scene('an empty file changes nothing, and is told', { at: SUPPLY }, async (page) => {
  await pick(page, csv(short));
  await read(page, 'run 3.csv');
  await pick(page, csv('', 'empty.csv'));
  await says(page, 'said', 'file.empty');
  assert.equal(await page.textContent('#trace .file-name'), 'run 3.csv', 'trace: #trace .file-name: what is read there');
  await answers(page, short);
});
