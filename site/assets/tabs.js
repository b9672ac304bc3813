// Two windows of one reader on one form, while no job is open: what is typed in one shows in the other. Each tells the others what it
// changed, and keeps the form as a whole. Where both typed in the same place, each shows its own and says so.
//
// What lies in the storage is the whole form as one window had it, perhaps without what another has typed in the same moment: told.js
// knows which changes it has. It is compared once all is quiet, and written again if it lacks something.
import { diff, isNothing, patch } from './facts.js';
import { randomText } from './state.js';
import { Told, toldIn } from './told.js';

const QUIET = 400; // milliseconds without a change after which what is kept is compared with what is shown

export class Tabs {
  // hooks: store, keep, jobs, shelves, formMade(tool), say, tell, word.
  constructor(hooks) {
    this.hooks = hooks;
    this.me = `w${randomText()}`; // a number would not keep its place in an object
    this.toldOf = new Map(); // by tool
    this.timers = new Map(); // by tool
    this.due = new Set(); // tools whose form was changed in any window since it was compared last
    this.channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel(`${hooks.store.prefix}forms`) : null;
    this.channel?.addEventListener('message', ({ data }) => this.heard(data));
    window.addEventListener('storage', ({ key }) => {
      const own = hooks.store.keyOf(key);
      if (own !== undefined && !hooks.shelves.read(own)) this.later(own);
    });
  }

  // mine returns the form of a tool that this window shares with others, if it does. Of a class, each window may have another sheet.
  mine(tool) {
    const form = this.hooks.formMade(tool);
    return form && !form.marks && !this.hooks.jobs.holds(form) ? form : null;
  }

  // told returns which changes of a form this window has: at first those of what it was filled with.
  told(tool) {
    const { toldOf, me, hooks } = this;
    if (!toldOf.has(tool)) toldOf.set(tool, new Told(me, toldIn(hooks.keep.known.get(tool))));
    return toldOf.get(tool);
  }

  // save keeps a form. It returns the files that could not be kept.
  save(form, files) {
    this.catchUp(form);
    return this.hooks.keep.saveForm(form.tool, form.last, files, { told: this.told(form.tool).toKeep() });
  }

  // tell tells the other windows how a form was before a change.
  tell({ tool, last }, before) {
    const was = diff(last, before);
    const now = diff(before, last);
    delete was.open;
    delete now.open;
    this.later(tool);
    if (isNothing(now)) return;
    this.due.add(tool);
    const stamp = [this.me, this.told(tool).made(now)];
    setTimeout(() => this.channel?.postMessage({ tool, was, now, stamp })); // the answer is shown first
  }

  // heard takes in what another window tells; an older version of the page gives no stamp. What was read from the storage before is there
  // already, but for the texts of files.
  heard({ tool, was, now, stamp }) {
    const form = this.mine(tool);
    if (!form) return;
    form.settle();
    const told = this.told(tool);
    if (stamp && told.misses(stamp)) this.catchUp(form); // a word before it went by, as this window opened then
    const isKnown = stamp && (told.has(stamp) || told.misses(stamp));
    const files = form.fields.files().filter(({ path }) => now.given && path in now.given);
    for (const { path } of files) this.hooks.keep.fileIs(tool, path, now.given[path]);
    const only = (change) => ({ given: Object.fromEntries(files.map(({ path }) => [path, change.given?.[path] ?? null])) });
    this.takeIn(form, ...[was, now].map((change) => patch({}, isKnown ? only(change) : change)));
    if (stamp && !isKnown) told.heard(stamp, now, form.last);
    this.due.add(tool);
    this.later(tool);
  }

  // catchUp takes in what lies in the storage and is new here. What is put off stays so unless there is something.
  catchUp(form) {
    const { tool } = form;
    const told = this.told(tool); // before what is kept is looked at
    const others = this.hooks.keep.others(tool);
    if (!others) return;
    form.settle();
    const { before, after, text } = others;
    const theirs = toldIn(text);
    if (!theirs) return this.takeIn(form, before, after); // an older version of the page kept it
    if (told.isAhead(theirs)) this.due.add(tool);
    const given = { ...after.given };
    for (const { path } of form.fields.files()) given[path] = form.last.given[path]; // their texts lie elsewhere
    const { state, both } = told.takeIn(form.last, { ...after, given }, theirs);
    if (!isNothing(diff(form.last, state))) this.due.add(tool);
    this.takeIn(form, form.last, state, both.map((key) => [key, after.given[key]]));
  }

  // later compares what is kept of a form with what it holds.
  later(tool) {
    clearTimeout(this.timers.get(tool));
    const compare = () => {
      const form = this.mine(tool);
      if (!form) return;
      this.catchUp(form);
      if (this.due.delete(tool) && this.hooks.keep.lacks(form)) form.saveAgain();
    };
    this.timers.set(tool, setTimeout(compare, QUIET));
  }

  // takeIn takes in what another window changed, and says what gave way and what both typed; differ has the latter where it is known.
  takeIn(form, before, after, differ = []) {
    const { say, tell, word } = this.hooks;
    const { both, gone } = form.takeIn(before, after);
    const [first] = differ.concat(both.map((key) => [key, after.given?.[key]]));
    if (first) {
      const [key, text] = first;
      const label = form.fields.at(key)?.element.querySelector(':scope > :is(legend, label)')?.textContent ?? key;
      say(word('tabs.both', label, text ?? '–'), 'tabs.both');
    } else if (gone.length > 0) tell('tabs.gone', true);
    if (form.tool === document.body.dataset.place) form.answer();
  }
}
