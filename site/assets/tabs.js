// Two windows of one reader on one form, while no job is open: what is typed in one shows in the other. Each tells the others what it
// changed, and keeps the form as a whole. Where both typed in the same place, each shows its own and says so.
//
// What lies in the storage is the whole form as one window had it, perhaps without what another has typed in the same moment: it is
// compared once all is quiet, and written again if it lacks something. Only what nobody told of (by an older version of the page, or
// while this window was frozen) is read from it.
import { diff, isNothing, patch } from './facts.js';

const QUIET = 400; // milliseconds without a change after which what is kept is compared with what is shown
const RECENT = 2000; // milliseconds for which who was heard is taken to tell everything

export class Tabs {
  // hooks: store, keep, jobs, shelves, formMade(tool), say, tell, word.
  constructor(hooks) {
    this.hooks = hooks;
    this.heardAt = -Infinity;
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

  // save keeps a form. It returns the files that could not be kept.
  save(form, files) {
    if (performance.now() - this.heardAt > RECENT) this.catchUp(form);
    return this.hooks.keep.saveForm(form.tool, form.last, files);
  }

  // tell tells the other windows how a form was before a change.
  tell({ tool, last }, before) {
    setTimeout(() => {
      const was = diff(last, before);
      const now = diff(before, last);
      delete was.open;
      delete now.open;
      this.channel?.postMessage({ tool, was, now });
      if (!isNothing(now)) this.due.add(tool);
    }); // the answer is shown first
    this.later(tool);
  }

  // heard takes in what another window tells.
  heard({ tool, was, now }) {
    this.heardAt = performance.now();
    const form = this.mine(tool);
    if (!form || isNothing(now)) return;
    for (const { path } of form.fields.files()) if (now.given && path in now.given) this.hooks.keep.fileIs(tool, path, now.given[path]);
    this.takeIn(form, patch({}, was), patch({}, now));
    this.due.add(tool);
    this.later(tool);
  }

  // catchUp takes in what lies in the storage and nobody told of.
  catchUp(form) {
    const others = this.hooks.keep.others(form.tool);
    if (others) this.takeIn(form, ...others);
  }

  // later compares what is kept of a form with what it holds.
  later(tool) {
    clearTimeout(this.timers.get(tool));
    const compare = () => {
      const form = this.mine(tool);
      if (!form) return;
      if (performance.now() - this.heardAt > RECENT) this.catchUp(form);
      if (this.due.delete(tool) && this.hooks.keep.lacks(form)) form.saveAgain();
    };
    this.timers.set(tool, setTimeout(compare, QUIET));
  }

  // takeIn takes in what another window changed, and says what gave way and what both typed.
  takeIn(form, before, after) {
    const { say, tell, word } = this.hooks;
    const { both, gone } = form.takeIn(before, after);
    if (both.length > 0) {
      const label = form.fields.at(both[0])?.element.querySelector(':scope > :is(legend, label)')?.textContent ?? both[0];
      say(word('tabs.both', label, after.given?.[both[0]] ?? '–'), 'tabs.both');
    } else if (gone.length > 0) tell('tabs.gone', true);
    if (form.tool === document.body.dataset.place) form.answer();
  }
}
