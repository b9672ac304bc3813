
// The lines above are Go's own, for running a module. The lines below start the page's module, as early as possible: it is compiled while
// it comes and is unpacked and unfolded.
import { Unpacker } from './unpack.js';

{
  const MODULE = {}; // stamp.go says where it is, its size and its hash
  const go = new Go();
  go.env.GOGC = '300'; // collecting costs a tenth of a circuit answer otherwise; the heap may grow to four times what is in use
  const isWasm = { headers: { 'content-type': 'application/wasm' } };

  const isRight = async (bytes) => {
    const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
    return MODULE.hash === `sha256-${btoa(String.fromCharCode(...sum))}`;
  };

  // fetched asks for the packed module. The service worker gives it as it has unpacked it already. Without https there is no
  // crypto.subtle: the browser then compares the hash itself, before it gives anything out. Only when it is asked like this do Firefox
  // and WebKit, as Chromium, take what the page has preloaded; else it would come twice.
  const fetched = async (cache) => {
    const get = globalThis.ohmwrightInside ?? fetch; // where the site is one file
    const asPreloaded = { cache, mode: 'no-cors', credentials: 'include' };
    const response = await get(MODULE.packed, crypto.subtle ? asPreloaded : { cache, integrity: MODULE.hash });
    if (!response.ok) throw new Error(`${MODULE.packed}: ${response.status}`);
    return response;
  };
  const isPlain = (response) => navigator.serviceWorker?.controller && response.headers.get('content-type') === 'application/wasm';

  // unpack unpacks and unfolds what comes, as it comes, and throws if that was not the version's module.
  const unpack = async (response, give) => {
    const all = new Uint8Array(MODULE.size);
    const unfolder = new Unfolder(give);
    const one = new Unpacker(() => unfolder.push(one.out.subarray(0, one.to), false));
    let got = 0;
    const take = (bytes) => {
      if (got + bytes.length > all.length) throw new Error(`${MODULE.packed}: too long`);
      all.set(bytes, got);
      got += bytes.length;
      one.push(bytes);
      dispatchEvent(new CustomEvent('ohmwright-coming', { detail: [got, all.length] }));
    };
    if (response.body) {
      const reader = response.body.getReader();
      for (let part = await reader.read(); !part.done; part = await reader.read()) take(part.value);
    } else take(new Uint8Array(await response.arrayBuffer()));
    one.push(null);
    unfolder.push(one.out, true);
    if (crypto.subtle && !(await isRight(all))) throw new Error(`${MODULE.packed}: other bytes`);
  };

  const inStream = (response) =>
    new ReadableStream({
      start: (out) => unpack(response, (bytes) => out.enqueue(bytes)).then(() => out.close(), (e) => out.error(e)),
    });

  const inOne = async (response) => {
    const parts = [];
    await unpack(response, (bytes) => parts.push(bytes));
    return new Blob(parts).arrayBuffer();
  };

  const start = async (cache) => {
    const response = await fetched(cache);
    if (!WebAssembly.instantiateStreaming) {
      return WebAssembly.instantiate(await (isPlain(response) ? response.arrayBuffer() : inOne(response)), go.importObject);
    }
    return WebAssembly.instantiateStreaming(isPlain(response) ? response : new Response(inStream(response), isWasm), go.importObject);
  };

  // run hands the module its words, which it has none of.
  const run = async ({ instance }) => {
    globalThis.ohmwrightWords = await globalThis.ohmwrightWords;
    const ended = go.run(instance);
    delete globalThis.ohmwrightWords;
    return ended;
  };

  start('default')
    .catch(() => start('reload')) // what some cache had may have been wrong
    .then(run)
    .then(() => globalThis.dispatchEvent(new Event('ohmwright-ended'))) // it ends only when it dies
    .catch(globalThis.ohmwrightFailed);
}
