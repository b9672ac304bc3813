// The decimal marks that the page knows by itself, beside those of Node.js: node --test site/test/notation.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { usually, usualMark } from '../assets/notation.js';

test('the marks of the usual locales are those of the tables', () => {
  const locales = ['en', 'de', 'es', 'fr'].flatMap((language) =>
    ['', '-AR', '-AT', '-AU', '-BE', '-CA', '-CH', '-DE', '-ES', '-FR', '-GB', '-IE', '-IN', '-LI', '-LU', '-MX', '-NZ', '-US', '-ZA'].map(
      (region) => language + region,
    ),
  );
  const known = locales.filter((locale) => usualMark(locale) !== undefined);
  assert.equal(known.length, 21);
  for (const locale of known) assert.equal(usualMark(locale), new Intl.NumberFormat(locale).format(0.5).charAt(1), locale);
  assert.equal(usualMark('nl-NL'), undefined);
});

test('plain numbers are written as the tables have them; others are left to them', () => {
  const options = { useGrouping: false, numberingSystem: 'latn', maximumSignificantDigits: 15 };
  for (const locale of ['en', 'en-IN', 'de-DE', 'de-CH', 'es', 'es-MX', 'fr-CA', 'fr']) {
    for (const n of [0, 0.5, 2, 0.15, 1000, 12345.678, 0.000001]) {
      assert.equal(usually(locale, n), new Intl.NumberFormat(locale, options).format(n), `${n} in ${locale}`);
    }
    for (const n of [-20, 1e21, 1e-7, NaN]) assert.equal(usually(locale, n), undefined, `${n} in ${locale}`);
  }
  assert.equal(usually('nl-NL', 2), undefined);
});
