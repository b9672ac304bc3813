// The tools' forms come packed, as they are half a megabyte of much the same; before them, up to U+0000, what the module says in the page's
// language.
import { Unpacker } from './unpack.js';

const FORMS = { packed: 'forms.packed', hash: 'forms.hash' }; // stamp.go says where they are, and their hash

async function fetched(cache) {
  const get = globalThis.ohmwrightInside ?? fetch; // where the site is one file
  const response = await get(FORMS.packed, { cache, integrity: FORMS.hash });
  if (!response.ok) throw new Error(`${FORMS.packed}: ${response.status}`);
  return new Uint8Array(await response.arrayBuffer());
}

// takeForms returns the text of the forms: see markup.js. The words go to the module, which waits for them. If they do not come, the page
// says so, and loads anew once they can: see look.js.
export async function takeForms() {
  const bytes = await fetched('default')
    .catch(() => fetched('reload')) // what some cache had may have been wrong
    .catch((e) => {
      globalThis.ohmwrightLacks(FORMS.packed, FORMS.hash);
      throw e;
    });
  const text = await Unpacker.whole(bytes).text();
  const cut = text.indexOf('\0');
  globalThis.ohmwrightSays(text.slice(0, cut));
  return text.slice(cut + 1);
}
