
// The lines above are Go's own, for running a module. The lines below start the page's module, as early as possible.
{
  const go = new Go();
  go.env.GOGC = '300'; // collecting costs a tenth of a circuit answer otherwise; the heap may grow to four times what is in use
  const MODULE = 'ohmwright.wasm'; // stamp.go adds the version
  const file = () => fetch(MODULE);
  WebAssembly.instantiateStreaming(file(), go.importObject)
    .catch((e) => {
      // The host sends the file with a wrong type: read it whole.
      if (!(e instanceof TypeError)) throw e;
      return file()
        .then((response) => response.arrayBuffer())
        .then((bytes) => WebAssembly.instantiate(bytes, go.importObject));
    })
    .then(({ instance }) => go.run(instance))
    .then(() => globalThis.dispatchEvent(new Event('ohmwright-ended'))) // it ends only when it dies
    .catch(globalThis.ohmwrightFailed);
}
