// A recording on the page: picked, dropped or pasted, never sent anywhere; bad ones.
// node --test site/test/page-trace.test.mjs
import assert from 'node:assert/strict';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before } from 'node:test';
import { base, laptop, scene, seenByProxy, useBrowser } from './browser.mjs';
import { answered, expected, field, focused, headText, note, press, quiet, reload, says, shared, tabTo, type, word } from './reader.mjs';
import { answers, asked, csv, drop, gone, kept, long, pick, read, short, SUPPLY, undo, unnamed } from './trace.mjs';

useBrowser();

let directory;
before(() => (directory = mkdtempSync(join(tmpdir(), 'ohmwright-trace-'))));
after(() => rmSync(directory, { recursive: true, force: true }));

// ---- in

scene('a file that is picked is read, named and answered', { at: SUPPLY }, async (page) => {
  await pick(page, csv(short));
  await read(page, 'run 3.csv');
  await answers(page, short);
  assert.match(await page.textContent('#trace .file-size'), /^\d+(\.\d+)? ?kB$/);
  assert.match(await headText(page), /Ω/);
  // The same file can be picked again, after it was changed.
  const other = short.replaceAll('1.9', '1.8');
  await pick(page, csv(other));
  await answers(page, other);
});

scene(
  'a file that is dropped anywhere on the page is read; where none is asked for it does not take the page away',
  { at: SUPPLY },
  async (page) => {
    for (const [at, name] of [
      ['#trace .body', 'dropped.csv'],
      ['header', 'on the header.csv'],
      ['#trace-supply', 'on a field.csv'],
    ]) {
      assert.deepEqual(await drop(page, at, { name, text: short }), { taken: true, marked: true, after: false }, name);
      await read(page, name);
      await answers(page, short);
    }
    await page.goto(`${base}#/winding`);
    await page.waitForFunction(() => document.body.dataset.place === 'winding');
    assert.deepEqual(
      await drop(page, '#winding', { name: 'missed.csv', text: 'x' }),
      { taken: true, marked: false, after: false },
      'the browser would have opened it',
    );
    await page.goto(`${base}#/trace`);
    await page.waitForFunction(() => document.body.dataset.place === 'trace');
    assert.equal(await page.textContent('#trace .file-name'), 'on a field.csv', 'trace: #trace .file-name: what is read there');
    // What leaves again leaves no mark.
    await page.evaluate(() => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File(['x'], 'x.csv'));
      for (const type of ['dragover', 'dragleave'])
        document.querySelector('#trace').dispatchEvent(new DragEvent(type, { dataTransfer, bubbles: true, cancelable: true }));
    });
    assert.equal(await page.locator('.dropping').count(), 0, 'trace: .dropping: how many there are');
    // A text dragged about is no file: an input may have it.
    const taken = await page.evaluate(() => {
      const dataTransfer = new DataTransfer();
      dataTransfer.setData('text/plain', '13.8');
      return !document
        .querySelector('#trace-supply')
        .dispatchEvent(new DragEvent('dragover', { dataTransfer, bubbles: true, cancelable: true }));
    });
    assert.equal(taken, false, 'trace: a text that is dragged about should be left to the field under it');
  },
);

scene(
  'a text is pasted by keyboard, into the place for it or onto the page',
  { at: SUPPLY, size: laptop, permissions: ['clipboard-read', 'clipboard-write'] },
  async (page) => {
    await page.evaluate((text) => navigator.clipboard.writeText(text), long);
    await page.focus('h1:visible');
    await tabTo(page, (e) => e.id === 'trace-recording', 10);
    await page.keyboard.press('Tab');
    const at = await focused(page);
    assert.deepEqual([at.tag, at.ringed, at.inView], ['TEXTAREA', true, true]);
    await page.keyboard.press('Control+V');
    await read(page, await unnamed(page));
    await answers(page, long);
    assert.equal(await page.inputValue('#trace .paste'), '', 'it is not written out');
    await undo(page);
    await gone(page);
    await page.evaluate(() => document.activeElement.blur());
    await page.keyboard.press('Control+V');
    await answers(page, long);
    // A number pasted into a field is that field's.
    await page.evaluate(() => navigator.clipboard.writeText('12.6'));
    await page.fill(field('trace', 'supply'), '');
    await page.focus(field('trace', 'supply'));
    await page.keyboard.press('Control+V');
    assert.equal(await page.inputValue(field('trace', 'supply')), '12.6', 'trace, field supply: what stands in it');
    await answers(page, long, { supply: '12.6 V' });
  },
);

scene('what is typed or put in by a keyboard on the screen counts too', { at: SUPPLY }, async (page) => {
  await page.fill('#trace .paste', short);
  await page.evaluate(() => document.activeElement.blur());
  await read(page, await unnamed(page));
  await answers(page, short);
});

const bytes = {
  'UTF-8 with a mark': Buffer.from(`\ufeff${short}`),
  'UTF-16, little end first': Buffer.from(`\ufeff${short}`, 'utf16le'),
  'UTF-16, big end first': Buffer.from(`\ufeff${short}`, 'utf16le').swap16(),
  'western, with µ and °': Buffer.from(short.replace('\n', ' µ 20 °C\n'), 'latin1'),
};
for (const [name, buffer] of Object.entries(bytes)) {
  scene(`a file in another encoding: ${name}`, { at: '#/trace' }, async (page) => {
    await pick(page, { name: 'run.csv', mimeType: 'text/csv', buffer });
    await read(page, 'run.csv');
    const text = name.startsWith('western') ? short.replace('\n', ' µ 20 °C\n') : short;
    assert.equal(await kept(page), text, 'trace: the recording that the device keeps');
  });
}

scene('the big button and what is beside it are large enough, and named', { at: SUPPLY }, async (page) => {
  await pick(page, csv(short));
  await read(page, 'run 3.csv');
  for (const [selector, least] of [
    ['#trace .pick', 88],
    ['#trace .paste', 56],
    ['#trace [data-do="away"]', 56],
  ]) {
    const box = await page.locator(selector).boundingBox();
    assert.ok(box.height >= least && box.width >= 56, `${selector} ${JSON.stringify(box)}`);
  }
  const label = await page.textContent('[id="trace-recording-label"]');
  assert.equal(await page.locator(field('trace', 'recording')).evaluate((e) => e.labels.length), 1);
  assert.ok((await page.getByLabel(label).count()) >= 1, 'trace: how many there are');
});

// ---- out

scene('nothing of a recording is sent anywhere', { at: SUPPLY, fresh: true }, async (page) => {
  const left = [];
  page.context().on('request', (r) => left.push(`${r.method()} ${r.url()}`));
  const before = seenByProxy.length;
  await pick(page, csv(long));
  await read(page, 'run 3.csv');
  await answers(page, long);
  await drop(page, '#trace', { name: 'dropped.csv', text: short });
  await read(page, 'dropped.csv');
  await type(page, 'trace', 'supply', '13.5');
  await page.fill('#trace .paste', short);
  await page.evaluate(() => document.activeElement.blur());
  await read(page, await unnamed(page));
  await press(page, 'away');
  await gone(page);
  await page.evaluate(() => new Promise((resolve) => setTimeout(resolve, 300))); // no condition says that nothing more is asked for
  assert.deepEqual(left, []);
  assert.equal(
    await page.evaluate(() =>
      performance
        .getEntriesByType('resource')
        .some((r) => ['fetch', 'xmlhttprequest', 'beacon'].includes(r.initiatorType) && !/ohmwright\.wasm$/.test(r.name)),
    ),
    false,
    'trace: the page should fetch nothing but its module',
  );
  const own = /^(https?:\/\/)?([a-z-]+\.)*(googleapis|google|gvt1)\.com[:/]/; // the browser's own
  assert.deepEqual(
    seenByProxy.slice(before).filter((url) => !own.test(url)),
    [],
  );
});

scene(
  'a link takes a short recording along; a long one it leaves out, and says so',
  { at: SUPPLY, size: laptop },
  async (page) => {
    const brief = short.slice(0, 4000).replace(/\n[^\n]*$/, '\n');
    await pick(page, csv(brief));
    await answers(page, brief);
    const link = await shared(page);
    assert.equal(await page.textContent('#said'), await word(page, 'copied'), 'trace: #said: what is read there');
    assert.match(link, /&?recording=/);
    await pick(page, csv(long, 'long.csv'));
    await read(page, 'long.csv');
    await answers(page, long);
    const without = await shared(page);
    await says(page, 'said', 'left');
    assert.doesNotMatch(without, /recording/);
    assert.match(without, /supply=13\.8V/);
    // Opened, the first gives the same answer; what was here comes back by undo.
    await page.goto(base + link.slice(link.indexOf('#')));
    await read(page, await unnamed(page));
    await answers(page, brief);
    await undo(page);
    await read(page, 'long.csv');
    await answers(page, long);
  },
);

// ---- faults

const lines = short.split('\n');
const wrong = {
  'a text': ['Once upon a time there was\na solenoid that did not move\n', /./],
  'one column': [lines.map((l) => l.split(',')[0]).join('\n'), /line \d+/i],
  'a word among the numbers': [lines.map((l, i) => (i === 40 ? l.replace(/,.*/, ',none') : l)).join('\n'), /line 41.*column 2/i],
  'times that go back': [lines.map((l, i) => (i === 50 ? lines[20] : l)).join('\n'), /line 51/i],
  'the same time twice': [lines.map((l, i) => (i === 50 ? lines[49] : l)).join('\n'), /line 51/i],
  'nothing but zeros': [lines.map((l, i) => (i === 0 || l === '' ? l : l.replace(/,.*/, ',0.000'))).join('\n'), /./],
};
for (const [name, [text, says]] of Object.entries(wrong)) {
  scene(`a bad recording is told with its place, and nothing is lost: ${name}`, { at: SUPPLY }, async (page) => {
    await pick(page, csv(short));
    await answers(page, short);
    await quiet(page);
    await pick(page, csv(text, 'bad.csv'));
    await read(page, 'bad.csv');
    assert.equal(await answered(page), false, 'trace: the form should not be answered');
    assert.equal(await page.textContent('#said'), '', 'no good news over what is wrong');
    const { notes } = await expected(page, 'trace', asked(text));
    assert.equal(await note(page, 'trace', 'recording'), notes.recording[1], 'trace, field recording: what is told beside it');
    assert.match(notes.recording[1], says);
    assert.equal(await page.inputValue(field('trace', 'supply')), '13.8', 'trace, field supply: what stands in it');
    await undo(page);
    await read(page, 'run 3.csv');
    await answers(page, short);
  });
}

scene(
  'a recording is answered without a network',
  { at: SUPPLY, workers: true, expects: /ERR_INTERNET_DISCONNECTED|Failed to/ },
  async (page) => {
    await says(page, 'offline', 'offline');
    await page.context().setOffline(true);
    await reload(page);
    await pick(page, csv(short));
    await answers(page, short);
    await reload(page);
    await read(page, 'run 3.csv');
    await answers(page, short);
  },
);

scene('a recording from a file on the disk, by the picker that a button opens', { at: SUPPLY }, async (page) => {
  const file = join(directory, 'from disk.csv');
  writeFileSync(file, short);
  const chooser = page.waitForEvent('filechooser');
  await page.locator('#trace .pick').tap();
  await (await chooser).setFiles(file);
  await read(page, 'from disk.csv');
  await answers(page, short);
});
