
// The lines above unpack and unfold what comes packed. The lines below compile the page's module from its packed bytes, while they come: in
// a worker or in the page. All of them are one function, "unpacking", whose text is the worker's script; MODULE is what core.js has of the
// module.

// check throws if a packed file has other bytes. Without https there is no crypto.subtle, and the browser has compared them.
async function check({ address, hash }, bytes) {
  if (crypto.subtle && hash !== (await hashOf(bytes))) throw new Error(`${address}: other bytes`);
}

// unpackModule unpacks and unfolds the module, and throws if that was not the version's. read resolves to the next bytes that have come, or
// to null.
async function unpackModule(read, give) {
  const all = new Uint8Array(MODULE.size);
  const unfolder = new Unfolder(give);
  const one = new Unpacker(() => unfolder.push(one.out.subarray(0, one.to), false));
  let got = 0;
  for (let bytes = await read(); bytes; bytes = await read()) {
    if (got + bytes.length > all.length) throw new Error(`${MODULE.address}: too long`);
    all.set(bytes, got);
    got += bytes.length;
    one.push(bytes);
  }
  one.push(null);
  unfolder.push(one.out, true);
  await check(MODULE, all);
}

// compiled resolves to the module.
async function compiled(read) {
  if (WebAssembly.compileStreaming) {
    const start = (out) => unpackModule(read, (bytes) => out.enqueue(bytes)).then(() => out.close(), (e) => out.error(e));
    const headers = { 'content-type': 'application/wasm' };
    return WebAssembly.compileStreaming(new Response(new ReadableStream({ start }), { headers }));
  }
  const parts = [];
  await unpackModule(read, (bytes) => parts.push(bytes));
  return WebAssembly.compile(await new Blob(parts).arrayBuffer());
}

// As a worker it is sent the bytes, then null. It says that it is here, then the module, or what was wrong.
if (!globalThis.document) {
  const come = [];
  let more = () => {};
  globalThis.onmessage = ({ data }) => {
    come.push(data);
    more();
  };
  const read = async () => {
    while (come.length === 0) await new Promise((resolve) => (more = resolve));
    return come.shift();
  };
  postMessage('here');
  compiled(read).then(postMessage, (e) => postMessage({ wrong: String(e) }));
}

return { Unpacker, check, compiled };
