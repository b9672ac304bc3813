// The tools' forms come packed, as they are half a megabyte of much the same.
import { Unpacker } from './unpack.js';

const FORMS = { packed: 'forms.packed', hash: 'forms.hash' }; // stamp.go says where they are, and their hash

async function isRight(bytes) {
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return FORMS.hash === `sha256-${btoa(String.fromCharCode(...sum))}`;
}

// fetched asks for the packed forms. Only when they are asked for like this, without their hash, do Firefox and WebKit, as Chromium, take
// what the page has preloaded: so the hash is compared here. Without https there is no crypto.subtle, and the browser compares it.
async function fetched(cache) {
  const asPreloaded = { cache, mode: 'no-cors', credentials: 'include' };
  const response = await fetch(FORMS.packed, crypto.subtle ? asPreloaded : { cache, integrity: FORMS.hash });
  if (!response.ok) throw new Error(`${FORMS.packed}: ${response.status}`);
  const bytes = new Uint8Array(await response.arrayBuffer());
  if (crypto.subtle && !(await isRight(bytes))) throw new Error(`${FORMS.packed}: other bytes`);
  return bytes;
}

// takeForms returns the text of the forms: see markup.js. If they do not come, the page says so, and loads anew once they can: see look.js.
export async function takeForms() {
  const bytes = await fetched('default')
    .catch(() => fetched('reload')) // what some cache had may have been wrong
    .catch((e) => {
      globalThis.ohmwrightLacks(FORMS.packed, FORMS.hash);
      throw e;
    });
  return Unpacker.whole(bytes).text();
}
