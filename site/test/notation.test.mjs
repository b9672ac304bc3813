// The decimal marks that the page knows by itself, beside those of Node.js: node --test site/test/notation.test.mjs
import assert from 'node:assert/strict';
import { test } from 'node:test';
import { usualMark } from '../assets/notation.js';

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
