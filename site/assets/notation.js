// The decimal marks of the most usual locales, as Unicode's CLDR has them. The browser's own tables take long when they are first
// asked, before the first answer.
const POINT = new Set(['en', 'en-US', 'en-GB', 'en-AU', 'en-CA', 'en-IE', 'en-IN', 'en-NZ', 'de-CH', 'es-MX', 'es-US']);
const COMMA = new Set(['de', 'de-AT', 'de-DE', 'es', 'es-AR', 'es-ES', 'fr', 'fr-BE', 'fr-CA', 'fr-FR']);

// usualMark returns the decimal mark of a locale, or undefined if it is none of these.
export const usualMark = (locale) => (POINT.has(locale) ? '.' : COMMA.has(locale) ? ',' : undefined);

// usually writes a number as the readers of a locale do, or returns undefined where that takes the browser's tables.
export function usually(locale, value) {
  const mark = usualMark(locale);
  const text = String(value);
  return mark !== undefined && /^\d{1,15}(\.\d{1,9})?$/.test(text) ? text.replace('.', mark) : undefined;
}
