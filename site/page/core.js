
// The lines above are Go's own, for running a module, and the function that unpacks: see compile.js. The lines below get the tools'
// forms and run the page's module, as early as possible.
{
  // Of each packed file its address, size and hash: stamp.go has the list. The forms are those of each language.
  const { module: MODULE, forms: FORMS } = 'packed.list';
  const { Unpacker, check, compiled } = unpacking(MODULE);

  // fetched asks for a packed file. Without https the browser compares the hash itself, before it gives anything out. Only when it is asked
  // like this do Firefox and WebKit, as Chromium, take what the page has preloaded; else it would come twice.
  const fetched = async ({ address, hash }, cache) => {
    const get = globalThis.ohmwrightInside ?? fetch; // where the site is one file
    const asPreloaded = { cache, mode: 'no-cors', credentials: 'include' };
    const response = await get(address, crypto.subtle ? asPreloaded : { cache, integrity: hash });
    if (!response.ok) throw new Error(`${address}: ${response.status}`);
    return response;
  };

  // ---- the forms

  // formsIn returns the texts in the packed forms of a language: words of the module, style, then the forms. If they do not come, the page
  // says so, and loads anew once they can: see look.js.
  const formsIn = async (lang) => {
    const file = FORMS[lang];
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
  const words = formsIn(document.documentElement.lang).then(([words, style, ...forms]) => {
    globalThis.ohmwrightShows({ style, forms });
    return words;
  });

  // ---- the module

  const go = new Go();
  go.env.GOGC = '300'; // collecting costs a tenth of a circuit answer otherwise; the heap may grow to four times what is in use
  const PATIENCE = 3000; // ms that a worker has to begin, once the module has come

  // readerOf returns a function that resolves to the next bytes of a response, or to null at the end.
  const readerOf = (response) => {
    let got = 0;
    const told = (bytes) => {
      if (bytes) dispatchEvent(new CustomEvent('ohmwright-coming', { detail: [(got += bytes.length), MODULE.size] }));
      return bytes;
    };
    const reader = response.body?.getReader();
    if (reader) return async () => told((await reader.read()).value ?? null);
    return async () => (got > 0 ? null : told(new Uint8Array(await response.arrayBuffer())));
  };

  // inWorker compiles the module in a thread of its own, so that the page stays at hand.
  const inWorker = (read) =>
    new Promise((resolve, reject) => {
      const script = URL.createObjectURL(new Blob([`(${unpacking})(${JSON.stringify(MODULE)})`], { type: 'text/javascript' }));
      const worker = new Worker(script);
      let timer = null;
      const end = (settle, what) => {
        clearTimeout(timer);
        URL.revokeObjectURL(script);
        worker.terminate();
        settle(what);
      };
      let isHere = false;
      worker.addEventListener('message', ({ data }) => {
        if (data === 'here') isHere = true;
        else if (data instanceof WebAssembly.Module) end(resolve, data);
        else end(reject, new Error(data.wrong));
      });
      for (const name of ['error', 'messageerror']) worker.addEventListener(name, (e) => end(reject, e));
      const send = async () => {
        let bytes;
        do worker.postMessage((bytes = await read()));
        while (bytes);
        if (!isHere) timer = setTimeout(() => isHere || end(reject, new Error('no worker came')), PATIENCE);
      };
      send().catch((e) => end(reject, e));
    });

  // compiledFrom compiles what comes in a worker; here if that fails, as where a host's own policy allows none.
  const compiledFrom = async (response) => {
    const read = readerOf(response);
    const parts = []; // as promises: the page takes them up from the first, whichever the worker waits for
    const all = () => {
      let i = 0;
      return () => (parts[i++] ??= read());
    };
    return inWorker(all()).catch(() => compiled(all()));
  };

  // The service worker gives the module as it has unpacked it already.
  const isPlain = (response) => navigator.serviceWorker?.controller && response.headers.get('content-type') === 'application/wasm';

  const start = async (cache) => {
    const response = await fetched(MODULE, cache);
    if (!isPlain(response)) return compiledFrom(response);
    return WebAssembly.compileStreaming ? WebAssembly.compileStreaming(response) : WebAssembly.compile(await response.arrayBuffer());
  };

  // run hands the module its words, which it has none of.
  const run = async (made) => {
    const instance = await WebAssembly.instantiate(made, go.importObject);
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
