// A job as a link and as a code: handed out, read back, opened beside what is here. Whatever is wrong with a link, nothing is lost,
// nothing is run, and a clear word is said.
// node --test site/test/page-job-link.test.mjs
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { deflateRawSync } from 'node:zlib';
import { base, scene, useBrowser, visit } from './browser.mjs';
import { begin, inside, kept, offer, put, valueOf } from './jobs.mjs';
import { go, says, word } from './reader.mjs';

useBrowser();

const documents = new URL('../../testdata/jobs/', import.meta.url);
const read = (name) => readFileSync(new URL(name, documents), 'utf8');
const named = (folder) => readdirSync(new URL(folder, documents)).filter((name) => name.endsWith('.json'));
const lines = read('links.txt').trim().split('\n').map((line) => line.split(' '));

const saidKey = (page) => page.evaluate(() => document.getElementById('said').dataset.said ?? '');
const hush = (page) => page.evaluate(() => (document.getElementById('said').dataset.said = ''));

// saidBy waits for one of the messages whose keys begin with a text, and returns its key.
const saidBy = async (page, prefix) => {
  await page.waitForFunction((prefix) => document.getElementById('said').dataset.said?.startsWith(prefix), prefix);
  return saidKey(page);
};

// open opens a link while the page is shown, and returns the key of what is said of it.
async function open(page, link) {
  await hush(page);
  await go(page, link);
  return saidBy(page, 'job.link.');
}

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

// recorded leaves the form that is shown, and waits until the record of the open job has its reading.
async function recorded(page) {
  await go(page, '#/jobs');
  await page.waitForSelector('#jobs:not([hidden])');
  await page.waitForTimeout(200);
  await kept(page);
  assert.ok((await inside(page)).some(({ job }) => job.entries.length > 0));
}

// plain is a document as it is compared: read by the core, without photographs, keys in order.
async function plain(page, text) {
  const { job, fault } = JSON.parse(await page.evaluate((text) => ohmwright.then((core) => core.jobRead(text, 'en', 'en')), text));
  assert.equal(fault, undefined);
  return { ...job, photos: [] };
}

// exported is the open job's file.
async function exported(page) {
  await go(page, '#/jobs');
  await page.waitForSelector('#jobs:not([hidden]) #job-head:not([hidden])');
  const [download] = await Promise.all([page.waitForEvent('download'), page.tap('#job-head [data-job="export"]')]);
  return readFileSync(await download.path(), 'utf8');
}

// readOff reads a code off a picture.
function readOff(png) {
  const folder = mkdtempSync(join(tmpdir(), 'code-'));
  try {
    const file = join(folder, 'code.png');
    writeFileSync(file, png);
    return execFileSync('zbarimg', ['--quiet', '--raw', file], { encoding: 'utf8' }).trim();
  } finally {
    rmSync(folder, { recursive: true });
  }
}

// A desk: without a share sheet, so that the link goes to the clipboard.
const unshared = () => delete Navigator.prototype.share;
const desk = { at: '#/jobs', acceptDownloads: true, permissions: ['clipboard-read', 'clipboard-write'], init: unshared, timeout: 300_000 };

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
      assert.deepEqual(await plain(page, readFileSync(await download.path(), 'utf8')), await plain(page, read(name)), 'the file that is offered');
    }
    const other = await visit({ at: from.slice(base.length), acceptDownloads: true });
    try {
      assert.equal(await saidBy(other, 'job.link.'), 'job.link.new');
      assert.deepEqual(await plain(other, await exported(other)), await plain(page, read(name)), 'nothing is changed but photographs');
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
    assert.deepEqual(await plain(page, await exported(page)), await plain(page, read(name)), name);
  }
  assert.equal((await inside(page)).length, lines.length);
});

const old = () => {
  delete Navigator.prototype.share;
  delete globalThis.CompressionStream;
  delete globalThis.DecompressionStream;
};

scene('a browser that cannot compress gives a longer link, and says of a short one that it cannot open it', { ...desk, init: old }, async (page) => {
  await imported(page, 'corrected.json');
  const { url } = await link(page);
  assert.match(url, /#\/job\?v=1&j=[\w-]+&c=\w{5}$/);
  const before = JSON.stringify(await inside(page));
  assert.equal(await open(page, lines[0][1]), 'job.link.old');
  assert.equal(await open(page, url.slice(url.indexOf('#'))), 'job.link.same');
  assert.equal(JSON.stringify(await inside(page)), before);
  const other = await visit({ at: url.slice(base.length), acceptDownloads: true });
  try {
    assert.equal(await saidBy(other, 'job.link.'), 'job.link.new');
    assert.deepEqual(await plain(other, await exported(other)), await plain(page, read('corrected.json')));
  } finally {
    await other.context().close();
  }
});

scene('a phone hands the link to its share sheet', { at: '#/jobs', init: () => (navigator.share = async ({ url }) => (globalThis.sent = url)) }, async (page) => {
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

const forbidden = () => {
  Object.defineProperty(globalThis, 'indexedDB', { get: () => ({ open() { throw new DOMException('no', 'SecurityError'); } }) });
};

scene('storage forbidden: the link is not opened, and that is said', { at: '', fresh: true, init: forbidden }, async (page) => {
  await hush(page);
  await go(page, lines[0][1]);
  assert.equal(await saidBy(page, 'job.import'), 'job.import.forbidden');
});

// ---- hostile

const pack = (text) => `#/job?v=1&z=${deflateRawSync(text).toString('base64url')}`;
const headless = (text) => JSON.stringify({ ...JSON.parse(text), ohmwright: undefined, v: undefined });

function hostile() {
  const good = Object.fromEntries(lines)['corrected.json'];
  const [body, sum] = good.split('&c=');
  const inner = headless(read('corrected.json'));
  const deep = `${'{"a":'.repeat(100_000)}1${'}'.repeat(100_000)}`;
  const swapped = (at) => body.slice(0, at) + (body[at] === 'A' ? 'B' : 'A') + body.slice(at + 1);
  const proto = (text) => inner.replace('"given":{', `"given":{${text},`);
  const list = [
    ['no document', '#/job', 'damaged'],
    ['no parameter', '#/job?', 'damaged'],
    ['no version', good.replace('v=1&', ''), 'damaged'],
    ['version nought', good.replace('v=1', 'v=0'), 'damaged'],
    ['a newer version', good.replace('v=1', 'v=2'), 'newer'],
    ['a newer version of which nothing is known', '#/job?x=1&v=7', 'newer'],
    ['two documents', `${body}&${body.split('&')[1]}`, 'damaged'],
    ['a parameter too many', `${good}&x=1`, 'damaged'],
    ['a wrong sum', `${body}&c=${sum === '00000' ? '11111' : '00000'}`, 'damaged'],
    ['half a sum', good.slice(0, -2), 'damaged'],
    ['no base64url', '#/job?v=1&z=<script>globalThis.ran=1</script>', 'damaged'],
    ['escapes', '#/job?v=1&z=%00%ff%3Cimg', 'damaged'],
    ['30,000 characters of nothing', `#/job?v=1&z=${'A'.repeat(30_000)}`, 'damaged'],
    ['30,000 characters uncompressed', `#/job?v=1&j=${'e'.repeat(30_000)}`, 'damaged'],
    ['a bomb of 100 MB', pack(Buffer.alloc(100_000_000)), 'large'],
    ['a bomb of spaces', pack(`{${' '.repeat(3_000_000)}}`), 'large'],
    ['no JSON', pack('<script>globalThis.ran = 1</script>'), 'damaged'],
    ['an empty object', pack('{}'), 'damaged'],
    ['a list', pack('[1]'), 'damaged'],
    ['no text', pack(Buffer.from([0x7b, 0xff, 0xfe])), 'damaged'],
    ['deep nesting', pack(`{"id":"aaaaaaaaaaaa","facts":${deep}}`), 'damaged'],
    ['a version inside', pack(`{"v":1,${inner.slice(1)}`), 'damaged'],
    ['a key too many', pack(`{"colour":"red",${inner.slice(1)}`), 'damaged'],
    ['__proto__', pack(proto('"__proto__":"x"')), 'damaged'],
    ['__proto__ of objects', pack(`{"__proto__":{"polluted":1},${inner.slice(1)}`), 'damaged'],
    ['constructor', pack(proto('"constructor":"x"')), 'damaged'],
    ['prototype', pack(proto('"a.prototype.polluted":"x"')), 'damaged'],
  ];
  for (const at of [40, 41, 42, 43, body.length >> 1, body.length - 2, body.length - 1]) list.push([`cut at ${at}`, body.slice(0, at), 'damaged']);
  for (let at = 13; at < body.length; at += 61) list.push([`character ${at} changed`, `${swapped(at)}&c=${sum}`, 'damaged']);
  for (const name of named('refused/')) {
    const fault = name.split('-')[0];
    if (name === 'newer-version.json') continue; // a link says its version outside
    let text = read(`refused/${name}`);
    if (fault !== 'damaged') text = headless(text);
    else text = text.replace(/"ohmwright":\s*"job",\s*"v":\s*1,/, '');
    list.push([name, pack(text), fault === 'other' ? 'damaged' : fault]);
  }
  return list;
}

scene('a hostile link is refused with a word, and nothing here changes', { at: '', timeout: 300_000 }, async (page, t) => {
  await begin(page, 'Fell 7');
  await go(page, '#/winding');
  await put(page, 'winding', { reading: '6.9' });
  await recorded(page);
  const before = JSON.stringify(await inside(page));
  const all = hostile();
  t.diagnostic(`${all.length} hostile links`);
  for (const [name, given, fault] of all) {
    assert.equal(await open(page, given), `job.link.${fault}`, name);
    assert.equal(await page.textContent('#said'), await word(page, `job.link.${fault}`), name);
    assert.equal(await page.evaluate(() => location.hash), '#/', `${name}: the address does not carry it any more`);
    assert.equal(JSON.stringify(await inside(page)), before, `${name} changed what is kept`);
    assert.equal(await page.textContent('#home-name'), 'Fell 7', name);
  }
  assert.equal(await page.evaluate(() => globalThis.ran), undefined);
  assert.equal(await page.evaluate(() => ({}).polluted), undefined);
  await go(page, '#/winding');
  assert.equal(await valueOf(page, 'winding', 'reading'), '6.9');
});

// counted counts what is put into what unpacks, and what is read out of it.
const counted = () => {
  globalThis.bytes = { into: 0, out: 0 };
  const { enqueue } = ReadableStreamDefaultController.prototype;
  ReadableStreamDefaultController.prototype.enqueue = function (chunk) {
    globalThis.bytes.into += chunk.length;
    return enqueue.call(this, chunk);
  };
  const { read } = ReadableStreamDefaultReader.prototype;
  ReadableStreamDefaultReader.prototype.read = async function () {
    const result = await read.call(this);
    globalThis.bytes.out += result.value?.length ?? 0;
    return result;
  };
};

scene('of a bomb of 100 MB no more is unpacked than it takes to know it', { at: '', fresh: true, init: counted }, async (page) => {
  await page.evaluate(() => (globalThis.bytes = { into: 0, out: 0 }));
  assert.equal(await open(page, pack(Buffer.alloc(100_000_000))), 'job.link.large');
  await page.waitForTimeout(300);
  const { into, out } = await page.evaluate(() => globalThis.bytes);
  assert.ok(into > 500 && into < 4000, `${into} of about 100,000 bytes were unpacked`);
  assert.ok(out > 1 << 20 && out < 2 << 20, `${out} bytes were read`);
});

scene('a script in every text of a link stays a text', { at: '#/jobs' }, async (page) => {
  const evil = '<img src=x onerror="globalThis.ran=1"><script>globalThis.ran=1</script>';
  const facts = ['vehicle', 'tag', 'odometer', 'complaint', 'who', 'code', 'supply', 'winding_temperature', 'spec.min', 'spec.max'];
  for (const row of [0, 1]) for (const name of ['name', 'min', 'max', 'source']) facts.push(`specs.${row}.${name}`);
  const given = Object.fromEntries(facts.map((key) => [key, evil]));
  const when = '2026-11-27T07:10:00Z';
  const reading = { kind: 'reading', tool: 'winding', what: 'reading', name: evil, value: evil, at: evil, supply: evil, meter: evil };
  const job = {
    id: 'eeeeeeeeeeee', made: when, changed: when,
    facts: { given, units: { supply: evil }, rows: { specs: 2 }, from: { supply: 'winding' } },
    forms: { winding: { given: { reading: evil }, units: { reading: evil }, names: { reading: evil }, open: [evil] } },
    entries: [
      { n: 1, ...reading, when, who: evil },
      { n: 2, kind: 'answer', tool: 'winding', verdict: 'within', said: evil, link: `#/winding?v=1&reading=${evil}`, when, who: evil },
      { n: 3, kind: 'step', what: 'note', said: evil, when, who: evil },
    ],
  };
  assert.equal(await open(page, pack(JSON.stringify(job))), 'job.link.new');
  for (const place of ['', 'jobs', 'winding', 'circuit', 'loop', 'drive', 'code', 'trace', 'torque', 'bank', 'handover']) {
    await go(page, `#/${place}`);
    await page.waitForTimeout(100);
  }
  await go(page, '#/jobs');
  await page.tap('#job-head [data-job="code"]');
  await page.waitForFunction(() => document.querySelector('#job-code svg') || document.getElementById('said').dataset.said === 'job.code.long');
  assert.equal(await page.evaluate(() => globalThis.ran), undefined);
  assert.equal(await page.locator('main img').count(), 0);
});
