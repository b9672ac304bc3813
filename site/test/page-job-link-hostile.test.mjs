// Links of jobs that are wrong: nothing is lost, nothing is run, and a clear word is said.
// node --test site/test/page-job-link-hostile.test.mjs
import assert from 'node:assert/strict';
import { deflateRawSync } from 'node:zlib';
import { scene, useBrowser } from './browser.mjs';
import { evil, evilFacts, hush, lines, named, open, read, recorded, saidBy } from './joblinks.mjs';
import { begin, inside, put, valueOf } from './jobs.mjs';
import { go, word } from './reader.mjs';

useBrowser();

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
  const cuts = [40, 41, 42, 43, body.length >> 1, body.length - 2, body.length - 1];
  for (const at of cuts) list.push([`cut at ${at}`, body.slice(0, at), 'damaged']);
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
  const when = '2026-11-27T07:10:00Z';
  const reading = { kind: 'reading', tool: 'winding', what: 'reading', name: evil, value: evil, at: evil, supply: evil, meter: evil };
  const job = {
    id: 'eeeeeeeeeeee', made: when, changed: when,
    facts: { given: evilFacts, units: { supply: evil }, rows: { specs: 2 }, from: { supply: 'winding' } },
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
  assert.equal(await saidBy(page, 'job.code'), 'job.code.long');
  assert.equal(await page.evaluate(() => globalThis.ran), undefined);
  assert.equal(await page.locator('main img').count(), 0);
});

// ---- storage

const forbidden = () => {
  Object.defineProperty(globalThis, 'indexedDB', { get: () => ({ open() { throw new DOMException('no', 'SecurityError'); } }) });
};

scene('storage forbidden: a link opens for this window alone', { at: '', fresh: true, init: forbidden }, async (page) => {
  await hush(page);
  await go(page, lines[0][1]);
  assert.equal(await saidBy(page, 'job.import'), 'job.import.held');
  await hush(page);
  await go(page, lines[1][1]);
  assert.equal(await saidBy(page, 'job.import'), 'job.import.forbidden', 'a second one: the first would be lost');
});
