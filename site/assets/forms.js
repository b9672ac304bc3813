// The tools' forms come packed, as they are half a megabyte of much the same; before them, up to U+0000, what the module says in the page's
// language.
import { Unpacker } from './unpack.js';

// formsIn returns where those of a language are, and their hash: stamp.go has the list.
export const formsIn = (lang) => 'forms.list'[lang];

const [packed, hash] = formsIn(document.documentElement.lang);

async function isRight(bytes) {
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return hash === `sha256-${btoa(String.fromCharCode(...sum))}`;
}

// fetched asks for the packed forms. Only when they are asked for like this, without their hash, do Firefox and WebKit, as Chromium, take
// what the page has preloaded: so the hash is compared here. Without https there is no crypto.subtle, and the browser compares it.
async function fetched(cache) {
  const get = globalThis.ohmwrightInside ?? fetch; // where the site is one file
  const asPreloaded = { cache, mode: 'no-cors', credentials: 'include' };
  const response = await get(packed, crypto.subtle ? asPreloaded : { cache, integrity: hash });
  if (!response.ok) throw new Error(`${packed}: ${response.status}`);
  const bytes = new Uint8Array(await response.arrayBuffer());
  if (crypto.subtle && !(await isRight(bytes))) throw new Error(`${packed}: other bytes`);
  return bytes;
}

// takeForms returns the text of the forms: see markup.js. The words go to the module, which waits for them. If they do not come, the page
// says so, and loads anew once they can: see look.js.
export async function takeForms() {
  const bytes = await fetched('default')
    .catch(() => fetched('reload')) // what some cache had may have been wrong
    .catch((e) => {
      globalThis.ohmwrightLacks(packed, hash);
      throw e;
    });
  const text = await Unpacker.whole(bytes).text();
  const cut = text.indexOf('\0');
  globalThis.ohmwrightSays(text.slice(0, cut));
  return text.slice(cut + 1);
}
