// Photographs of a job: made smaller on the device, kept over a reload and in the job's file.
// node --test site/test/page-photos.test.mjs
import assert from 'node:assert/strict';
import { scene, useBrowser } from './browser.mjs';
import { begin, exported } from './jobs.mjs';
import { go, reload } from './reader.mjs';

useBrowser();

const rows = '#handover .photos li';

// painted is a picture of stripes as a browser makes it, as a file to be picked.
async function painted(page, name, width, height) {
  const base64 = await page.evaluate(
    ([width, height]) => {
      const canvas = Object.assign(document.createElement('canvas'), { width, height });
      const pen = canvas.getContext('2d');
      for (let x = 0; x < width; x += 40) {
        pen.fillStyle = `hsl(${x % 360} 80% 50%)`;
        pen.fillRect(x, 0, 40, height);
      }
      return canvas.toDataURL('image/png').split(',')[1];
    },
    [width, height],
  );
  return { name, mimeType: 'image/png', buffer: Buffer.from(base64, 'base64') };
}

const pick = (page, ...files) => page.setInputFiles('#handover .photos input[type="file"]', files);
const sizes = (page) => page.$$eval(`${rows} canvas`, (all) => all.map((c) => [c.width, c.height]));

scene('a photograph is made smaller, noted, kept over a reload and in the file', {}, async (page) => {
  await go(page, '#/handover');
  assert.equal(await page.locator('#handover .photos').isVisible(), false, 'without a job there is nowhere to keep one');
  await begin(page);
  await go(page, '#/handover');
  await pick(page, await painted(page, 'connector.png', 3000, 2000));
  await page.waitForSelector(rows);
  assert.deepEqual(await sizes(page), [[1280, 853]]);
  await page.fill(`${rows} input`, 'Connector, pin 4 green with corrosion');
  await pick(page, await painted(page, 'plate.png', 300, 400));
  await page.waitForFunction((rows) => document.querySelectorAll(rows).length === 2, rows);
  await reload(page);
  await page.waitForFunction((rows) => [...document.querySelectorAll(`${rows} canvas`)].every((c) => c.width > 1), rows);
  assert.deepEqual(await sizes(page), [[1280, 853], [300, 400]]);
  assert.equal(await page.inputValue(`${rows} input`), 'Connector, pin 4 green with corrosion');
  assert.equal(await page.getAttribute(`${rows} canvas`, 'aria-label'), 'Connector, pin 4 green with corrosion');
  const { photos } = JSON.parse((await exported(page)).text);
  assert.deepEqual(photos.map(({ note }) => note), ['Connector, pin 4 green with corrosion', '']);
  assert.ok(photos.every(({ type }) => type === 'image/jpeg'));
  assert.ok(photos.every(({ data }) => data.length <= 450_000));
});

scene('a photograph that is taken away comes back by a tap; what is no picture is refused', {}, async (page) => {
  await begin(page);
  await go(page, '#/handover');
  await pick(page, await painted(page, 'plate.png', 300, 400));
  await page.waitForSelector(rows);
  await page.tap(`${rows} [data-photo="away"]`);
  await page.waitForSelector(`${rows} canvas`, { state: 'hidden' });
  await page.tap(`${rows} [data-photo="back"]`);
  await page.waitForSelector(`${rows} canvas`, { state: 'visible' });
  await page.tap(`${rows} [data-photo="away"]`);
  await page.waitForSelector(`${rows} [data-photo="back"]`, { state: 'visible' });
  await reload(page);
  await page.waitForSelector('#handover .photos', { state: 'visible' });
  assert.equal(await page.locator(rows).count(), 0);
  await pick(page, { name: 'x.png', mimeType: 'image/png', buffer: Buffer.from('<script>alert(1)</script>') });
  await page.waitForSelector('#said[data-said="photo.unread"]');
  assert.equal(await page.locator(rows).count(), 0);
});

// written counts the bytes that the page writes into its database from now on.
const written = (page) =>
  page.evaluate(() => {
    globalThis.written = 0;
    const { put } = IDBObjectStore.prototype;
    IDBObjectStore.prototype.put = function (value, ...key) {
      globalThis.written += JSON.stringify(value).length;
      return put.call(this, value, ...key);
    };
  });

scene('a letter of a note writes the note, and not the photographs', { fresh: true, acceptDownloads: true }, async (page) => {
  await begin(page);
  await go(page, '#/handover');
  for (const name of ['connector.png', 'plate.png']) {
    const before = await page.locator(rows).count();
    await pick(page, await painted(page, name, 1280, 900));
    await page.waitForFunction(([rows, n]) => document.querySelectorAll(rows).length > n, [rows, before]);
  }
  const note = 'Pin 4, green with corrosion';
  await written(page);
  await page.locator(`${rows}:first-child input`).pressSequentially(note);
  await page.waitForFunction(() => globalThis.written > 0);
  const bytes = await page.evaluate(() => globalThis.written);
  assert.ok(bytes >= note.length && bytes < 2000, `${bytes} bytes were written for ${note.length} letters`);
  await page.tap(`${rows}:first-child [data-photo="away"]`);
  await page.tap(`${rows}:first-child [data-photo="back"]`);
  await page.waitForSelector(`${rows}:first-child canvas`, { state: 'visible' });
  assert.equal(await page.inputValue(`${rows}:first-child input`), note);
  await reload(page);
  await page.waitForFunction((rows) => document.querySelectorAll(rows).length === 2, rows);
  const notes = await page.$$eval(`${rows} input`, (all) => all.map((input) => input.value));
  assert.deepEqual(notes, ['', note], 'the one that was brought back is the last');
  const { photos } = JSON.parse((await exported(page)).text);
  assert.deepEqual(photos.map((photo) => photo.note), ['', note]);
});
