
// What comes packed: how it is asked for, and held to be the version's.

// check throws if a packed file has other bytes. Without https there is no crypto.subtle, and the browser has compared them.
async function check({ address, hash }, bytes) {
  if (crypto.subtle && hash !== (await hashOf(bytes))) throw new Error(`${address}: other bytes`);
}

// fetched asks for a packed file. Without https the browser compares the hash itself, before it gives anything out. Only when it is asked
// like this do Firefox and WebKit, as Chromium, take what the page has preloaded; else it would come twice.
async function fetched({ address, hash }, cache) {
  const get = globalThis.ohmwrightInside ?? fetch; // where the site is one file
  const asPreloaded = { cache, mode: 'no-cors', credentials: 'include' };
  const response = await get(address, crypto.subtle ? asPreloaded : { cache, integrity: hash });
  if (!response.ok) throw new Error(`${address}: ${response.status}`);
  return response;
}

// readerOf returns a function that resolves to the next bytes of a response, or to null at the end.
function readerOf(response) {
  const reader = response.body?.getReader();
  if (reader) return async () => (await reader.read()).value ?? null;
  let isRead = false;
  return async () => {
    if (isRead) return null;
    isRead = true;
    return new Uint8Array(await response.arrayBuffer());
  };
}

// arriving awaits came(piece, got) for each piece of a response: got is how many bytes have come by then.
async function arriving(response, came) {
  const read = readerOf(response);
  let got = 0;
  for (let bytes = await read(); bytes; bytes = await read()) {
    for (let at = 0; at < bytes.length; at += PIECE) {
      const piece = bytes.subarray(at, at + PIECE);
      await came(piece, (got += piece.length));
    }
  }
}

// partsIn calls give with each part of a packed file in a response, as a text, as soon as it has come. It throws if one is not the
// version's, or missing. turn is awaited between pieces, so that a tap is not to wait for all of them.
async function partsIn({ address, parts }, response, give, turn) {
  let [next, from] = [0, 0];
  const one = new Unpacker();
  const use = async () => {
    for (; one.out && next < parts.length && one.to >= from + parts[next].size; next++) {
      const bytes = one.out.subarray(from, (from += parts[next].size));
      await check({ address, hash: parts[next].hash }, bytes);
      give(next, new TextDecoder().decode(bytes));
    }
  };
  await arriving(response, async (piece) => {
    one.push(piece);
    await use();
    await turn();
  });
  one.push(null);
  await use();
  if (next < parts.length) throw new Error(`${address}: too little has come`);
}
