// The reader's choice of the page's language, where the site has several. Each has a page of its own; look.js goes to the right one.
import { nameFor, scope } from './scope.js';

const lineOf = (tag) => document.querySelector(`meta[name="page"][lang="${tag}"]`);
const pageIn = (tag) => lineOf(tag).content;

// isHere reports whether a language's files can be had: from the worker, which then keeps them, or from the host.
async function isHere(tag) {
  const can = (file) => fetch(file).then((response) => response.ok, () => false);
  return (await can(pageIn(tag))) && can(lineOf(tag).dataset.forms);
}

// offerLanguages goes to the page of the language that is chosen, with the place that is shown: what is typed is kept on the device.
export function offerLanguages({ save, leave, tell }) {
  const radios = [...document.querySelectorAll('input[name="language"]')];
  const own = radios.find((radio) => radio.value === document.documentElement.lang);
  if (own) own.checked = true; // a browser that goes back may show another
  for (const radio of radios) {
    radio.addEventListener('change', async () => {
      const tag = radio.value;
      if (!(await isHere(tag))) {
        own.checked = true;
        return tell('language.away', true);
      }
      leave();
      save('language', tag);
      try {
        sessionStorage.removeItem(`${nameFor(scope)}language`); // a link's, until now
      } catch {
        // then no link's is kept
      }
      return location.assign(pageIn(tag) + location.hash.split('?')[0]);
    });
  }
}
