// The worker of cmd/edge as it is deployed, under the platform's own runtime: node --test site/test/edge.test.mjs
import assert from 'node:assert/strict';
import { readdirSync, readFileSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { edge, patience } from './edge.mjs';
import { cli, run } from './program.mjs';
import { same } from './same.mjs';

let worker, base, bare, site;

before(
  async () => {
    worker = await edge();
    ({ base, bare, site } = worker);
  },
  { timeout: 300_000 },
);

after(() => worker?.stop());

const ask = (path, init = {}) => fetch(base + path, { redirect: 'manual', signal: AbortSignal.timeout(patience), ...init });
const post = (tool, body) => ask('/v1/' + tool, { method: 'POST', body });

// answers checks the status of an answer.
const answers = (answer, status, what = '') => assert.equal(answer.status, status, `${answer.url} ${what}: the status should be ${status}`);

// guarded checks the headers that every answer has, and that none keeps anything.
function guarded(answer) {
  const h = answer.headers;
  assert.match(
    h.get('content-security-policy'),
    /^default-src 'none';.*frame-ancestors 'none'$/,
    `${answer.url}: header content-security-policy`,
  );
  assert.equal(h.get('x-content-type-options'), 'nosniff', `${answer.url}: header x-content-type-options`);
  assert.equal(h.get('referrer-policy'), 'no-referrer', `${answer.url}: header referrer-policy`);
  assert.equal(h.get('cross-origin-opener-policy'), 'same-origin', `${answer.url}: header cross-origin-opener-policy`);
  assert.equal(h.get('set-cookie'), null, `${answer.url}: header set-cookie`);
}

// The first test, while no question was asked yet.
test('files wake neither worker nor program', async () => {
  for (const name of readdirSync(site)) if (name !== '_headers') await (await ask('/' + name)).arrayBuffer();
  await (await ask('/')).arrayBuffer();
  await (await ask('/', { method: 'HEAD' })).arrayBuffer();
  const { asked, started } = await worker.trick('count');
  assert.deepEqual({ asked, started }, { asked: 0, started: 0 });
  for (const path of ['/_headers', '/none', '/v2', '/v11', '/V1', '/%76/1']) {
    const answer = await ask(path);
    guarded(answer);
    answers(answer, 404);
  }
  assert.equal((await worker.trick('count')).started, 6, 'programs started by what is no file');
});

test('many questions at once: each has a program of its own, and few are there together', async () => {
  const before = (await worker.trick('count')).started;
  const all = await Promise.all(Array.from({ length: 60 }, () => post('winding', example('winding'))));
  for (const answer of all) answers(answer, 200);
  const { started, most, bytes } = await worker.trick('count');
  assert.equal(started - before, 60, 'programs started');
  assert.equal(most, 2, 'the most at once');
  assert.ok(bytes < 40 << 20, `a program had ${bytes} bytes`);
});

const tools = cli('tools');
const example = (tool) => JSON.stringify(cli('describe', tool).example);

for (const { tool } of tools) {
  test(`POST /v1/${tool} answers as the command line does`, async () => {
    const asked = example(tool);
    const answer = await post(tool, asked);
    guarded(answer);
    answers(answer, 200);
    assert.equal(answer.headers.get('content-type'), 'application/json; charset=utf-8', `${answer.url}: header content-type`);
    assert.equal(answer.headers.get('cache-control'), 'no-store', `${answer.url}: header cache-control`);
    same(await answer.json(), run(tool, asked).response, `POST /v1/${tool}`);
  });
}

test('a refused request is 422 with every fault', async () => {
  const asked = '{"reading": "12 V", "known_good": {"reading": "9 ohm"}, "colour": "red"}';
  const answer = await post('winding', asked);
  guarded(answer);
  answers(answer, 422);
  const refusal = await answer.json();
  assert.deepEqual(refusal.errors.map((e) => [e.field, e.code]).sort(), [
    ['colour', 'unknown'],
    ['known_good.at', 'missing'],
    ['reading', 'unit'],
  ]);
  assert.deepEqual(refusal, run('winding', asked).response);
  for (const nothing of ['', '[]', '{', '\0', '\ud800']) {
    answers(await post('winding', nothing), 422, JSON.stringify(nothing));
  }
});

test('64 KiB are read, more are 413', async () => {
  const sized = (size) => '{"reading": "9.7 ohm", "at": "24 degC"}'.padEnd(size);
  answers(await post('winding', sized(64 << 10)), 200, 'of 64 KiB');
  for (const size of [(64 << 10) + 1, 8 << 20]) {
    const answer = await post('winding', sized(size));
    guarded(answer);
    answers(answer, 413);
    const { ok, errors } = await answer.json();
    assert.equal(ok, false, `POST /v1/winding of ${size} bytes should be refused`);
    assert.deepEqual(
      errors.map((e) => e.code),
      ['range'],
    );
  }
  answers(await post('winding', sized(100)), 200, 'of 100 bytes');
});

test('an unknown tool is 404, another method 405', async () => {
  for (const answer of [await post('anvil', '{}'), await ask('/v1/anvil'), await ask('/v1/winding/more')]) {
    guarded(answer);
    answers(answer, 404);
    assert.deepEqual(
      (await answer.json()).errors.map((e) => e.code),
      ['unknown'],
    );
  }
  const answer = await ask('/v1/winding', { method: 'DELETE' });
  guarded(answer);
  answers(answer, 405);
  assert.equal(answer.headers.get('allow'), 'GET, HEAD, POST', `${answer.url}: header allow`);
});

test('GET /v1 lists, GET /v1/TOOL describes', async () => {
  const list = await ask('/v1');
  guarded(list);
  assert.deepEqual(await list.json(), tools);
  const described = await ask('/v1/winding');
  guarded(described);
  assert.deepEqual(await described.json(), cli('describe', 'winding'));
});

test('every file of the site comes whole, with its type and the guard', async () => {
  const answer = await ask('/');
  guarded(answer);
  answers(answer, 200);
  assert.equal(answer.headers.get('content-type'), 'text/html; charset=utf-8', `${answer.url}: header content-type`);
  assert.deepEqual(Buffer.from(await answer.arrayBuffer()), readFileSync(join(site, 'index.html')));
  const names = readdirSync(site).filter((name) => name !== 'index.html');
  assert.ok(names.includes('ohmwright.packed') && names.includes('sw.js'), `the site should have module and worker, not only ${names}`);
  for (const name of names) {
    if (name === '_headers') continue; // for the platform
    const answer = await ask('/' + name);
    guarded(answer);
    answers(answer, 200);
    assert.deepEqual(Buffer.from(await answer.arrayBuffer()), readFileSync(join(site, name)), name);
    if (name.endsWith('.wasm')) assert.equal(answer.headers.get('content-type'), 'application/wasm', `${answer.url}: header content-type`);
    if (name.endsWith('.js')) assert.match(answer.headers.get('content-type'), /^text\/javascript/, `${answer.url}: header content-type`);
  }
});

// The platform's way, and a platform that asks the worker first for all.
for (const way of ['base', 'alone']) {
  test(`what the store says goes on: 304, 404, 405, redirects, HEAD (${way})`, async () => {
    const from = (path, init) => fetch(worker[way] + path, { redirect: 'manual', signal: AbortSignal.timeout(patience), ...init });
    const first = await from('/style.css');
    const again = await from('/style.css', { headers: { 'if-none-match': first.headers.get('etag') } });
    guarded(again);
    answers(again, 304);
    assert.equal(again.headers.get('cache-control'), 'no-cache', `${again.url}: header cache-control`);
    const none = await from('/none');
    guarded(none);
    answers(none, 404);
    const posted = await from('/', { method: 'POST', body: 'x' });
    guarded(posted);
    answers(posted, 405);
    assert.equal(posted.headers.get('allow'), 'GET, HEAD', `${posted.url}: header allow`);
    const index = await from('/index.html');
    guarded(index);
    answers(index, 307);
    assert.equal(index.headers.get('location'), '/', `${index.url}: header location`);
    const head = await from('/', { method: 'HEAD' });
    guarded(head);
    answers(head, 200);
    assert.equal(await head.text(), '', 'HEAD / should have no body');
  });
}

test('the worker tells the store nothing of the reader, and the store cannot weaken the guard or set a cookie', async () => {
  const headers = { cookie: 'a=b', authorization: 'x', 'user-agent': 'someone', 'if-none-match': '"x"' };
  const seen = await (await fetch(`${worker.alone}/seen`, { headers, signal: AbortSignal.timeout(patience) })).json();
  const names = seen.map(([name]) => name);
  for (const name of ['cookie', 'authorization', 'user-agent', 'referer'])
    assert.ok(!names.includes(name), `the store was told the header ${name}`);
  assert.ok(names.includes('if-none-match'), `the store was told only ${names}`);
  guarded(await fetch(`${worker.alone}/cookie`, { signal: AbortSignal.timeout(patience) }));
});

test('without a store the tools answer and the files are 502', async () => {
  const answer = await fetch(bare + '/v1/winding', { method: 'POST', body: example('winding'), signal: AbortSignal.timeout(patience) });
  answers(answer, 200);
  const page = await fetch(bare + '/', { signal: AbortSignal.timeout(patience) });
  guarded(page);
  answers(page, 502);
});

// raw asks for a path as it is, which fetch would tidy, and where it is told to with a body, which fetch refuses to send with GET.
function raw(path, body) {
  return new Promise((resolve, reject) => {
    request(base, { path, timeout: patience, headers: body === undefined ? {} : { 'content-length': body.length } }, (answer) => {
      answer.resume();
      answer.on('end', () => resolve({ url: path, status: answer.statusCode, headers: new Headers(answer.headers) }));
    })
      .on('timeout', function () {
        this.destroy(new Error(path + ': no answer'));
      })
      .on('error', reject)
      .end(body);
  });
}

test('a body with GET is let be', async () => {
  for (const body of ['', '{}', 'x'.repeat(1 << 17)]) {
    const answer = await raw('/v1/winding', body);
    answers(answer, 200, `with a body of ${body.length} bytes`);
    guarded(answer);
  }
});

test('odd paths find no file and break nothing', async () => {
  for (const path of [
    '//',
    '/../../etc/passwd',
    '/..%2f..%2fetc/passwd',
    '/%2e%2e/%2e%2e/etc/passwd',
    '/%00',
    '/v1/',
    '/v1//',
    '/v1/%2e%2e',
    '/v1/../../x',
    '/' + 'a'.repeat(4000),
  ]) {
    const answer = await raw(path);
    assert.ok(
      [301, 307, 404].includes(answer.status) || (answer.status === 200 && ['//', '/v1/%2e%2e'].includes(path)),
      `${path}: ${answer.status}`,
    );
    guarded(answer);
  }
});

test('many at once are each answered with their own', async () => {
  const answers = await Promise.all(
    Array.from(
      { length: 20 },
      async (_, i) => (await (await post('winding', `{"reading": "${i + 5} ohm", "at": "20 degC"}`)).json()).result.winding.value,
    ),
  );
  assert.deepEqual(
    answers,
    Array.from({ length: 20 }, (_, i) => i + 5),
  );
});

test('nothing is said on the console', () => assert.deepEqual(worker.said, []));

// After it, since the runtime says of these that they hang.
test('programs that hang, and askers who go or dawdle, do not keep others from an answer', async () => {
  await worker.trick('hang');
  for (let i = 0; i < 2; i++) answers(await post('winding', example('winding')), 500, 'of a program that hangs');
  answers(await post('winding', example('winding')), 200, 'after two that hung');
  const slow = Array.from({ length: 3 }, dawdler);
  const begun = Date.now();
  answers(await post('winding', example('winding')), 200, 'beside three who dawdle');
  assert.ok(Date.now() - begun < 4_000, `the answer took ${Date.now() - begun} ms; after 5000 the places of others are given away`);
  for (const one of slow) one.destroy();
  for (let i = 0; i < 10; i++) {
    const gone = AbortSignal.timeout(5 + 10 * i);
    await ask('/v1/circuit', { method: 'POST', body: example('circuit'), signal: gone }).catch(() => {});
  }
  answers(await post('winding', example('winding')), 200, 'after ten who went');
});

// dawdler begins a question and sends no more of it.
function dawdler() {
  const one = request(worker.base + '/v1/winding', { method: 'POST', headers: { 'content-length': 1000 } });
  one.on('error', () => {}); // it is destroyed in the end
  one.write('{"reading": ');
  return one;
}
