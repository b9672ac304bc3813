// Other browsers than Chromium, driven by WebDriver's commands: what a page is to the tests, in any of them.
//
// Firefox takes these commands over marionette, WebKit over HTTP; the commands are the same (W3C WebDriver), so one class serves both.
// Its functions have the names that reader.mjs and jobs.mjs know.
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const patience = 30_000; // for a condition to come true; nothing here measures time
const all = '\ue009a'; // Ctrl and A: what is typed next takes the place of all
const later = (ms) => new Promise((resolve) => setTimeout(resolve, ms));

export class Driven {
  // send sends a command, with its method and path over HTTP and its parameters; directory is where the browser keeps what it saves.
  constructor(send, directory) {
    Object.assign(this, { send, directory, faults: [] });
    this.saved = join(directory, 'saved');
    mkdirSync(this.saved, { recursive: true });
  }

  async goto(url) {
    await this.leaving();
    await this.send('Navigate', { url });
    await this.arrived();
  }

  // leaving and arrived are what a browser has to do before and after a page is loaded, so that all is seen that pages complain of.
  async leaving() {}
  async arrived() {}

  // reload loads the page again as a reader does. (WebDriver's own way passes by the service worker in Firefox.)
  async reload() {
    await this.leaving();
    await this.evaluate(() => {
      document.documentElement.dataset.left = 'yes';
      setTimeout(() => location.reload());
    });
    const left = () => document.readyState === 'complete' && !document.documentElement.dataset.left;
    for (const end = Date.now() + patience; ; await later(50)) {
      if (await this.evaluate(left).catch(() => false)) return this.arrived(); // between two pages there is nobody to ask
      if (Date.now() > end) throw new Error('the page did not load again');
    }
  }

  // evaluate runs a function in the page, and returns what it returns or resolves to.
  async evaluate(run, arg) {
    const script = `const done = arguments[arguments.length - 1];
      Promise.resolve(arguments[0]).then(${run}).then((value) => done({ value }), (e) => done({ fault: String(e) + e.stack }));`;
    const said = await this.send('ExecuteAsyncScript', { script, args: [arg ?? null] });
    if (!said) throw new Error(`the page went away before it answered ${run}`);
    const { value, fault } = said;
    if (fault) throw new Error(`${fault}, in ${run}`);
    return value ?? undefined;
  }

  async waitForFunction(run, arg) {
    for (const end = Date.now() + patience; ; await later(50)) {
      const value = await this.evaluate(run, arg).catch((e) => e); // between two pages there is nobody to ask
      if (value && !(value instanceof Error)) return value;
      if (Date.now() > end && value instanceof Error) throw value;
      if (Date.now() > end) throw new Error(`did not come true in ${patience / 1000} s: ${run} ${JSON.stringify(arg ?? '')}`);
    }
  }

  textContent(selector) {
    return this.evaluate((css) => document.querySelector(css).textContent, selector);
  }

  inputValue(selector) {
    return this.evaluate((css) => document.querySelector(css).value, selector);
  }

  // found resolves to the first element of a selector that is shown. What it is folded away in is opened first, as a reader does.
  async found(selector) {
    for (const end = Date.now() + patience; ; await later(50)) {
      const [element, folded] = await this.send('ExecuteScript', { script: `return (${seek})(...arguments)`, args: [selector] });
      if (element && !folded) return element;
      if (folded) {
        await this.send('ElementClick', { id: nameOf(folded) });
        await later(350); // a tap that comes at once does not count
      }
      if (Date.now() > end) throw new Error(`no ${selector} is shown`);
    }
  }

  async tap(selector) {
    await this.send('ElementClick', { id: nameOf(await this.found(selector)) });
  }

  // fill types a text, key by key, in place of what was there.
  async fill(selector, text) {
    const id = nameOf(await this.found(selector));
    await this.send('ElementSendKeys', { id, text: all });
    await this.send('ElementSendKeys', { id, text });
  }

  // tapAt taps a place of the window.
  async tapAt(x, y) {
    const at = { type: 'pointerMove', x: Math.round(x), y: Math.round(y), duration: 0 };
    const actions = [at, { type: 'pointerDown', button: 0 }, { type: 'pointerUp', button: 0 }];
    await this.send('PerformActions', { actions: [{ type: 'pointer', id: 'pointer', parameters: { pointerType: 'mouse' }, actions }] });
  }

  // offer gives a file to an input that takes one.
  async offer(selector, text, name = 'job.json') {
    const path = join(this.directory, name);
    writeFileSync(path, text);
    const element = await this.send('FindElement', { using: 'css selector', value: selector });
    await this.send('ElementSendKeys', { id: nameOf(element), text: path });
  }

  // download returns the file that the browser saves when act is done: {name, text}.
  async download(act) {
    const before = readdirSync(this.saved);
    await act();
    for (const end = Date.now() + patience; ; await later(50)) {
      const name = readdirSync(this.saved).find((name) => name.endsWith('.json') && !before.includes(name));
      const text = name && readFileSync(join(this.saved, name), 'utf8');
      if (text) return { name, text };
      if (Date.now() > end) throw new Error(`no file was saved; there are ${readdirSync(this.saved).join(', ') || 'none'}`);
    }
  }

  async screenshot(path) {
    writeFileSync(path, Buffer.from(await this.send('TakeScreenshot', { full: false }), 'base64'));
  }
}

// nameOf is the name by which WebDriver knows an element.
const nameOf = (element) => element['element-6066-11e4-a52e-4f735466cecf'];

// seek runs in the page: the first element of a selector that is shown, in the middle of the window, and the title or line by which
// what hides it is opened, if it is hidden.
function seek(selector) {
  const all = [...document.querySelectorAll(selector)].filter((e) => !e.closest('[hidden]'));
  for (const e of all) {
    const folds = [];
    for (let d = e.parentElement?.closest('details:not([open])'); d; d = d.parentElement?.closest('details:not([open])')) folds.push(d);
    const outer = folds.at(-1)?.querySelector(':scope > summary');
    const line = e.closest('.card.picked')?.querySelector('.card-line');
    const title = outer && !outer.contains(e) ? outer : null;
    const opener = title ?? (line && line !== e && line.checkVisibility() && !e.checkVisibility() ? line : null);
    if (!opener && !e.checkVisibility()) continue;
    (opener ?? e).scrollIntoView({ block: 'center', behavior: 'instant' });
    return [e, opener];
  }
  return [null, null];
}
