// The worker of cmd/edge as it is deployed, under the platform's own runtime: node --test site/test/edge.test.mjs
import assert from 'node:assert/strict';
import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, before, test } from 'node:test';
import { cli, program, repository, run } from './program.mjs';
import { same } from './same.mjs';

const workerd = createRequire(import.meta.url).resolve('workerd/bin/workerd');
const patience = 60_000; // for a start and for an answer; nothing here measures time

// The store stands in for the platform's: it knows types, "/" and tags. What it serves are the files of "build".
const store = `
const types = { html: 'text/html; charset=utf-8', js: 'text/javascript', css: 'text/css; charset=utf-8', wasm: 'application/wasm',
  svg: 'image/svg+xml', png: 'image/png', webmanifest: 'application/manifest+json' };
export default {
  async fetch(request, env) {
    const { pathname } = new URL(request.url);
    if (request.method !== 'GET' && request.method !== 'HEAD') return new Response(null, { status: 405, headers: { allow: 'GET, HEAD' } });
    if (pathname === '/index.html') return new Response(null, { status: 307, headers: { location: '/' } });
    if (pathname === '/seen') return Response.json([...request.headers]);
    if (pathname === '/cookie') return new Response('', { headers: { 'set-cookie': 'a=b', 'x-content-type-options': 'sniff' } });
    const name = pathname === '/' ? '/index.html' : pathname;
    const file = await env.DISK.fetch('http://disk' + name);
    if (!file.ok) return new Response('not found', { status: 404 });
    const etag = '"' + name + '"';
    const headers = { 'content-type': types[name.split('.').pop()], 'cache-control': 'public, max-age=0, must-revalidate', etag };
    if (request.headers.get('if-none-match') === etag) return new Response(null, { status: 304, headers });
    return new Response(request.method === 'HEAD' ? null : file.body, { headers });
  },
};`;

const config = (site) => `using Workerd = import "/workerd/workerd.capnp";
const config :Workerd.Config = (
  services = [
    (name = "edge", worker = (
      compatibilityDate = "2026-01-01",
      modules = .worker,
      bindings = [(name = "ASSETS", service = "store")],
      globalOutbound = "nowhere",
    )),
    (name = "bare", worker = (
      compatibilityDate = "2026-01-01",
      modules = .worker,
      globalOutbound = "nowhere",
    )),
    (name = "store", worker = (
      compatibilityDate = "2026-01-01",
      modules = [(name = "store.mjs", esModule = embed "store.mjs")],
      bindings = [(name = "DISK", service = "disk")],
      globalOutbound = "nowhere",
    )),
    (name = "disk", disk = (path = ${JSON.stringify(site)})),
    (name = "nowhere", network = (allow = [])),
  ],
  sockets = [
    (name = "http", address = "127.0.0.1:0", http = (), service = "edge"),
    (name = "bare", address = "127.0.0.1:0", http = (), service = "bare"),
  ],
);

const worker :List(Workerd.Worker.Module) = [
  (name = "worker.mjs", esModule = embed "edge/worker.mjs"),
  (name = "wasm_exec.js", esModule = embed "edge/wasm_exec.js"),
  (name = "runtime.mjs", esModule = embed "edge/runtime.mjs"),
  (name = "app.wasm", wasm = embed "edge/app.wasm"),
];`;

let directory, site, server, base, bare;
const said = [];

before(
  async () => {
    directory = mkdtempSync(join(tmpdir(), 'ohmwright-edge-'));
    const edge = join(directory, 'edge');
    site = join(directory, 'site');
    const go = (args, env = {}) =>
      execFileSync('go', args, { cwd: repository, env: { ...process.env, ...env }, stdio: ['ignore', 'pipe', 'inherit'] });
    go(['tool', 'workers-assets-gen', '-mode', 'go', '-o', edge]); // empties the directory, so it comes first
    go(['build', '-trimpath', '-ldflags=-s -w', '-o', join(edge, 'app.wasm'), './cmd/edge'], { GOOS: 'js', GOARCH: 'wasm' });
    execFileSync(program(), ['build', site]);
    writeFileSync(join(directory, 'store.mjs'), store);
    writeFileSync(join(directory, 'config.capnp'), config(site));
    server = spawn(workerd, ['serve', join(directory, 'config.capnp'), '--control-fd=3'], { stdio: ['ignore', 'pipe', 'pipe', 'pipe'] });
    for (const stream of [server.stdout, server.stderr]) stream.on('data', (b) => said.push(String(b)));
    const ports = await listening(server);
    base = `http://127.0.0.1:${ports.http}`;
    bare = `http://127.0.0.1:${ports.bare}`;
  },
  { timeout: 300_000 },
);

// listening waits until the server says where it listens.
function listening(server) {
  return new Promise((resolve, reject) => {
    const late = setTimeout(() => reject(new Error('workerd does not listen: ' + said.join(''))), patience);
    const ports = {};
    let text = '';
    server.stdio[3].on('data', (b) => {
      text += b;
      const lines = text.split('\n');
      text = lines.pop();
      for (const line of lines) {
        const { event, socket, port } = JSON.parse(line);
        if (event === 'listen') ports[socket] = port;
      }
      if (ports.http && ports.bare) {
        clearTimeout(late);
        resolve(ports);
      }
    });
    server.on('exit', (status) => reject(new Error(`workerd ended with ${status}: ${said.join('')}`)));
    server.on('error', reject);
  });
}

after(async () => {
  if (server && server.exitCode === null && server.signalCode === null) {
    const gone = new Promise((resolve) => server.once('exit', resolve));
    server.kill('SIGKILL');
    await gone;
  }
  if (directory) rmSync(directory, { recursive: true, force: true });
});

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
  assert.equal(answer.headers.get('allow'), 'GET, POST', `${answer.url}: header allow`);
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
    const answer = await ask('/' + name);
    guarded(answer);
    answers(answer, 200);
    assert.deepEqual(Buffer.from(await answer.arrayBuffer()), readFileSync(join(site, name)), name);
    if (name.endsWith('.wasm')) assert.equal(answer.headers.get('content-type'), 'application/wasm', `${answer.url}: header content-type`);
    if (name.endsWith('.js')) assert.match(answer.headers.get('content-type'), /^text\/javascript/, `${answer.url}: header content-type`);
  }
});

test('what the store says goes on: 304, 404, 405, redirects, HEAD', async () => {
  const first = await ask('/style.css');
  const again = await ask('/style.css', { headers: { 'if-none-match': first.headers.get('etag') } });
  guarded(again);
  answers(again, 304);
  assert.equal(again.headers.get('cache-control'), 'public, max-age=0, must-revalidate', `${again.url}: header cache-control`);
  const none = await ask('/none');
  guarded(none);
  answers(none, 404);
  const posted = await ask('/', { method: 'POST', body: 'x' });
  guarded(posted);
  answers(posted, 405);
  assert.equal(posted.headers.get('allow'), 'GET, HEAD', `${posted.url}: header allow`);
  const index = await ask('/index.html');
  guarded(index);
  answers(index, 307);
  assert.equal(index.headers.get('location'), '/', `${index.url}: header location`);
  const head = await ask('/', { method: 'HEAD' });
  guarded(head);
  answers(head, 200);
  assert.equal(await head.text(), '', 'HEAD / should have no body');
});

test('the store learns nothing of the reader, and cannot weaken the guard or set a cookie', async () => {
  const seen = await (await ask('/seen', { headers: { cookie: 'a=b', authorization: 'x', 'user-agent': 'someone' } })).json();
  const names = seen.map(([name]) => name);
  for (const name of ['cookie', 'authorization', 'user-agent', 'referer'])
    assert.ok(!names.includes(name), `the store was told the header ${name}`);
  guarded(await ask('/cookie'));
});

test('without a store the tools answer and the files are 502', async () => {
  const answer = await fetch(bare + '/v1/winding', { method: 'POST', body: example('winding'), signal: AbortSignal.timeout(patience) });
  answers(answer, 200);
  const page = await fetch(bare + '/', { signal: AbortSignal.timeout(patience) });
  guarded(page);
  answers(page, 502);
});

// raw asks for a path as it is, which fetch would tidy.
function raw(path) {
  return new Promise((resolve, reject) => {
    request(base, { path, timeout: patience }, (answer) => {
      answer.resume();
      answer.on('end', () => resolve({ url: path, status: answer.statusCode, headers: new Headers(answer.headers) }));
    })
      .on('timeout', function () {
        this.destroy(new Error(path + ': no answer'));
      })
      .on('error', reject)
      .end();
  });
}

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

test('nothing is said on the console', () => assert.deepEqual(said, []));
