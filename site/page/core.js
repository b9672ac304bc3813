
// The lines above are Go's own, for running a module. This starts the page's: as early as can be, beside the rest of the
// page.
{
  const go = new Go();
  const file = () => fetch('ohmwright.wasm');
  WebAssembly.instantiateStreaming(file(), go.importObject)
    .catch((e) => {
      // A host that does not know the type of the file: read it whole.
      if (!(e instanceof TypeError)) throw e;
      return file()
        .then((response) => response.arrayBuffer())
        .then((bytes) => WebAssembly.instantiate(bytes, go.importObject));
    })
    .then(({ instance }) => go.run(instance))
    .then(() => globalThis.dispatchEvent(new Event('ohmwright-ended'))) // it never ends by itself
    .catch(globalThis.ohmwrightFailed);
}
