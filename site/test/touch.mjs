// A thumb on a phone that counts its taps and the characters it types, and never types one fact of a job twice.
import assert from 'node:assert/strict';
import { field } from './reader.mjs';
import { spoken } from './spoken.mjs';

export class Thumb {
  constructor(page, language = 'en') {
    Object.assign(this, { page, speaks: spoken(language), taps: 0, characters: 0, typed: new Map() });
  }

  // press taps what stands in a part of the page under the words of a key, alone or as its title.
  press(part, key, ...texts) {
    const words = `:text-is(${JSON.stringify(this.speaks.say(key, ...texts))})`;
    return this.tap(`${part} :is(a, button, summary, label):is(${words}, :has(${words}))`);
  }

  // tap taps what a selector shows; what it is folded away in is opened first, by taps on the titles.
  async tap(selector) {
    await this.unfold(selector);
    await this.page.locator(selector).first().tap();
    this.taps++;
  }

  async unfold(selector) {
    for (;;) {
      const folded = this.page.locator('details:not([open])').filter({ has: this.page.locator(selector) });
      if ((await folded.count()) === 0) return;
      await folded.first().locator(':scope > summary').tap();
      this.taps++;
    }
  }

  // keys types into what has the focus. fact is what the text says of the job: nobody types that a second time.
  async keys(text, fact) {
    assert.ok(!this.typed.has(fact), `${fact} would be typed a second time, as ${text}: it was ${this.typed.get(fact)}`);
    this.typed.set(fact, text);
    await this.page.keyboard.type(text);
    this.characters += text.length;
  }

  // into types into a field, tapping it where it has not the focus already.
  async into(selector, text, fact) {
    await this.unfold(selector);
    const input = this.page.locator(selector);
    assert.equal(await input.inputValue(), '', `${fact}: its field ${selector} should be empty`);
    if (!(await input.evaluate((e) => e === document.activeElement))) await this.tap(selector);
    // Keys that follow a tap at once are now and then swallowed by the browser: they come to the input, and nothing is put in. No thumb
    // types within a fifth of a second.
    await this.page.waitForFunction((css) => document.activeElement === document.querySelector(css), selector);
    await this.page.waitForTimeout(200);
    await this.keys(text, fact);
    assert.equal(await input.inputValue(), text, `${fact}: what stands in ${selector}`);
  }

  // has sees to it that a field of a tool says a fact: it is typed if it was not before; else it has to stand there.
  async has(tool, path, text, fact) {
    const selector = field(tool, path);
    if (!this.typed.has(fact)) return this.into(selector, text, fact);
    const want = this.typed.get(fact);
    assert.equal(await this.page.inputValue(selector), want, `${fact} was typed before, and should stand in ${tool}, ${path}`);
  }

  // choose taps a word of a choice; key is that of the words it has to have.
  async choose(name, value, key) {
    const label = `label:has(input[name="${name}"][value="${value}"])`;
    assert.equal((await this.page.textContent(label)).trim(), this.speaks.say(key), `${name}: what its choice ${value} reads`);
    await this.tap(label);
  }

  get figures() {
    return `${this.taps} taps, ${this.characters} characters`;
  }
}
