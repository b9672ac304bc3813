// A job as a link and as a code: handed out, read back, opened beside what is here.
// node --test site/test/page-job-link.test.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { base, scene, useBrowser, visit } from './browser.mjs';
import { readOff } from './camera.mjs';
import { hush, lines, named, open, read, recorded, saidBy } from './joblinks.mjs';
import { begin, exported, inside, offer, put, valueOf } from './jobs.mjs';
import { go, says, word } from './reader.mjs';

useBrowser();

// imported puts a document of the test set in as a file.
async function imported(page, name) {
  await hush(page);
  await offer(page, read(name), name);
  assert.equal(await saidBy(page, 'job.import'), 'job.import.new', name);
  await go(page, '#/jobs');
  await page.waitForSelector('#jobs:not([hidden]) #job-head:not([hidden])');
}

// link shares the open job and returns the link, and what was said.
async function link(page) {
  await hush(page);
  await page.evaluate(() => navigator.clipboard.writeText(''));
  await page.tap('#job-head [data-job="share"]');
  await says(page, 'said', 'job.link.copied');
  const url = await page.evaluate(() => navigator.clipboard.readText());
  return { url, said: await page.textContent('#said') };
}

// plain is a document as it is compared: read by the core, without photographs, keys in order.
async function plain(page, text) {
  const { job, fault } = JSON.parse(await page.evaluate((text) => ohmwright.then((core) => core.jobRead(text, 'en', 'en')), text));
  assert.equal(fault, undefined);
  return { ...job, photos: [] };
}

// A desk: without a share sheet, so that the link goes to the clipboard.
const unshared = () => delete Navigator.prototype.share;
const desk = { at: '#/jobs', permissions: ['clipboard-read', 'clipboard-write'], init: unshared, timeout: 300_000 };

// ---- there and back

for (const name of named('.'))
  scene(`${name}: by link, and as a code where it fits, it comes out the same in another browser`, desk, async (page, t) => {
    await imported(page, name);
    const { url, said } = await link(page);
    t.diagnostic(`${name}: a link of ${url.length} characters, ${url.length - base.length} without the address`);
    const whole = JSON.parse(read(name));
    assert.equal(said.includes(await word(page, 'job.link.photos')), whole.photos.length > 0, 'it is said that photographs are left out');
    await hush(page);
    await page.tap('#job-head [data-job="code"]');
    let from = url;
    if (url.length <= 500) {
      await page.waitForSelector('#job-code svg', { state: 'visible' });
      await page.locator('#job-code svg').scrollIntoViewIfNeeded();
      from = readOff(await page.screenshot());
      assert.equal(from, url, 'what the camera reads');
    } else {
      assert.equal(await saidBy(page, 'job.code'), 'job.code.long');
      assert.ok((await page.textContent('#said')).includes(String(url.length)));
      assert.equal(await page.isVisible('#job-code'), false);
      const [download] = await Promise.all([page.waitForEvent('download'), page.tap('#said [data-job="export"]')]);
      const file = readFileSync(await download.path(), 'utf8');
      assert.deepEqual(await plain(page, file), await plain(page, read(name)), 'the file that is offered');
    }
    const other = await visit({ at: from.slice(base.length) });
    try {
      assert.equal(await saidBy(other, 'job.link.'), 'job.link.new');
      const { text } = await exported(other);
      assert.deepEqual(await plain(other, text), await plain(page, read(name)), 'nothing is changed but photographs');
      assert.equal((await inside(other)).length, 1);
      assert.deepEqual(other.faults, []);
    } finally {
      await other.context().close();
    }
  });

scene('every link of version 1 that was ever given opens, and says the same', { ...desk }, async (page) => {
  assert.ok(lines.length >= 8, 'lines are only added');
  for (const [name, given] of lines) {
    assert.equal(await open(page, given), 'job.link.new', name);
    assert.equal(await page.evaluate(() => location.hash), '#/', 'the address does not carry it any more');
    assert.deepEqual(await plain(page, (await exported(page)).text), await plain(page, read(name)), name);
  }
  assert.equal((await inside(page)).length, lines.length);
});

const old = () => {
  delete Navigator.prototype.share;
  delete globalThis.CompressionStream;
  delete globalThis.DecompressionStream;
};

const older = { ...desk, init: old };
scene('a browser that cannot compress gives a longer link, and says of a short one that it cannot open it', older, async (page) => {
  await imported(page, 'corrected.json');
  const { url } = await link(page);
  assert.match(url, /#\/job\?v=1&j=[\w-]+&c=\w{5}$/);
  const before = JSON.stringify(await inside(page));
  assert.equal(await open(page, lines[0][1]), 'job.link.old');
  assert.equal(await open(page, url.slice(url.indexOf('#'))), 'job.link.same');
  assert.equal(JSON.stringify(await inside(page)), before);
  const other = await visit({ at: url.slice(base.length) });
  try {
    assert.equal(await saidBy(other, 'job.link.'), 'job.link.new');
    assert.deepEqual(await plain(other, (await exported(other)).text), await plain(page, read('corrected.json')));
  } finally {
    await other.context().close();
  }
});

const sheet = () => (navigator.share = async ({ url }) => (globalThis.sent = url));
scene('a phone hands the link to its share sheet', { at: '#/jobs', init: sheet }, async (page) => {
  await imported(page, 'code-first.json');
  await page.tap('#job-head [data-job="share"]');
  await page.waitForFunction(() => globalThis.sent);
  assert.match(await page.evaluate(() => globalThis.sent), /#\/job\?v=1&z=[\w-]+&c=\w{5}$/);
});

scene('a job of the list is shared and shown without being opened', desk, async (page) => {
  await imported(page, 'code-first.json');
  const { url } = await link(page);
  await begin(page, 'Fell 7');
  await go(page, '#/jobs');
  const row = page.locator('[data-id="tarn24qx6a0002"]');
  await row.locator('summary').tap();
  await row.locator('[data-job="code"]').tap();
  await page.waitForSelector('#job-code svg', { state: 'visible' });
  assert.equal(await page.textContent('#job-code .address'), url);
  assert.equal(await page.textContent('#job-code .of'), 'Tarn 24', 'it says which job it is');
  await page.fill('#job-tag', 'F-7');
  await page.waitForSelector('#job-code', { state: 'hidden' });
  await page.evaluate(() => navigator.clipboard.writeText(''));
  await page.locator('[data-id="tarn24qx6a0002"] summary').tap();
  await page.locator('[data-id="tarn24qx6a0002"] [data-job="share"]').tap();
  await says(page, 'said', 'job.link.copied');
  assert.equal(await page.evaluate(() => navigator.clipboard.readText()), url);
  assert.equal(await page.inputValue('#job-vehicle'), 'Fell 7', 'the other one is still open');
});

scene('a recording and more than a link holds: what is left out is said, and the file is offered', desk, async (page) => {
  const job = JSON.parse(read('code-first.json'));
  const form = { v: 1, given: { recording: 't,i\n'.repeat(900) }, units: {}, names: { recording: 'ramp.csv' }, rows: {}, open: [] };
  await offer(page, JSON.stringify({ ...job, forms: { ...job.forms, trace: form } }));
  assert.equal(await saidBy(page, 'job.import'), 'job.import.new');
  await go(page, '#/jobs');
  const { url, said } = await link(page);
  assert.ok(said.includes(await word(page, 'job.link.files')), said);
  assert.ok(url.length < 600, 'the recording is not in it');
  const entry = (n) => ({ n, kind: 'step', tool: 'handover', what: 'note', said: noise(n), when: job.made, who: '' });
  const noise = (n) => Array.from({ length: 60 }, (_, i) => ((n * 7919 + i * 104729) ** 2 % 1e9).toString(36)).join('');
  const entries = Array.from({ length: 120 }, (_, i) => entry(i + 1));
  await hush(page);
  await offer(page, JSON.stringify({ ...job, id: 'longlonglong', entries }));
  assert.equal(await saidBy(page, 'job.import'), 'job.import.new');
  await go(page, '#/jobs');
  await page.tap('#job-head [data-job="share"]');
  assert.equal(await saidBy(page, 'job.link'), 'job.link.long');
  const [download] = await Promise.all([page.waitForEvent('download'), page.tap('#said [data-job="export"]')]);
  assert.equal(JSON.parse(readFileSync(await download.path(), 'utf8')).entries.length, 120);
});

// ---- beside what is here

scene('a link opens beside an open job, which it leaves as it is; twice the same is one', desk, async (page) => {
  await begin(page, 'Fell 7');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '7.7' });
  await recorded(page);
  const [mine] = await inside(page);
  const given = Object.fromEntries(lines)['circuit-decided.json'];
  assert.equal(await open(page, given), 'job.link.new');
  assert.equal(await page.textContent('#home-name'), 'Tarn 24, gearbox QX-6, TRN-4711');
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'reading'), '', 'the readings of two vehicles do not mix');
  assert.equal(await open(page, given), 'job.link.same');
  assert.equal(await open(page, given), 'job.link.same');
  let all = await inside(page);
  assert.equal(all.length, 2);
  assert.deepEqual(all.find(({ id }) => id === mine.id), mine, 'the job that was open is as it was');

  // Changed here since: the link's is a copy, once, and what was changed here stays.
  await go(page, '#/circuit');
  await put(page, 'circuit', { supply: '12.4' });
  assert.equal(await open(page, given), 'job.link.copy');
  assert.equal(await open(page, given), 'job.link.same', 'the copy is not copied again');
  await go(page, '#/circuit');
  assert.equal(await valueOf(page, 'circuit', 'supply'), '13.8');
  all = await inside(page);
  assert.deepEqual(all.map(({ job }) => job.facts.given.supply ?? job.facts.given.vehicle).sort(), ['12.4', '13.8', 'Fell 7']);
  assert.deepEqual(all.find(({ id }) => id === mine.id), mine);
});

scene('what is typed and not yet kept when a link comes is kept', desk, async (page) => {
  await begin(page, 'Fell 7');
  await go(page, '#/winding');
  await page.fill('[id="winding-reading"]', '7.7');
  await page.evaluate((hash) => (location.hash = hash), lines[1][1]);
  assert.equal(await saidBy(page, 'job.link.'), 'job.link.new');
  const own = (await inside(page)).find(({ job }) => job.facts.given.vehicle === 'Fell 7');
  assert.equal(own.job.forms.winding.given.reading, '7.7');
});

scene('without a job, what stands in the forms stays when a link comes', { at: '#/winding' }, async (page) => {
  await page.fill('[id="winding-reading"]', '7.7');
  assert.equal(await open(page, lines[1][1]), 'job.link.new');
  await go(page, '#/jobs');
  await page.tap('#job-head [data-job="close"]');
  await saidBy(page, 'job.closed');
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'reading'), '7.7');
});
