
// The lines above are written when the site is made (stamp.go): VERSION is a hash of all its bytes, FILES has the hash of each file,
// LANGUAGES of each language its tag and the files that are its own, its page first; the first is that of index.html. Of them only those
// of one language are kept: the one that a page was last open in.
//
// This worker answers for the files of its own version, at its own address, and for nothing else: a neighbour's page, /v1 and whatever
// has another version behind its name go to the network as if it were not there. A file is taken only if its bytes are the version's,
// whatever the host calls them and from wherever it redirects.
const ROOT = new URL('./', self.location).href;
const PLACE = `ohmwright ${new URL(ROOT).pathname} `; // how the names of this site's caches begin
const CACHE = PLACE + VERSION;
const PACKED = 'ohmwright.packed';
const PLAIN = 'ohmwright.wasm'; // the module unpacked: what a page gets that asks for the packed one
const KINDS = {
  html: 'text/html; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  css: 'text/css; charset=utf-8',
  wasm: 'application/wasm',
  svg: 'image/svg+xml',
  png: 'image/png',
  webmanifest: 'application/manifest+json',
};

const SPOKEN = `${ROOT}language`; // the name under which a cache has the language
const FIRST = LANGUAGES[0];

// ---- languages

// placeOf is what stands behind the site's address in another one, without query and fragment.
const placeOf = (href) => href.split(/[?#]/)[0].slice(ROOT.length);

// languageAt returns the language of the page at an address: its tag and files.
const languageAt = (href) => LANGUAGES.find(([, page]) => page === placeOf(href)) ?? FIRST;

// spoken returns the language in use, which another version may have noted.
async function spoken() {
  if (LANGUAGES.length === 1) return FIRST;
  for (const name of [CACHE, ...(await caches.keys()).filter((name) => name.startsWith(PLACE) && name !== CACHE)]) {
    const tag = await (await (await caches.open(name)).match(SPOKEN))?.text();
    const found = LANGUAGES.find(([own]) => own === tag);
    if (found) return found;
  }
  return FIRST;
}

async function speak([tag]) {
  if (LANGUAGES.length > 1) await (await caches.open(CACHE)).put(SPOKEN, new Response(tag)).catch(() => {});
}

// namesIn returns the files to keep for a language.
function namesIn([, ...own]) {
  const others = new Set(LANGUAGES.flatMap(([, ...files]) => files).filter((file) => !own.includes(file)));
  return Object.keys(FILES).filter((file) => !others.has(file));
}

// ---- bytes

// A Fault says which file did not come, and why: "wrong" (it is not the version's), "cut" (the connection broke off), "room" (the
// device has none left).
class Fault extends Error {
  constructor(why, file) {
    super(`${file}: ${why}`);
    Object.assign(this, { why, file });
  }
}

// keyOf is the address under which a file is kept. The page itself is kept under the address of its folder.
const keyOf = (file) => (file === 'index.html' ? ROOT : ROOT + file);

const isRight = async (bytes, file) => FILES[file] === (await hashOf(bytes));

// tried asks the host for a file once. It returns the bytes, or why they are none of ours.
async function tried(file, address, cache) {
  try {
    const response = await fetch(address, { cache, credentials: 'same-origin' });
    if (!response.ok) return { why: 'wrong' };
    const bytes = await response.arrayBuffer();
    return (await isRight(bytes, file)) ? { bytes } : { why: 'wrong' };
  } catch {
    return { why: 'cut' };
  }
}

// fetched returns a file from the host. What the browser or a host in between has kept may be wrong or old: it is then asked for past
// all caches, and the page under its other name too.
async function fetched(file) {
  const address = `${keyOf(file)}${file === 'index.html' ? '' : `?${VERSION}`}`;
  const ways = [
    [address, file === 'index.html' ? 'no-cache' : 'default'],
    [address, 'reload'],
  ];
  if (file === 'index.html') ways.push([`${ROOT}index.html`, 'reload']);
  let why;
  for (const [where, cache] of ways) {
    const got = await tried(file, where, cache);
    if (got.bytes) return got.bytes;
    why = why === 'wrong' ? why : got.why;
  }
  throw new Fault(why, file);
}

// former returns a file as another version of this site has kept it, if it has not changed since.
async function former(file) {
  for (const name of await caches.keys()) {
    if (!name.startsWith(PLACE) || name === CACHE) continue;
    const kept = await (await caches.open(name)).match(keyOf(file));
    const bytes = await kept?.arrayBuffer();
    if (bytes && (await isRight(bytes, file))) return bytes;
  }
  return null;
}

// take gets a file and keeps it. It returns the response that is kept.
async function take(file) {
  const bytes = (await former(file)) ?? (await fetched(file));
  const kind = KINDS[file.split('.').pop()] ?? 'application/octet-stream';
  const response = new Response(bytes, { headers: { 'content-type': kind, 'content-length': bytes.byteLength } });
  try {
    await (await caches.open(CACHE)).put(keyOf(file), response.clone());
  } catch (e) {
    if (e?.name !== 'QuotaExceededError') throw e;
    throw Object.assign(new Fault('room', file), { response });
  }
  return response;
}

// unpackModule keeps the module as it is unpacked, so that no later start has to do that. Without room for it the page does it.
async function unpackModule() {
  const cache = await caches.open(CACHE);
  if (await cache.match(ROOT + PLAIN)) return;
  try {
    const packed = await (await cache.match(ROOT + PACKED)).arrayBuffer();
    const parts = [];
    new Streams(new Unfolder((part) => parts.push(part))).push(new Uint8Array(packed), true);
    await cache.put(ROOT + PLAIN, new Response(new Blob(parts), { headers: { 'content-type': KINDS.wasm } }));
  } catch {
    // the page unpacks it at each start
  }
}

// missing returns the files that are not kept.
async function missing() {
  const names = namesIn(await spoken());
  const cache = await caches.open(CACHE);
  const kept = new Set((await cache.keys()).map((request) => request.url));
  return names.filter((file) => !kept.has(keyOf(file)));
}

// takeAll keeps all files that are missing, a few at once. It throws the Fault of one that does not come, once no other is under way.
async function takeAll() {
  const left = await missing();
  const work = async () => {
    for (let file = left.pop(); file; file = left.pop()) await take(file);
  };
  const stop = (e) => {
    left.length = 0;
    return e;
  };
  const faults = (await Promise.all([1, 2, 3, 4].map(() => work().catch(stop)))).filter(Boolean);
  if (faults.length > 0) throw faults[0];
  await unpackModule();
}

// ---- what happens

// tell tells the windows of this site something.
async function tell(what) {
  for (const client of await self.clients.matchAll({ includeUncontrolled: true, type: 'window' })) {
    if (client.url.startsWith(ROOT)) client.postMessage({ site: ROOT, version: VERSION, ...what });
  }
}

const faultOf = (e) => (e instanceof Fault ? { why: e.why, file: e.file } : { why: 'none', file: '' });

// Either every file is installed or none is.
async function install() {
  try {
    const windows = await self.clients.matchAll({ includeUncontrolled: true, type: 'window' });
    const open = windows.find(({ url }) => url.startsWith(ROOT));
    if (open) await speak(languageAt(open.url));
    await takeAll();
  } catch (e) {
    await tell({ failed: faultOf(e) });
    if (e.why === 'room') await caches.delete(CACHE); // otherwise the next try goes on with what is here
    throw e;
  }
}

// tidy takes away the caches of this site's other versions. Versions that did not yet write their place into the name shared a cache
// with their neighbours: of it only what is this site's is taken away.
async function tidy() {
  for (const name of await caches.keys()) {
    if (name.startsWith(PLACE) && name !== CACHE) await caches.delete(name);
    if (!/^ohmwright-[0-9a-f]{16}$/.test(name)) continue;
    const cache = await caches.open(name);
    const all = await cache.keys();
    const own = all.filter(({ url }) => url.startsWith(ROOT) && !url.slice(ROOT.length).includes('/'));
    for (const request of own) await cache.delete(request);
    if (own.length === all.length) await caches.delete(name);
  }
}

// refill is under way while something is missing: one at a time.
let refill = null;

// complete answers a window's question whether everything is here, and gets what is not.
async function complete(client) {
  const say = (what) => client.postMessage({ site: ROOT, version: VERSION, ...what });
  await speak(languageAt(client.url));
  if ((await missing()).length === 0) return say({ complete: true });
  say({ complete: false });
  refill ??= takeAll().finally(() => (refill = null));
  await refill.then(
    () => say({ complete: true }),
    (e) => say({ complete: false, failed: faultOf(e) }),
  );
}

// fileOf returns the file of this version that a request asks for, or undefined.
function fileOf({ method, url }) {
  const { href, search } = new URL(url);
  const name = placeOf(href);
  if (method !== 'GET' || !href.startsWith(ROOT)) return undefined;
  if (name === '' || name === 'index.html') return 'index.html';
  return Object.hasOwn(FILES, name) && ['', `?${VERSION}`].includes(search) ? name : undefined;
}

// answer returns a file. One that has been lost is fetched again; if the host has another version of the page by now, that is
// shown, with all that belongs to it.
async function answer(file, request) {
  try {
    if (request.mode === 'navigate' && placeOf(request.url) === '') {
      const [tag, page] = await spoken();
      if (tag !== FIRST[0]) return Response.redirect(ROOT + page);
    }
    const cache = await caches.open(CACHE);
    const plain = file === PACKED && request.cache !== 'reload' && (await cache.match(ROOT + PLAIN));
    return plain || ((await cache.match(keyOf(file))) ?? (await take(file)));
  } catch (e) {
    if (e?.response) return e.response;
    if (file === 'index.html' || !(e instanceof Fault)) return fetch(request);
    if (e.why === 'wrong') giveWay();
    return Response.error();
  }
}

// giveWay hands over to the version that the host has now, without waiting for a tap: this one has lost a file for good.
async function giveWay() {
  const found = await self.registration.update().catch(() => null);
  const next = found?.waiting ?? found?.installing;
  const change = () => next.state === 'installed' && next.postMessage('change');
  next?.addEventListener('statechange', change);
  if (next) change();
}

self.addEventListener('install', (e) => e.waitUntil(install()));
self.addEventListener('activate', (e) => e.waitUntil(tidy().then(() => self.clients.claim())));
self.addEventListener('message', (e) => {
  if (e.data === 'change') e.waitUntil(self.skipWaiting());
  if (e.data === 'complete?') e.waitUntil(complete(e.source));
});
self.addEventListener('fetch', (e) => {
  const file = fileOf(e.request);
  if (file) e.respondWith(answer(file, e.request));
});
