
// The lines above are Go's own, for running a module, then those that unpack and unfold what comes packed. The lines below start, as early
// as possible, the page's module, which is compiled while it comes, and get the tools' forms and style.
{
  // Of each packed file its address, size and hash: stamp.go has the list. The forms are those of each language.
  const { module, forms } = 'packed.list';
  const go = new Go();
  go.env.GOGC = '300'; // collecting costs a tenth of a circuit answer otherwise; the heap may grow to four times what is in use
  const isWasm = { headers: { 'content-type': 'application/wasm' } };

  const check = async ({ address, hash }, bytes) => {
    if (!crypto.subtle) return;
    const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
    if (hash !== `sha256-${btoa(String.fromCharCode(...sum))}`) throw new Error(`${address}: other bytes`);
  };

  // fetched asks for a packed file. Without https there is no crypto.subtle: the browser then compares the hash itself, before it gives
  // anything out. Only when it is asked like this do Firefox and WebKit, as Chromium, take what the page has preloaded; else it would
  // come twice.
  const fetched = async ({ address, hash }, cache) => {
    const get = globalThis.ohmwrightInside ?? fetch; // where the site is one file
    const asPreloaded = { cache, mode: 'no-cors', credentials: 'include' };
    const response = await get(address, crypto.subtle ? asPreloaded : { cache, integrity: hash });
    if (!response.ok) throw new Error(`${address}: ${response.status}`);
    return response;
  };

  // ---- the forms

  // formsIn returns what the packed forms of a language say: words of the module, style and markup. If they do not come, the page says so,
  // and loads anew once they can: see look.js.
  const formsIn = async (lang) => {
    const file = forms[lang];
    const take = async (cache) => {
      const bytes = new Uint8Array(await (await fetched(file, cache)).arrayBuffer());
      await check(file, bytes);
      return bytes;
    };
    const bytes = await take('default')
      .catch(() => take('reload')) // what some cache had may have been wrong
      .catch((e) => {
        globalThis.ohmwrightLacks(file.address, file.hash);
        throw e;
      });
    return (await Unpacker.whole(bytes).text()).split('\0');
  };
  const words = formsIn(document.documentElement.lang).then(([words, style, markup]) => {
    globalThis.ohmwrightShows({ style, markup });
    return words;
  });

  // ---- the module

  // The service worker gives the module as it has unpacked it already.
  const isPlain = (response) => navigator.serviceWorker?.controller && response.headers.get('content-type') === 'application/wasm';

  // unpack unpacks and unfolds what comes, as it comes, and throws if that was not the version's module.
  const unpack = async (response, give) => {
    const all = new Uint8Array(module.size);
    const unfolder = new Unfolder(give);
    const one = new Unpacker(() => unfolder.push(one.out.subarray(0, one.to), false));
    let got = 0;
    const take = (bytes) => {
      if (got + bytes.length > all.length) throw new Error(`${module.address}: too long`);
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
    await check(module, all);
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
    const response = await fetched(module, cache);
    if (!WebAssembly.instantiateStreaming) {
      return WebAssembly.instantiate(await (isPlain(response) ? response.arrayBuffer() : inOne(response)), go.importObject);
    }
    return WebAssembly.instantiateStreaming(isPlain(response) ? response : new Response(inStream(response), isWasm), go.importObject);
  };

  // run hands the module its words, which it has none of.
  const run = async ({ instance }) => {
    globalThis.ohmwrightWords = await words;
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
