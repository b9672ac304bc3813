// Jobs as files, and what happens where storage fails: nothing is lost, nothing is run, and a clear word is said.
// node --test site/test/page-jobs-files.test.mjs
import assert from 'node:assert/strict';
import { readFileSync } from 'node:fs';
import { elsewhere, ready, scene, serve, useBrowser } from './browser.mjs';
import { evil, evilFacts, named, read, saidBy } from './joblinks.mjs';
import { begin, entered, exported, inside, kept, offer, put, theJob, valueOf } from './jobs.mjs';
import { field, go, reload, says, type, word } from './reader.mjs';

useBrowser();

// plain is a document without what a round trip may change, with its keys in order.
function plain(text) {
  const sorted = (o) => (Array.isArray(o) ? o.map(sorted) : o && typeof o === 'object' ? order(o) : o);
  const order = (o) => Object.fromEntries(Object.keys(o).sort().map((key) => [key, sorted(o[key])]));
  return sorted(JSON.parse(text));
}

scene('a job goes through a file and back, and opens beside one that differs', { at: '' }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6,9', at: '88', 'specs.0.name': '"><b>2031', 'specs.0.min': '5.0' });
  const { name, text } = await exported(page);
  assert.equal(name, 'Tarn 24.ohmwright-job.json');
  assert.equal(await page.evaluate((text) => ohmwright.then((core) => JSON.parse(core.jobRead(text)).fault), text), undefined);
  await offer(page, text);
  assert.equal(await saidBy(page, 'job.import'), 'job.import.same');
  assert.equal((await inside(page)).length, 1);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '7' });
  await go(page, '#/jobs');
  await offer(page, text);
  assert.equal(await saidBy(page, 'job.import.c'), 'job.import.copy');
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'reading'), '6,9');
  const jobs = await inside(page);
  assert.deepEqual(jobs.map(({ job }) => job.forms.winding.given.reading).sort(), ['6,9', '7'], 'neither is replaced');
});

const patient = { at: '#/jobs', timeout: 240_000 };
scene('every job of the test set goes in and comes out the same', patient, async (page) => {
  const all = named('.');
  assert.ok(all.length > 5);
  for (const name of all) {
    await page.evaluate(() => (document.getElementById('said').dataset.said = ''));
    await offer(page, read(name), name);
    assert.equal(await saidBy(page, 'job.import'), 'job.import.new', name);
    const { text } = await exported(page);
    const whole = JSON.parse(await page.evaluate((t) => ohmwright.then((core) => core.jobRead(t)), read(name))).job;
    assert.deepEqual(plain(text), plain(JSON.stringify(whole)), name);
  }
  assert.equal((await inside(page)).length, all.length);
});

const deep = `${'{"a":'.repeat(200_000)}1${'}'.repeat(200_000)}`;
const hostile = {
  'no JSON': '<script>globalThis.ran = 1</script>',
  'deep nesting': deep,
  'deep facts': `{"ohmwright":"job","v":1,"id":"aaaaaaaaaaaa","facts":${deep}}`,
  'a list': '[1]',
  nothing: '',
  'more than 8 MiB': `{"ohmwright":"job","v":1,"x":"${'x'.repeat(10 << 20)}"}`,
};

scene('a hostile file is refused with a word, and nothing here changes', { at: '', timeout: 240_000 }, async (page) => {
  await begin(page);
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9' });
  await go(page, '#/jobs');
  await kept(page);
  const before = JSON.stringify(await inside(page));
  const refused = named('refused/').map((name) => [name, read(`refused/${name}`)]);
  for (const [name, text] of [...Object.entries(hostile), ...refused]) {
    await page.evaluate(() => (document.getElementById('said').dataset.said = ''));
    await offer(page, text);
    const key = await saidBy(page, 'job.import');
    assert.match(key, /^job\.import\.(damaged|newer|large|other)$/, name);
    assert.ok((await page.textContent('#said')).length > 20, name);
    assert.equal(JSON.stringify(await inside(page)), before, `${name} changed what is kept`);
  }
  assert.equal(await page.evaluate(() => globalThis.ran), undefined);
  assert.equal(await page.evaluate(() => ({}).polluted), undefined);
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'reading'), '6.9');
});

scene('a script in every text stays a text', { at: '#/jobs' }, async (page) => {
  const when = '2026-11-27T07:10:00Z';
  const job = {
    ohmwright: 'job', v: 1, id: 'eeeeeeeeeeee', made: when, changed: when, archived: false,
    facts: { given: evilFacts, units: { supply: evil }, rows: { specs: 2 }, from: { supply: 'winding' } },
    forms: { winding: { v: 1, given: { reading: evil }, units: {}, names: {}, rows: {}, open: [evil] } },
    entries: [
      { n: 1, kind: 'reading', tool: 'winding', what: 'reading', value: evil, at: evil, when, who: evil },
      { n: 2, kind: 'answer', tool: 'winding', verdict: 'within', said: evil, link: '#/winding', when, who: evil },
    ],
    photos: [],
  };
  await offer(page, JSON.stringify(job));
  assert.equal(await saidBy(page, 'job.import'), 'job.import.new');
  for (const place of ['', 'jobs', 'winding', 'circuit', 'loop', 'drive', 'code', 'trace', 'torque', 'handover']) {
    await go(page, `#/${place}`);
    await page.waitForTimeout(100);
  }
  assert.equal(await page.evaluate(() => globalThis.ran), undefined);
  assert.equal(await page.locator('main img').count(), 0);
});

// ---- storage

const forbidden = () => {
  Object.defineProperty(globalThis, 'indexedDB', { get: () => ({ open() { throw new DOMException('no', 'SecurityError'); } }) });
};

const barred = { at: '', init: forbidden };
scene('storage forbidden: said truthfully, the job works on and can be saved as a file', barred, async (page) => {
  await page.tap('#start [data-job="new"]');
  await page.fill('#job-vehicle', 'Tarn 24');
  await says(page, 'saved', 'job.unsaved.forbidden');
  await go(page, '#/winding');
  await page.fill(field('winding', 'reading'), '6.9');
  await page.fill(field('winding', 'at'), '88');
  await go(page, '#/circuit');
  assert.equal(await valueOf(page, 'circuit', 'winding_temperature'), '88');
  const { text } = await exported(page);
  assert.equal(JSON.parse(text).forms.winding.given.reading, '6.9');
});

scene('storage full: said truthfully, and kept once there is room again', { at: '', fresh: true }, async (page) => {
  await begin(page);
  // What a browser does when the device is full: the transaction is given up, and its error says why.
  await page.evaluate(() => {
    const { put } = IDBObjectStore.prototype;
    globalThis.room = () => (IDBObjectStore.prototype.put = put);
    IDBObjectStore.prototype.put = function () {
      Object.defineProperty(this.transaction, 'error', { value: new DOMException('full', 'QuotaExceededError') });
      this.transaction.abort();
    };
  });
  await go(page, '#/winding');
  await page.fill(field('winding', 'reading'), '6.9');
  await says(page, 'saved', 'job.unsaved.full');
  const { text } = await exported(page);
  assert.equal(JSON.parse(text).forms.winding.given.reading, '6.9');
  await page.evaluate(() => globalThis.room());
  await go(page, '#/winding');
  await page.fill(field('winding', 'leads'), '0.3');
  await kept(page);
  assert.deepEqual((await theJob(page)).forms.winding.given, { reading: '6.9', leads: '0.3' });
});

scene('a job that a newer version wrote is left as it is, and can be saved as a file', { at: '' }, async (page) => {
  await begin(page);
  await page.evaluate(async () => {
    const database = await new Promise((resolve) => (indexedDB.open('ohmwright').onsuccess = (e) => resolve(e.target.result)));
    const jobs = database.transaction('jobs', 'readwrite').objectStore('jobs');
    await new Promise((resolve) => (jobs.put({ id: 'ffffffffffff', text: '{"ohmwright":"job","v":2}' }).onsuccess = resolve));
    database.close();
  });
  await go(page, '#/');
  await go(page, '#/jobs');
  const row = page.locator('[data-id="ffffffffffff"]');
  assert.equal(await row.locator('strong').textContent(), await word(page, 'job.unread.newer'));
  await row.locator('summary').tap();
  const [download] = await Promise.all([page.waitForEvent('download'), row.locator('[data-job="export"]').tap()]);
  assert.equal(readFileSync(await download.path(), 'utf8'), '{"ohmwright":"job","v":2}');
});

// ---- offline

elsewhere('offline: a job goes on, over a reload', () => serve(), { at: '' }, async (page, host) => {
  await page.waitForFunction(() => document.getElementById('offline').dataset.state === 'yes');
  await begin(page);
  await go(page, '#/winding');
  await type(page, 'winding', 'reading', '6.9');
  await kept(page);
  await host.stop();
  await reload(page);
  await ready(page);
  await type(page, 'winding', 'at', '88');
  await kept(page);
  await go(page, '#/circuit');
  assert.equal((await entered(page, 'circuit'))['circuit-winding_temperature'], '88');
  await reload(page);
  await go(page, '#/winding');
  assert.deepEqual(await entered(page, 'winding'), { 'winding-reading': '6.9', 'winding-at': '88' });
});
