
// The lines above are two functions: Go's own lines for running a module, and what unpacks, fetches and compiles (compile.js). The lines
// below get what comes packed for the page, and run its module, as early as possible.
{
  // Of the module its address, size and hash; of each language's packed file its address, hash and parts; and what the page's script is as
  // a file, if it comes packed: stamp.go has the list.
  const { module: MODULE, packed: PACKED, script: SCRIPT } = 'packed.list';
  const { compiled, fetched, partsIn, readerOf } = unpacking(MODULE, glue);

  // The service worker gives the module as it has unpacked it already.
  const isKept = navigator.serviceWorker?.controller || globalThis.ohmwrightInside;
  const PATIENCE = 3000; // ms that a worker has to begin

  // inWorker has a worker do something, so that the page stays at hand: ask(worker) sends it what there is to do. It resolves to what the
  // worker sends as {made}; hears is called with what it sends before.
  const inWorker = (ask, hears) =>
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
        else if (data.made) end(resolve, data.made);
        else if (data.wrong) end(reject, new Error(data.wrong));
        else hears(data);
      });
      for (const name of ['error', 'messageerror']) worker.addEventListener(name, (e) => end(reject, e));
      ask(worker).catch((e) => end(reject, e));
    });

  // ---- what the page is made of

  const parsed = new Promise((resolve) => {
    const look = () => document.readyState !== 'loading' && resolve();
    document.addEventListener('readystatechange', look);
    look();
  });

  // runScript runs the page's script once the page is read, as if it stood there. The page's policy lets in this version's text alone. A
  // host's own policy may not: then the script comes as a file.
  const runScript = async (text) => {
    if (!SCRIPT) return; // the page names its scripts
    await parsed;
    const made = (what) => Object.assign(document.createElement('script'), { type: 'module' }, what);
    const script = made({ textContent: text });
    script.addEventListener('securitypolicyviolation', () => document.head.append(made(SCRIPT)), { once: true });
    document.head.append(script);
  };

  let tellWords;
  const words = new Promise((resolve) => (tellWords = resolve));

  // wordsOf returns the words as the module takes them: see columns in packed.go.
  const wordsOf = (text) => {
    const [keys, sentences] = text.split('\0').map((column) => column.split('\n'));
    let key = '';
    const line = (rest, i) => `${(key = key.slice(0, rest.charCodeAt() - 33) + rest.slice(1))}\t${sentences[i]}\n`;
    return keys.map(line).join('');
  };

  // uses are what is done with the parts of a packed file. They stand in it in the order in which they are needed.
  const uses = [
    runScript,
    (text) => {
      const [style, ...forms] = text.split('\0');
      globalThis.ohmwrightShows({ style, forms });
    },
    (text) => tellWords(wordsOf(text)),
  ];

  // come gets a language's packed file. If it does not come, the page says so, and loads anew once it can: see look.js.
  const come = (file) => {
    let used = 0;
    const use = (i, text) => i === used && uses[used++](text);
    const turn = () => new Promise((resolve) => setTimeout(resolve));
    const take = async (cache) => partsIn(file, await fetched(file, cache), use, turn);
    const feed = async (worker) => {
      const read = readerOf(await fetched(file, 'default'));
      worker.postMessage({ file });
      let bytes;
      do {
        bytes = await read();
        worker.postMessage({ bytes }, bytes ? [bytes.buffer] : []);
      } while (bytes);
    };
    const lacks = (e) => {
      globalThis.ohmwrightLacks(file.address, file.hash);
      tellWords(Promise.reject(e));
    };
    (globalThis.ohmwrightInside ? take('default') : inWorker(feed, ({ part }) => use(...part)))
      .catch(() => take('reload')) // what some cache had may have been wrong, or there is no worker
      .catch(lacks);
  };
  come(PACKED[document.documentElement.lang]);

  // ---- the module

  glue();
  const go = new Go();
  go.env.GOGC = '300'; // collecting costs a tenth of a circuit answer otherwise; the heap may grow to four times what is in use
  const told = (got) => dispatchEvent(new CustomEvent('ohmwright-coming', { detail: [got, MODULE.size] }));

  // made has a worker fetch and compile the module; order is what compile.js is sent.
  const made = (order) => {
    const ask = async (worker) => {
      worker.postMessage(order);
      const asked = { hash: location.hash, language: document.documentElement.lang, locale: navigator.language };
      words.catch(() => '').then((words) => worker.postMessage({ words, ...asked }));
    };
    return inWorker(ask, ({ got }) => told(got));
  };

  // start resolves to the module. What a worker cannot do, as where a host's own policy allows none, the page does.
  const start = async (cache) => {
    if (!isKept) return made({ cache }).catch(async () => compiled(await fetched(MODULE, cache), told));
    const response = await fetched(MODULE, cache);
    if (response.headers.get('content-type') === 'application/wasm') {
      return WebAssembly.compileStreaming ? WebAssembly.compileStreaming(response) : WebAssembly.compile(await response.arrayBuffer());
    }
    const blob = await response.blob();
    return made({ blob }).catch(() => compiled(new Response(blob), told));
  };

  // begun hands the module its words, which it has none of.
  const begun = async (module) => {
    const instance = await WebAssembly.instantiate(module, go.importObject);
    globalThis.ohmwrightWords = await words;
    const ended = go.run(instance);
    delete globalThis.ohmwrightWords;
    return ended;
  };

  start('default')
    .catch(() => start('reload')) // what some cache had may have been wrong
    .then(begun)
    .then(() => globalThis.dispatchEvent(new Event('ohmwright-ended'))) // it ends only when it dies
    .catch(globalThis.ohmwrightFailed);
}
