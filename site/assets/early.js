// A link's figures stand in its form while the module is still on its way, read as plainly as a link that the page wrote: no figure is
// judged here, and what cannot be told without the module waits for it. They are not kept before the module has read the link too, unless
// somebody types beside them.
import { diff, isNothing, merged } from './facts.js';
import { MOST_ROWS } from './state.js';

const MOST = 500; // fields of a link that are shown before the module is there
const KEY = /^[a-z_]+(\.[a-z0-9_]+){0,5}$/;

// pairsOf returns what a link says, {key: text}, or null if the module has to look at it first.
function pairsOf(query) {
  const pairs = {};
  const parts = query.split('&').filter((part) => part !== '');
  if (parts.length > MOST) return null;
  for (const part of parts) {
    const cut = part.indexOf('=');
    const key = part.slice(0, cut);
    if (cut < 0 || key in pairs || !KEY.test(key) || key.split('.').some((word) => word >= MOST_ROWS)) return null;
    try {
      pairs[key] = decodeURIComponent(part.slice(cut + 1).replaceAll('+', ' '));
    } catch {
      return null;
    }
  }
  if (pairs.v !== '1') return null;
  delete pairs.v;
  return pairs;
}

// roomForEcho keeps a line free below a reading for the words that it will be echoed in, so that what is below does not jump.
function roomForEcho(field) {
  if (field?.element.dataset.shape === 'reading' && field.echo) field.echo.textContent = '\u00a0';
}

export class Early {
  // show puts a link's figures into a form until end is called. A class's sheet belongs to whoever works on it, which the module says.
  show(form, query) {
    if (this.one?.form === form && this.one.query === query) return;
    this.end();
    const pairs = form.marks ? null : pairsOf(query);
    if (!pairs || isNothing(pairs)) return;
    const before = form.snapshot();
    form.early = true;
    form.fields.openTexts(pairs);
    for (const path in pairs) roomForEcho(form.fields.at(path));
    this.one = { form, query, before, past: [...form.past], shown: form.snapshot() };
  }

  // end takes the figures out again, as the module now reads the link into a form. It returns a function that puts in there what was
  // typed meanwhile, or undefined. Where the link is not opened any more, what was typed stays, with the figures beside it.
  end(form) {
    const { one } = this;
    this.one = undefined;
    if (!one) return undefined;
    const now = one.form.snapshot();
    const { given, units } = diff(one.shown, now);
    const typed = !one.form.early && (given || units);
    one.form.early = false;
    if (typed && one.form !== form) return undefined;
    one.form.restore(one.before);
    if (!typed) return undefined;
    one.form.past = one.past;
    one.form.last = one.before;
    return () => form.replace(merged(form.last, one.shown, now).state);
  }
}
