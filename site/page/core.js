
// The lines above are two functions: Go's own lines for running a module, and what unpacks and compiles (compile.js). The lines below get
// the tools' forms and run the page's module, as early as possible.
{
  // Of each packed file its address, size and hash: stamp.go has the list. The forms are those of each language.
  const { module: MODULE, forms: FORMS } = 'packed.list';
  const { Unpacker, check, compiled, fetched } = unpacking(MODULE, glue);

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
    const turn = () => new Promise((resolve) => setTimeout(resolve));
    return (await (await Unpacker.whole(bytes, turn)).text()).split('\0');
  };
  const words = formsIn(document.documentElement.lang).then(([words, style, ...forms]) => {
    globalThis.ohmwrightShows({ style, forms });
    return words;
  });

  // ---- the module

  glue();
  const go = new Go();
  go.env.GOGC = '300'; // collecting costs a tenth of a circuit answer otherwise; the heap may grow to four times what is in use
  const PATIENCE = 3000; // ms that a worker has to begin

  const told = (got) => dispatchEvent(new CustomEvent('ohmwright-coming', { detail: [got, MODULE.size] }));

  // inWorker has a worker fetch and compile the module, so that the page stays at hand; order is what compile.js is sent.
  const inWorker = (order) =>
    new Promise((resolve, reject) => {
      const file = { ...MODULE, address: new URL(MODULE.address, document.baseURI).href };
      const text = `(${unpacking})(${JSON.stringify(file)}, ${glue})`;
      const script = URL.createObjectURL(new Blob([text], { type: 'text/javascript' }));
      const worker = new Worker(script);
      let isHere = false;
      const end = (settle, what) => {
        clearTimeout(timer);
        URL.revokeObjectURL(script);
        worker.terminate();
        settle(what);
      };
      const late = () => isHere || end(reject, new Error('no worker came'));
      const timer = setTimeout(() => setTimeout(late), PATIENCE); // where the page itself was held up, its word may be waiting
      worker.addEventListener('message', ({ data }) => {
        if (data === 'here') isHere = true;
        else if (data.got) told(data.got);
        else if (data.made) end(resolve, data.made);
        else end(reject, new Error(data.wrong));
      });
      for (const name of ['error', 'messageerror']) worker.addEventListener(name, (e) => end(reject, e));
      worker.postMessage(order);
      const asked = { hash: location.hash, language: document.documentElement.lang, locale: navigator.language };
      words.then((words) => worker.postMessage({ words, ...asked }), () => {});
    });

  // start resolves to the module. What a worker cannot do, as where a host's own policy allows none, the page does. The service worker
  // gives the module as it has unpacked it already.
  const start = async (cache) => {
    const isKept = navigator.serviceWorker?.controller || globalThis.ohmwrightInside;
    if (!isKept) return inWorker({ cache }).catch(async () => compiled(await fetched(MODULE, cache), told));
    const response = await fetched(MODULE, cache);
    if (response.headers.get('content-type') === 'application/wasm') {
      return WebAssembly.compileStreaming ? WebAssembly.compileStreaming(response) : WebAssembly.compile(await response.arrayBuffer());
    }
    const blob = await response.blob();
    return inWorker({ blob }).catch(() => compiled(new Response(blob), told));
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
