
// The lines above unpack, unfold and fetch what comes packed. The lines below compile the page's module from its packed bytes, while they
// come: in a worker or in the page. All of them are one function, "unpacking", whose text is the worker's script. MODULE is what core.js
// has of the module, GLUE has Go's own lines for running it.

// unpackModule unpacks and unfolds the module in a response, and throws if that was not the version's. told is called with how many bytes
// have come.
async function unpackModule(response, told, give) {
  const all = new Uint8Array(MODULE.size);
  const streams = new Streams(new Unfolder(give));
  await arriving(response, (piece, got) => {
    if (got > all.length) throw new Error(`${MODULE.address}: too long`);
    all.set(piece, got - piece.length);
    told(got);
    streams.push(all.subarray(0, got), false);
  });
  streams.push(all, true);
  await check(MODULE, all);
}

// compiled resolves to the module in a response.
async function compiled(response, told) {
  if (WebAssembly.compileStreaming) {
    const give = (out) => unpackModule(response, told, (bytes) => out.enqueue(bytes));
    const start = (out) => give(out).then(() => out.close(), (e) => out.error(e));
    const headers = { 'content-type': 'application/wasm' };
    return WebAssembly.compileStreaming(new Response(new ReadableStream({ start }), { headers }));
  }
  const parts = [];
  await unpackModule(response, told, (bytes) => parts.push(bytes));
  return WebAssembly.compile(await new Blob(parts).arrayBuffer());
}

// ranOnce runs the module and has it answer the link that the page was opened with, if it was: what the browser compiles for that it has
// compiled for the page too, which then stays at hand. The page will say what is wrong, if anything is.
async function ranOnce(made, { words, hash, language, locale }) {
  GLUE();
  const go = new Go();
  const instance = await WebAssembly.instantiate(made, go.importObject);
  let core = null;
  globalThis.ohmwrightWords = words;
  globalThis.ohmwrightReady = (object) => (core = object);
  go.run(instance);
  const { tool, fields } = JSON.parse(core.open(hash, language, locale));
  const texts = Object.entries(fields).flat().map((text) => `${text}\0`).join('');
  core.answer(tool, texts, language, locale, 'brief');
}

// As a worker it says that it is here. Sent {blob} or, to fetch the module, {cache}, and what ranOnce wants, it says how much has come,
// {got}, then the module, {made}. Sent a packed {file}, then its {bytes} and none at the end, it says each {part}, then {made}. Or it says
// what was wrong, {wrong}.
if (!globalThis.document) {
  const module = async ({ blob, cache }, asked) => {
    const response = blob ? new Response(blob) : await fetched(MODULE, cache);
    const made = await compiled(response, (got) => postMessage({ got }));
    await ranOnce(made, await asked).catch(() => {});
    postMessage({ made });
  };
  const packed = async (file, body) => {
    await partsIn(file, { body }, (...part) => postMessage({ part }), () => {});
    postMessage({ made: true });
  };
  let [ask, flow] = [null, null];
  const asked = new Promise((resolve) => (ask = resolve));
  const body = new ReadableStream({ start: (controller) => (flow = controller) });
  const wrong = (e) => postMessage({ wrong: String(e) });
  globalThis.onmessage = ({ data }) => {
    if ('words' in data) ask(data);
    else if ('file' in data) packed(data.file, body).catch(wrong);
    else if (data.bytes) flow.enqueue(data.bytes);
    else if ('bytes' in data) flow.close();
    else module(data, asked).catch(wrong);
  };
  postMessage('here');
}

return { compiled, fetched, partsIn, readerOf };
