// The pseudo-language in tests: English, longer and between ⟦ and ⟧, so that what is English still is found. Texts that somebody typed are
// in no language of the page's: they are told apart.

export const PSEUDO = 'en-XA';

// look goes through parts of a page, in the page, and returns the texts that are not between the marks, and how many texts there are.
// printed: only what is on paper, and not what a screen reader alone is read.
function look({ typed, parts, printed }) {
  const found = new Set();
  let texts = 0;
  const read = (text) => {
    if (text.trim() !== '') texts++;
    let rest = text;
    for (let before = ''; rest !== before; ) {
      before = rest;
      rest = rest.replace(/⟦[^⟦⟧]*⟧/g, ' '); // a sentence may stand within another
    }
    for (const one of typed) rest = rest.replaceAll(one, ' ');
    if (/[A-Za-z]{4,}/.test(rest)) found.add(rest.replace(/\s+/g, ' ').trim());
  };
  const walk = (node) => {
    if (node.nodeType === Node.TEXT_NODE) return printed && !node.parentElement.checkVisibility() ? undefined : read(node.data);
    if (node.nodeType !== Node.ELEMENT_NODE || ['SCRIPT', 'STYLE', 'NOSCRIPT'].includes(node.tagName)) return;
    if (node.matches('[lang]:not(html), .address')) return;
    const names = printed ? [] : ['aria-label', 'title', 'placeholder', 'alt'];
    for (const name of names) if (node.hasAttribute(name)) read(node.getAttribute(name));
    node.childNodes.forEach(walk);
    if (!printed && node.tagName === 'TEMPLATE') walk(node.content);
  };
  for (const part of document.querySelectorAll(parts)) walk(part);
  return { found: [...found], texts };
}

// english returns what is English still, of what is shown and what a reader is read.
export const english = async (page, typed = []) =>
  (await page.evaluate(look, { typed, parts: 'header, footer, #said, main > section:not([hidden])', printed: false })).found;

// englishOnPaper prints the page, and returns {found, texts} of what is on paper, as the page is laid out for it.
export async function englishOnPaper(page, typed = []) {
  await page.emulateMedia({ media: 'print' });
  const told = JSON.stringify({ typed, parts: 'body', printed: true });
  await page.evaluate(`addEventListener('beforeprint', () => { globalThis.onPaper = (${look})(${told}); }, { once: true })`);
  await page.pdf();
  await page.emulateMedia({ media: null });
  return page.evaluate(() => globalThis.onPaper);
}

// What may stand before words that are put into a sentence: its beginning, other such words, a mark that sets a name off from the grammar
// around it, the number of a heading, or what says that a reading follows, be it a word. Elsewhere a language would have to bend them.
const setOff = /(^|⟧|[:;,(“/–=·±]|^\d+\.|if all is well)\s*$/u;

// A quantity and a mark of a list stand anywhere.
const anywhere = (words) => /\d/.test(words) || !/\p{L}/u.test(words);

// runIn returns how many sentences of a tool have words within them, and those where these are not set off.
export async function runIn(page, tool) {
  const texts = await page.evaluate((tool) => {
    const found = [];
    for (const e of document.getElementById(tool).querySelectorAll('*')) {
      for (const n of e.childNodes) if (n.nodeType === Node.TEXT_NODE) found.push(n.data);
      for (const name of ['aria-label', 'title']) found.push(e.getAttribute(name) ?? '');
    }
    return found.filter((text) => /⟦[^⟧]*⟦/.test(text));
  }, tool);
  const wrong = texts.filter((text) => nested(text).some(({ before, inner }) => !setOff.test(before) && !anywhere(inner)));
  return { nested: texts.length, wrong: [...new Set(wrong)] };
}

// nested returns what stands within the marks of another sentence, each with what stands before it there.
function nested(text) {
  const open = [];
  const found = [];
  for (const { 0: mark, index } of text.matchAll(/[⟦⟧]/g)) {
    if (mark === '⟦') {
      open.push(index);
      continue;
    }
    const start = open.pop();
    if (open.length > 0) found.push({ before: text.slice(open.at(-1) + 1, start), inner: text.slice(start + 1, index) });
  }
  return found;
}
