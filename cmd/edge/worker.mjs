// The worker's way in. Questions, /v1 and all below it, go to the Go program of main.go; everything else to the platform's store of
// files, and the program does not even start. One program answers all questions of this isolate: the first one starts it.
import './wasm_exec.js';
import module from './app.wasm';
import { BROKEN, GUARD, MOST, NO_FILES } from './told.mjs';

const ROOM = 80 << 20; // bytes of memory from which a program is no longer asked: the platform ends an isolate at 128 MiB
const PASSED_ON = ['accept-encoding', 'if-none-match', 'if-modified-since', 'range', 'if-range']; // to the store; no other of the reader

let program; // {answer, memory}

export default {
  fetch(request, env) {
    const { pathname } = new URL(request.url);
    return pathname === '/v1' || pathname.startsWith('/v1/') ? question(request) : file(request, env.ASSETS);
  },
};

async function question(request) {
  let asked;
  try {
    asked = await begin(request);
  } catch {
    return new Response(null, { status: 400, headers: GUARD }); // the asker is gone
  }
  let answer;
  try {
    program ??= start();
    answer = program.answer(request.method, request.url, asked);
    if (program.memory.buffer.byteLength > ROOM) program = undefined;
  } catch {
    // it ended, as without memory
  }
  if (!answer) {
    program = undefined; // the next question starts another one
    return new Response(BROKEN, { status: 500, headers: { ...GUARD, 'content-type': 'application/json; charset=utf-8' } });
  }
  const { status, headers, body } = answer;
  return new Response(request.method === 'HEAD' ? null : body, { status, headers });
}

// begin reads a body, but hardly more than the program reads of it.
async function begin({ body, headers }) {
  const told = Number(headers.get('content-length') ?? NaN);
  if (told <= MOST) return new Uint8Array(await new Response(body).arrayBuffer());
  const pieces = [];
  let size = 0;
  const reader = body?.getReader();
  while (reader && size <= MOST) {
    const { done, value } = await reader.read();
    if (done) break;
    pieces.push(value);
    size += value.length;
  }
  if (size > MOST) reader.cancel().catch(() => {});
  const all = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    all.set(piece, at);
    at += piece.length;
  }
  return all;
}

// start starts the program, which is ready to answer when run returns.
function start() {
  let answer;
  globalThis.ohmwrightReady = (given) => (answer = given);
  const go = new Go();
  const instance = new WebAssembly.Instance(module, go.importObject);
  go.run(instance).catch(() => {});
  return { answer, memory: instance.exports.mem };
}

async function file(request, store) {
  const headers = new Headers(PASSED_ON.map((name) => [name, request.headers.get(name)]).filter(([, value]) => value !== null));
  let found;
  try {
    found = await store.fetch(request.url, { method: request.method, headers, redirect: 'manual' });
  } catch {
    found = new Response(NO_FILES, { status: 502, headers: { 'content-type': 'text/plain; charset=utf-8' } });
  }
  const answer = new Response(found.body, found);
  answer.headers.delete('set-cookie');
  for (const [name, value] of Object.entries(GUARD)) answer.headers.set(name, value);
  return answer;
}
