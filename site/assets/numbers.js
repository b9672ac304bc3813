// Numbers as the reader writes them.
import { usually, usualMark } from './notation.js';

export const locale = languageOf(navigator.language);

// languageOf is the reader's language, as the browser names it, or English where that is no name: WebKit says "C" on a system without one.
function languageOf(name) {
  try {
    return Intl.getCanonicalLocales(name)[0] ?? 'en';
  } catch {
    return 'en';
  }
}

// number writes a number as the reader does, without the invisible marks for the direction of a text.
const writers = new Map();
export function number(value, options) {
  const key = JSON.stringify(options);
  if (!writers.has(key)) writers.set(key, new Intl.NumberFormat(locale, { useGrouping: false, numberingSystem: 'latn', ...options }));
  return writers.get(key).format(value).replace(/[\u200e\u200f\u061c]/g, '');
}

// mark is the reader's decimal mark.
export const mark = () => usualMark(locale) ?? number(0.5, {}).charAt(1);

// localise writes the numbers that empty fields show as the reader does.
export function localise(root) {
  for (const input of root.querySelectorAll('input[type="text"][data-default]')) {
    const n = Number(input.dataset.default);
    const written = () => usually(locale, n) ?? number(n, { maximumSignificantDigits: 15 });
    input.placeholder = Number.isFinite(n) ? written() : input.dataset.default;
  }
}
