// The worker of cmd/edge as it is deployed, under the platform's own runtime, for tests and for the bench.
import { execFileSync, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { program, repository } from './program.mjs';

const workerd = createRequire(import.meta.url).resolve('workerd/bin/workerd');
export const patience = 60_000; // for a start and for an answer; nothing here measures time

// The platform's way to the worker: what wrangler.toml names goes to the worker first; else the store answers, and if it has no such
// file, the worker does.
const way = () => `
const first = ${readFileSync(join(repository, 'cmd/edge/wrangler.toml'), 'utf8').match(/^run_worker_first = (\[.*?\])/m)[1]};
export default {
  async fetch(request, env) {
    const { pathname } = new URL(request.url);
    const fits = (p) => (p.endsWith('*') ? pathname.startsWith(p.slice(0, -1)) : pathname === p);
    if (first.some(fits)) return env.WORKER.fetch(request);
    const found = await env.ASSETS.fetch(request.clone());
    return found.status === 404 ? env.WORKER.fetch(request) : found;
  },
};`;

// The store stands in for the platform's: it knows types, "/", tags, and the file _headers. What it serves are the files of "build".
const store = `
const types = { html: 'text/html; charset=utf-8', js: 'text/javascript', css: 'text/css; charset=utf-8', wasm: 'application/wasm',
  svg: 'image/svg+xml', png: 'image/png', packed: 'application/octet-stream', txt: 'text/plain; charset=utf-8',
  webmanifest: 'application/manifest+json' };
const rules = async (env) => {
  const file = await env.DISK.fetch('http://disk/_headers');
  if (!file.ok) return [];
  const lines = (await file.text()).split('\\n').filter((line) => line !== '' && !line.startsWith('#'));
  if (lines.shift() !== '/*') throw new Error('_headers begins otherwise than this store can read');
  return lines.map((line) => line.trim().match(/^([^:]+): (.*)$/).slice(1));
};
async function answer(request, env) {
  const { pathname } = new URL(request.url);
  if (request.method !== 'GET' && request.method !== 'HEAD') return new Response(null, { status: 405, headers: { allow: 'GET, HEAD' } });
  if (pathname === '/index.html') return new Response(null, { status: 307, headers: { location: '/' } });
  if (pathname === '/seen') return Response.json([...request.headers]);
  if (pathname === '/cookie') return new Response('', { headers: { 'set-cookie': 'a=b', 'x-content-type-options': 'sniff' } });
  const name = pathname === '/' ? '/index.html' : pathname;
  const file = name === '/_headers' ? new Response(null, { status: 404 }) : await env.DISK.fetch('http://disk' + name);
  if (!file.ok) return new Response('not found', { status: 404 });
  const etag = '"' + name + '"';
  const headers = { 'content-type': types[name.split('.').pop()], 'cache-control': 'public, max-age=0, must-revalidate', etag };
  if (request.headers.get('if-none-match') === etag) return new Response(null, { status: 304, headers });
  return new Response(request.method === 'HEAD' ? null : file.body, { headers });
}
export default {
  async fetch(request, env) {
    const found = await answer(request, env);
    const all = new Response(found.body, found);
    for (const [name, value] of await rules(env)) all.headers.set(name, value);
    return all;
  },
};`;

// The worker, with a count of the requests that woke it, of the programs that it started, of the most that ran at once since last asked,
// and of what one had of memory at most. A program that handed on a file of the store never ends, but is left to be cleared away.
// A program that is told to hang never answers.
const counted = `
import worker from './entry.mjs';
const Plain = globalThis.Go;
const count = { asked: 0, started: 0, most: 0, bytes: 0 };
let running = 0, hang = 0;
globalThis.Go = class extends Plain {
  async run(instance, context) {
    count.started++;
    count.most = Math.max(count.most, ++running);
    const ended = super.run(instance, context);
    if (hang > 0) {
      hang--;
      context.binding.handleRequest = () => new Promise(() => {});
    }
    await ended;
    running--;
    count.bytes = Math.max(count.bytes, instance.exports.mem.buffer.byteLength);
  }
};
export default {
  fetch(request, env, ctx) {
    const { pathname } = new URL(request.url);
    if (pathname === '/-hang') hang = 2;
    if (pathname === '/-hang' || pathname === '/-count') {
      const now = Response.json(count);
      count.most = running = 0;
      return now;
    }
    count.asked++;
    return worker.fetch(request, env, ctx);
  },
};`;

const module = (name, path) => `(name = "${name}", esModule = embed "${path}")`;
const config = (site) => `using Workerd = import "/workerd/workerd.capnp";
const config :Workerd.Config = (
  v8Flags = ["--max-heap-size=128"], # as much as the platform gives an isolate
  services = [
    (name = "way", worker = (
      compatibilityDate = "2026-01-01",
      modules = [${module('way.mjs', 'way.mjs')}],
      bindings = [(name = "ASSETS", service = "store"), (name = "WORKER", service = "edge")],
      globalOutbound = "nowhere",
    )),
    (name = "edge", worker = (
      compatibilityDate = "2026-01-01",
      modules = .worker,
      bindings = [(name = "ASSETS", service = "store")],
      globalOutbound = "nowhere",
    )),
    (name = "bare", worker = (compatibilityDate = "2026-01-01", modules = .worker, globalOutbound = "nowhere")),
    (name = "store", worker = (
      compatibilityDate = "2026-01-01",
      modules = [${module('store.mjs', 'store.mjs')}],
      bindings = [(name = "DISK", service = "disk")],
      globalOutbound = "nowhere",
    )),
    (name = "disk", disk = (path = ${JSON.stringify(site)})),
    (name = "nowhere", network = (allow = [])),
  ],
  sockets = [
    (name = "way", address = "127.0.0.1:0", http = (), service = "way"),
    (name = "edge", address = "127.0.0.1:0", http = (), service = "edge"),
    (name = "bare", address = "127.0.0.1:0", http = (), service = "bare"),
  ],
);

const worker :List(Workerd.Worker.Module) = [
  ${module('counted.mjs', 'counted.mjs')},
  ${['entry.mjs', 'worker.mjs', 'wasm_exec.js', 'runtime.mjs'].map((name) => module(name, `edge/${name}`)).join(',\n  ')},
  (name = "app.wasm", wasm = embed "edge/app.wasm"),
];`;

// edge builds the worker and the site and runs them. It resolves to the address of all (base), of the worker alone (alone) and of a
// worker without a store (bare), to the site's directory, to what was said on the console, and to stop and trick.
export async function edge() {
  const directory = mkdtempSync(join(tmpdir(), 'ohmwright-edge-'));
  const site = join(directory, 'site');
  execFileSync('make', ['-s', 'worker', `EDGE=${join(directory, 'edge')}`], { cwd: repository, stdio: ['ignore', 'ignore', 'inherit'] });
  execFileSync(program(), ['build', site]);
  const files = { 'way.mjs': way(), 'store.mjs': store, 'counted.mjs': counted, 'config.capnp': config(site) };
  for (const [name, text] of Object.entries(files)) writeFileSync(join(directory, name), text);
  const stdio = ['ignore', 'pipe', 'pipe', 'pipe'];
  const server = spawn(workerd, ['serve', join(directory, 'config.capnp'), '--control-fd=3'], { stdio });
  const said = [];
  for (const stream of [server.stdout, server.stderr]) stream.on('data', (b) => said.push(String(b)));
  const stop = async () => {
    if (server.exitCode === null && server.signalCode === null) {
      const gone = new Promise((resolve) => server.once('exit', resolve));
      server.kill('SIGKILL');
      await gone;
    }
    rmSync(directory, { recursive: true, force: true });
  };
  try {
    const ports = await listening(server, said);
    const at = (name) => `http://127.0.0.1:${ports[name]}`;
    const trick = async (name) => (await fetch(`${at('edge')}/-${name}`)).json();
    return { base: at('way'), alone: at('edge'), bare: at('bare'), site, said, server, stop, trick };
  } catch (e) {
    await stop();
    throw e;
  }
}

// listening waits until the server says where it listens.
function listening(server, said) {
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
      if (Object.keys(ports).length === 3) {
        clearTimeout(late);
        resolve(ports);
      }
    });
    server.on('exit', (status) => reject(new Error(`workerd ended with ${status}: ${said.join('')}`)));
    server.on('error', reject);
  });
}
