// One tool's form. What its fields hold is a state; whenever that changes it is saved, the core is asked, and the answer is shown.
// All that undo takes back is a step of this file's. The form words nothing: every sentence comes from the core.
//
//   fields.js  what the fields hold          shown.js  the answer           events.js  what happens on the page
//   lists.js   the rows on the page          notes.js  notes beside fields  taps.js    what a tap does
//   rows.js    rows, as pure functions       plate.js  places on a plate    hand.js    sliders
//   shelf.js   what is kept for later        file.js   files
//   marks.js   the table of a class
import { listen } from './events.js';
import { diff, isNothing, merged } from './facts.js';
import { Fields } from './fields.js';
import { takeFiles } from './file.js';
import { Hand } from './hand.js';
import { rebased } from './keep.js';
import { picked, startOf } from './lists.js';
import { Marks } from './marks.js';
import { showNotes } from './notes.js';
import { Plates } from './plate.js';
import { completed } from './reply.js';
import { addFields, removeRow } from './rows.js';
import { Shelf } from './shelf.js';
import { Shown } from './shown.js';
import { warm } from './warm.js';

const UNDO_DEPTH = 300; // forty bolts in four passes are 160 steps
const FEW = 5; // fields of a link without a place in the form: so many are told one by one
const PAUSE = 250; // milliseconds without typing
const ALONE = 'alone'; // stands among what is unfolded while a part of the answer is shown alone

export class Form {
  // hooks are what app.js does for every form: core() returns the module or null; ask, say, tell, hush, word, number, localise, command,
  // carry, aloneChanged, seen, answered, locale; save, savePast, typing, settled and left keep the form and hear what happens;
  // shelf(name) and changeShelf(name, entries, said) are for what is kept for later.
  constructor(section, hooks) {
    this.section = section;
    this.tool = section.dataset.tool;
    this.element = section.querySelector('form');
    this.body = section.querySelector('.body');
    this.code = section.querySelector('form > .code'); // the code of its link
    this.hooks = hooks;
    this.past = []; // steps of undo: {form, stray} or {shelf, entries}
    this.taken = {}; // texts that came from another window
    this.run = null; // names the run of edits that are one step of undo
    this.reply = null; // the reply that is shown, where the module may leave out of the next what stays
    this.link = '';
    this.of = ''; // the link of what is worked on here
    this.whose = ''; // whose work it is
    this.begun = false; // something was done on it
    this.kept = ''; // what this is called where it is kept for later, '' if it is not worth it
    this.seen = ''; // the link for the address bar
    this.line = ''; // what stands before the link where it is handed on
    this.left = []; // what was left out of the link, as it would be too long
    this.stray = []; // what was wrong with the link that the form was opened from
    this.early = false; // what it shows is of a link that the core has not read yet, and nobody has typed: see early.js
    this.rest = 0; // until when a tap is held back: see once in taps.js
    this.fields = new Fields(this.element, hooks);
    this.lists = this.fields.lists;
    this.shown = new Shown(this);
    this.shelf = new Shelf(this);
    this.hand = new Hand(this);
    listen(this);
    this.hand.listen();
    if (section.querySelector('.f-file')) takeFiles(this);
    this.marks = section.querySelector('.marking') ? new Marks(this) : null;
    this.plates = section.querySelector('[data-plated]') ? new Plates(this) : null;
  }

  // ---- the state

  snapshot() {
    return { ...this.fields.read(), open: this.opened() };
  }

  // opened names what is unfolded; the browser tells of it later.
  opened() {
    return this.fields.opened().concat(this.shown.alone ? ALONE : []);
  }

  restore(state) {
    this.shown.alone = state.open.includes(ALONE);
    this.fields.restore(state);
  }

  // replace puts another state in place of this one, as a step of undo; same: as part of the step before.
  replace(state, same = false) {
    if (same) this.run = null;
    else this.step();
    this.stray = [];
    this.restore(state);
    this.save();
    this.answer();
  }

  // set gives fields their texts, as Fields.set does, as a step of undo; or as part of one, if run names a run of edits.
  set(keys, run = null) {
    this.settle();
    this.step(run, this.last);
    this.fields.set(keys);
    this.changed();
  }

  // open puts a link's fields in place of what is there, as a step of undo. notes, and the fields that the form has no place for, are
  // shown until something else is put in place. A link without fields changes nothing.
  open(fields, notes) {
    if (isNothing(fields)) {
      this.stray = notes;
      this.answer();
      return;
    }
    this.step();
    const unplaced = this.fields.open(fields).map(([path, text]) => `${path} = ${text}`);
    this.stray = notes.concat(unplaced.length > FEW ? [unplaced.join(', ')] : unplaced);
    this.save();
    this.answer();
  }

  // become puts another state in place of this one, which undo does not bring back.
  become(state) {
    this.replace(state);
    this.forgetPast();
  }

  // forgetPast drops the steps of undo.
  forgetPast() {
    this.past = [];
    this.run = null;
    this.hooks.savePast(this);
  }

  // add adds a link's fields to what is there, as a step of undo.
  add(fields) {
    this.replace(addFields(this.snapshot(), this.lists.names(), fields));
  }

  // removeRow takes a row away, as a step of undo; same: as part of the step before.
  removeRow(list, row, same = false) {
    const name = list.dataset.list;
    const value = picked(this.lists.cards(list)[row])?.value;
    this.replace(removeRow(this.snapshot(), name, row), same);
    if ('plated' in list.dataset) {
      this.hooks.tell('away');
      return this.plates.find(name)?.focus();
    }
    this.hooks.tell('removed');
    // The focus goes to the row before, or to the button that makes a new one, or to the point that this row was opened from.
    const card = this.lists.cards(list)[Math.max(0, row - 1)];
    const before = card && startOf(card);
    const point = `[data-pick="${CSS.escape(name)}"][data-value="${CSS.escape(value ?? '')}"]`;
    (before ?? list.querySelector('[data-do="add"]') ?? this.section.querySelector(point))?.focus();
  }

  // adopt takes in what was changed elsewhere: in another window, or in another form of the same job. Undo does not take it back; what
  // is being typed in stays as it is, and what was just unfolded stays open.
  adopt(state) {
    const at = this.fields.around(document.activeElement ?? this.element)?.path;
    const to = { ...state, given: { ...state.given }, units: { ...state.units }, open: this.opened() };
    if (at !== undefined && this.element.contains(document.activeElement)) {
      for (const map of ['given', 'units']) {
        if (this.last[map][at] === undefined) delete to[map][at];
        else to[map][at] = this.last[map][at];
      }
    }
    if (this.turnInto(to, false)) this.last = this.snapshot();
  }

  // takeIn takes in what another window changed in this form, from before to after. What was typed here in the same place stays, and
  // undo brings back what gives way. It returns the keys of both: {both, gone}.
  takeIn(before, after) {
    this.settle();
    const { state, both, gone: all } = merged({ ...this.last, open: this.opened() }, before, after);
    const gone = all.filter((key) => this.last.given[key] !== this.taken[key]); // what came from there may go from there
    const change = diff(this.last, state);
    if (isNothing(change)) return { both, gone };
    for (const key in change.given) this.taken[key] = state.given[key];
    if (gone.length > 0) this.step('elsewhere', this.last);
    else this.past = this.past.map((one) => (one.form ? { ...one, form: merged(one.form, before, after).state } : one));
    this.pastMoved = true;
    this.restore(state);
    this.last = this.snapshot();
    return { both, gone };
  }

  // takeOver puts in what another form passed on, as a step of undo or not; by goes along to where the form is kept.
  takeOver(state, by, step) {
    if (this.turnInto(state, step)) this.save(by);
  }

  turnInto(state, step) {
    const change = diff(this.last, state);
    if (isNothing(change)) return false;
    if (step) this.step(null, this.last);
    else this.past = rebased(this.past, change);
    this.run = null;
    this.restore(state);
    return true;
  }

  // ---- undo

  // step makes a state one that undo comes back to. Edits of one run that follow each other are one step: run names the run, null is
  // no run.
  step(run = null, state = this.early ? this.last : this.snapshot()) {
    this.early = false;
    if (state && (run === null || run !== this.run)) this.push({ form: state, stray: this.stray });
    this.run = run;
  }

  push(step) {
    this.past.push(step);
    if (this.past.length > UNDO_DEPTH) this.past.shift();
    this.pastMoved = true;
    this.run = null;
  }

  // undo takes the last step back. It returns false if there is none.
  undo() {
    const step = this.past.pop();
    if (!step) return false;
    this.run = null;
    this.pastMoved = true;
    if (step.shelf) this.hooks.changeShelf(step.shelf, step.entries);
    else {
      this.stray = step.stray;
      this.restore(step.form);
      this.save();
      this.answer();
    }
    return true;
  }

  // ---- saved, asked, shown

  // changed saves and answers; detail is 'hasty' between two keystrokes. Once something is given that stays, no step leads back to before
  // it. Another state put in place of the whole (replace, open) does not count: what was there can be brought back.
  changed(detail) {
    if (this.fields.gained(this.last)) this.forgetPast();
    this.save();
    this.answer(undefined, detail);
  }

  // save keeps what the form holds; by says on whose behalf, if another form passed something on.
  save(by) {
    if (this.early) return;
    const before = this.last;
    this.last = this.snapshot();
    const files = this.fields.files();
    const unkept = this.hooks.save(this, before, files.map((field) => field.path), by);
    if (this.pastMoved) this.hooks.savePast(this);
    this.pastMoved = false;
    for (const { path, element } of files) element.querySelector('.unkept').hidden = !unkept.includes(path);
  }

  // saveAgain keeps what the form holds, where another window has kept less.
  saveAgain() {
    this.hooks.save(this, this.last, this.fields.files().map((field) => field.path));
  }

  // answer asks the core. What is folded in the answer is worked out only if it is unfolded, or for paper: whole. What a hasty answer
  // leaves out follows once the typing pauses.
  answer(whole = this.body.querySelector('[data-lazy][open]') !== null, detail = 'brief') {
    const core = this.hooks.core();
    if (!core) return;
    clearTimeout(this.late);
    this.whole = whole;
    const texts = this.fields.told();
    const { lang } = document.documentElement;
    const before = this.shown.stands() ? this.reply : null;
    this.reply = null; // until the next one is shown
    const number = String(before?.number ?? 0);
    const came = this.hooks.ask(() => core.answer(this.tool, texts, lang, this.hooks.locale, whole ? '' : detail, number));
    if (!came) return;
    const reply = came.errors ? came : completed(came, before);
    const link = reply.link ?? '';
    if (!this.code.hidden && link !== this.link) this.code.hidden = true; // it showed the link before
    this.link = link;
    this.line = reply.line ?? '';
    this.of = reply.of ?? '';
    this.whose = reply.whose ?? '';
    this.begun = reply.begun ?? false;
    if (this.marks) this.section.dataset.begun = this.begun ? 'yes' : 'no';
    this.kept = reply.kept ?? '';
    this.seen = reply.seen ?? '';
    this.left = reply.left ?? [];
    this.fields.values = reply.values ?? {};
    this.show(reply);
    this.reply = came.errors ? null : reply;
    this.hooks.seen(this);
    this.marks?.sheetIs(link);
    if (!reply.answered) warm(this);
    if (this.shown.parts.some(({ node }) => node.querySelector('[data-late]'))) this.late = setTimeout(() => this.answer(), PAUSE);
  }

  // unfolded asks for what was folded in the answer.
  unfolded() {
    if (!this.whole) this.answer(true);
  }

  show(reply) {
    const { shown } = this;
    if (reply.head) shown.paintHead(reply.head);
    shown.paintBody(reply.body ?? []);
    const answered = reply.answered ? 'yes' : 'no';
    if (this.section.dataset.answered !== answered) this.section.dataset.answered = answered;
    if (reply.answered && !this.timed) this.timed = performance.mark('answered'); // for make bench
    if (shown.alone && !shown.alonePart()) {
      shown.alone = false;
      this.save();
    }
    showNotes(this, reply);
    this.plates?.markOpen();
    this.plates?.markPens();
    this.hooks.answered(this);
  }

  // print lays everything out for paper, or for the screen again.
  print(paper) {
    this.shown.paper = paper;
    if (paper) this.answer(true);
    else this.shown.spread();
  }

  // ---- put off

  settleNextFrame() {
    this.frame ??= requestAnimationFrame(() => this.settle());
  }

  settleAfterPause() {
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.settle(), PAUSE);
  }

  // settleFrame does now what was put off to the next frame.
  settleFrame() {
    if (this.frame !== undefined) this.settle();
  }

  // settle does now what was put off.
  settle() {
    if (this.frame === undefined && this.pause === undefined) return;
    cancelAnimationFrame(this.frame);
    clearTimeout(this.pause);
    this.frame = this.pause = undefined;
    this.changed();
  }
}
