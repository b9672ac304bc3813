// What the house says in each language, as "ohmwright words" hands it to a translator: so a test looks for what a reader reads.
import assert from 'node:assert/strict';
import { execFileSync } from 'node:child_process';
import { program } from './program.mjs';

const verb = /%(?:\[(\d)\])?s|%%/g;
const wordsOf = (text) => text.normalize('NFC').toLowerCase().match(/\p{L}{3,}/gu) ?? [];

const asked = new Map();

// spoken returns a language: {tag, comma, say, pattern, english}.
export function spoken(tag) {
  if (!asked.has(tag)) asked.set(tag, new Language(tag));
  return asked.get(tag);
}

class Language {
  constructor(tag) {
    this.tag = tag;
    this.comma = tag !== 'en'; // what stands between a number's whole part and its decimals, in the languages that there are
    const file = execFileSync(program(), ['words', tag], { maxBuffer: 1 << 26 });
    this.all = JSON.parse(file).words;
    this.words = new Map(this.all.map((one) => [one.key, one.words]));
  }

  // say returns the words of a key, with texts in its places.
  say(key, ...texts) {
    let next = 0;
    return this.sentence(key).replace(verb, (what, place) => {
      if (what === '%%') return '%';
      if (place) next = Number(place) - 1;
      assert.ok(next < texts.length, `${key} has more places than texts`);
      return texts[next++];
    });
  }

  sentence(key) {
    const words = this.words.get(key);
    assert.ok(words, `${this.tag}: no words for ${key}`);
    return words;
  }

  // pattern matches the words of a key with any text in its places, and no spaces anywhere.
  pattern(key) {
    const literal = (s) => s.replace(/[\s\u00a0]+/g, '').replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
    return new RegExp(this.sentence(key).replaceAll('%%', '%').split(/%(?:\[\d\])?s/).map(literal).join('.+'));
  }

  // number writes a number as this language's readers type it.
  number(text) {
    return this.comma ? text.replace('.', ',') : text;
  }

  // english returns the words of a text that the house says in English and nowhere in this language; typed are texts of the reader's own.
  english(text, typed = []) {
    this.foreign ??= this.foreignWords();
    const own = new Set(typed.flatMap(wordsOf));
    return [...new Set(wordsOf(text).filter((word) => this.foreign.has(word) && !own.has(word)))];
  }

  foreignWords() {
    const foreign = new Set(this.all.flatMap((one) => wordsOf(one.english)));
    for (const one of this.all) for (const word of wordsOf(one.words)) foreign.delete(word);
    assert.ok(foreign.size > 1000, `${this.tag}: ${foreign.size} words are English alone`);
    return foreign;
  }
}
