// The open job of this window: read from the device, changed in memory at once, and kept on the device change by change. Other windows
// on the same job are told, and their changes are taken in. Without an open job the page works as it does without any.
import { Cupboard, faultOf } from './cupboard.js';
import { assemble, diff, isNothing, keptAt, partedIn, route } from './facts.js';
import { applied, likeJob, newId, newJob, now, readJob, sameJob, takenIn } from './job.js';
import { Opened } from './opened.js';
import { noteOf } from './photos.js';
import { countRows } from './rows.js';
import { databaseFor, scope } from './scope.js';
import { emptyForm } from './state.js';
import { usesIn } from './uses.js';

const DAY = 24 * 3600 * 1000;

export class Jobs {
  // hooks: store (see Store); said(fault) after each attempt to keep something: "", "full" or "forbidden"; waiting() while one is on its
  // way; formOf(tool); recordOf(job) is what a form takes from its record; adopted(job) when another window changed the job; gone() when
  // the open job was deleted elsewhere; listed() when any job changed.
  constructor(hooks) {
    this.hooks = hooks;
    this.cupboard = new Cupboard();
    this.opened = new Opened(hooks.store);
    this.job = null; // the open one
    this.beside = {}; // what belongs to it: see cupboard.js
    this.pending = []; // changes that are not kept yet
    this.pumping = null;
    this.fault = '';
    this.usesOf = new WeakMap(); // by form
    this.channel = 'BroadcastChannel' in globalThis ? new BroadcastChannel(`${databaseFor(scope)}-jobs`) : null;
    if (this.channel) this.channel.onmessage = ({ data }) => this.heard(data);
  }

  // start opens the job that was open last. It returns what was wrong with it: "", "damaged", "newer", "missing" or "forbidden".
  async start() {
    const { id } = this.opened;
    if (!id) return '';
    const fault = await this.open(id);
    if (fault === 'missing') this.opened.is('');
    return fault;
  }

  async open(id) {
    let record, beside;
    try {
      record = await this.cupboard.get(id);
      beside = await this.cupboard.beside(id);
    } catch {
      return 'forbidden';
    }
    if (!record || record.gone) return 'missing';
    const { job, fault } = readJob(record.text);
    if (fault) return fault;
    const unsaved = await this.close();
    if (unsaved) return `unsaved.${unsaved}`;
    Object.assign(this, { job, beside });
    this.opened.is(id);
    return '';
  }

  // close leaves the job. What was not kept by then is tried once more: if that fails the job stays open, as it would be lost, and
  // what went wrong is returned. drop: it is to go anyway.
  async close(drop = false) {
    if (!this.job) return '';
    await this.flush();
    if (this.pending.length > 0 && !drop) return this.fault || 'forbidden';
    Object.assign(this, { job: null, beside: {}, pending: [], fault: '' });
    this.opened.is('');
    return '';
  }

  // begin opens a new job. The first one asks the browser to keep what is here. It returns what went wrong with the one before.
  async begin(job = newJob(newId(), now())) {
    const unsaved = await this.close();
    if (unsaved) return `unsaved.${unsaved}`;
    this.job = job;
    this.opened.is(job.id);
    this.change({});
    const { storage } = navigator;
    storage?.persisted?.().then((kept) => kept || storage.persist()).catch(() => {});
    await this.flush();
    return '';
  }

  // ---- forms

  usesFor(form) {
    if (!this.usesOf.has(form)) this.usesOf.set(form, usesIn(form.element));
    return this.usesOf.get(form);
  }

  // holds reports whether a form is part of the open job.
  holds(form) {
    return this.job !== null && !('jobless' in form.section.dataset);
  }

  // stateOf returns what a form holds in the open job.
  stateOf(form) {
    const own = this.job.forms[form.tool] ?? emptyForm();
    const state = assemble(this.usesFor(form), this.job.facts, own);
    state.rows = { ...form.fields.begun(), ...state.rows };
    if ('record' in form.section.dataset) Object.assign(state.given, this.hooks.recordOf(this.job));
    for (const list of form.lists.names()) state.rows[list] = countRows(state, list); // as the form counts: nothing new is no change
    for (const { path } of form.fields.files()) {
      const text = this.beside[`file/${form.tool}/${path}`];
      if (text !== undefined) state.given[path] = text;
    }
    return state;
  }

  // changed takes what changed in a form into the job; by and marks say which tool passed it on, and what, if it was not entered
  // there. It reports whether the form has to be filled in anew: a field that stands in place of a fact came or went.
  changed(form, before, { by = form.tool, marks = [] } = {}) {
    const after = form.last;
    const uses = this.usesFor(form);
    const change = diff(before, after);
    for (const { path } of form.fields.files()) this.keepFile(form.tool, path, change);
    if (isNothing(change)) return false;
    const { facts, own, from } = route(uses, change, after, this.job.facts, this.job.forms[form.tool]?.given);
    const parted = by === form.tool ? partedIn(this.job, change, before, after) : [];
    this.keepTakenAt(form, facts);
    this.change({ tool: form.tool, by, own, facts, from: [...from, ...marks], parted });
    return uses.some(({ yields }) => yields && yields in (change.given ?? {}) && !before.given[yields] !== !after.given[yields]);
  }

  // keepTakenAt has every other form whose readings are in the record keep what they were taken at, before facts change: a loaded test may
  // be hot where the winding was read cold.
  keepTakenAt(form, facts) {
    for (const [tool, driven] of takenIn(this.job.entries)) {
      const other = tool !== form.tool && this.hooks.formOf(tool);
      const own = other && keptAt(this.usesFor(other), this.job.facts, facts, driven, this.job.forms[tool]?.given);
      if (own) this.change({ tool, by: tool, own });
    }
  }

  // keepFile keeps the text of a file beside the job, and takes it out of a change: it may be long.
  keepFile(tool, path, change) {
    const text = change.given?.[path];
    if (text === undefined) return;
    const { [path]: gone, ...others } = change.given;
    change.given = others;
    if (Object.keys(others).length === 0) delete change.given;
    this.putBeside(`file/${tool}/${path}`, text ?? undefined);
  }

  // putBeside keeps something that belongs to the job.
  putBeside(key, value) {
    if (value === undefined) delete this.beside[key];
    else this.beside[key] = value;
    const { id } = this.job;
    this.cupboard.put(id, key, value).catch((e) => this.say(faultOf(e)));
  }

  // editBeside changes it, on whatever is kept by then: another window may have changed it too.
  async editBeside(key, edit) {
    const { id } = this.job;
    this.beside[key] = edit(this.beside[key]);
    try {
      const kept = await this.cupboard.edit(id, key, edit);
      if (id === this.job?.id) this.beside[key] = kept;
    } catch (e) {
      this.say(faultOf(e));
    }
  }

  // asJob returns a new job with what one form holds, and nothing else.
  asJob(form) {
    const state = form.snapshot();
    const job = newJob(newId(), now());
    const empty = emptyForm();
    const change = diff(empty, state);
    for (const { path } of form.fields.files()) if (change.given) delete change.given[path];
    const { facts, own, from } = route(this.usesFor(form), change, state, job.facts);
    return applied(job, { when: job.made, tool: form.tool, by: form.tool, own, facts, from });
  }

  // ---- changes

  // change makes a change, in memory at once and on the device as soon as it can be.
  change(change) {
    const whole = { ...change, when: now() };
    this.job = applied(this.job, whole);
    this.pending.push(whole);
    this.hooks.waiting();
    return this.pump();
  }

  // pump keeps what is pending. It is one at work at a time.
  pump() {
    this.pumping ??= this.keep().finally(() => (this.pumping = null));
    return this.pumping;
  }

  async keep() {
    while (this.pending.length > 0 && this.job) {
      const batch = [...this.pending];
      const { job } = this;
      try {
        const { text } = await this.cupboard.change(job.id, (record) => kept(record, job, batch));
        if (this.job?.id !== job.id) return;
        this.pending.splice(0, batch.length);
        if (this.pending.length === 0) {
          this.adopt(readJob(text).job);
          this.say('');
        }
        this.channel?.postMessage({ id: job.id });
      } catch (e) {
        this.say(faultOf(e));
        return;
      }
    }
  }

  // flush waits until everything is kept, or cannot be.
  async flush() {
    await this.pumping;
    if (this.pending.length > 0) await this.pump();
  }

  // aside keeps what is pending, as this window has it: the page is left, and what it would read first may never arrive.
  aside() {
    const { job, pending: batch } = this;
    if (job && batch.length > 0) {
      this.pending = [];
      const put = (jobs) => jobs.put({ id: job.id, text: JSON.stringify(job) });
      const failed = (e) => {
        if (this.job?.id === job.id) this.pending.unshift(...batch);
        this.say(faultOf(e));
      };
      this.cupboard.write(put).then(() => this.say(''), failed);
      this.channel?.postMessage({ id: job.id });
    }
    this.cupboard.rest();
  }

  // returned opens this window's job again when the page is loaded anew: the page in between may have left it.
  returned() {
    if (this.job) this.opened.is(this.job.id);
    location.reload();
  }

  // look takes in what other windows did without being heard: this one was put aside, or asleep.
  look() {
    return this.heard({ id: this.job?.id ?? '' });
  }

  say(fault) {
    this.fault = fault;
    this.hooks.said(fault);
  }

  // heard takes in what another window did.
  async heard({ id }) {
    this.hooks.listed();
    if (id !== this.job?.id) return;
    const record = await this.cupboard.get(id).catch(() => null);
    if (!record || id !== this.job?.id) return;
    if (record.gone) {
      Object.assign(this, { job: null, beside: {}, pending: [] });
      this.opened.is('');
      this.hooks.gone();
      return;
    }
    const { job } = readJob(record.text);
    if (job) this.adopt(this.pending.reduce(applied, job));
  }

  // adopt takes over the job as it is kept, with what another window changed in it.
  adopt(job) {
    const same = JSON.stringify(job) === JSON.stringify(this.job);
    this.job = job;
    if (!same) this.hooks.adopted(job);
  }

  // ---- all jobs

  // list returns all jobs, the one changed last first: [{id, job, fault, gone, text}]. What was deleted more than a day ago goes for good.
  async list() {
    const records = await this.cupboard.all();
    const old = records.filter(({ gone }) => gone && Date.now() - Date.parse(gone) > DAY);
    for (const { id } of old) await this.cupboard.remove(id).catch(() => {});
    const list = records.filter((record) => !old.includes(record)).map((record) => ({ ...record, ...readJob(record.text) }));
    return list.sort((a, b) => ((a.job?.changed ?? '') < (b.job?.changed ?? '') ? 1 : -1));
  }

  // edit changes a job that need not be the open one.
  async edit(id, edit) {
    await this.flush();
    const record = await this.cupboard.change(id, edit);
    this.channel?.postMessage({ id });
    if (id === this.job?.id && !record.gone) this.adopt(readJob(record.text).job);
  }

  archive(id, archived) {
    return this.edit(id, (record) => ({ ...record, text: JSON.stringify({ ...JSON.parse(record.text), archived }) }));
  }

  // remove deletes a job: for a day it can be brought back.
  async remove(id) {
    if (id === this.job?.id) await this.close(true);
    await this.edit(id, (record) => ({ ...record, gone: now() }));
  }

  bringBack(id) {
    return this.edit(id, ({ gone, ...record }) => record);
  }

  // add keeps a job that came from elsewhere beside those that are here. It returns the id that it has here, and how: "", "same" if it
  // is here already, be it as a copy, or "copy" if another one has its id.
  async add(job) {
    const { photos, ...rest } = job;
    await this.flush();
    const all = await this.cupboard.all();
    const there = all.find(({ id }) => id === job.id) ?? (this.job?.id === job.id ? this.job : null);
    const same = all.filter(({ gone, text }) => !gone && sameJob(readJob(text).job, job));
    if (same.length > 0) return { id: (same.find(({ id }) => id === job.id) ?? same[0]).id, how: 'same' };
    const id = there ? newId() : job.id;
    const { text, files } = withoutFiles({ ...rest, id, photos: [] });
    await this.cupboard.write((jobs, beside) => {
      jobs.add({ id, text }); // never in place of another, even one that a second window has just kept
      for (const [key, file] of Object.entries(files)) beside.put(file, `${id}/${key}`);
      if (photos.length > 0) beside.put(photos, `${id}/photos`);
    });
    this.channel?.postMessage({ id });
    return { id, how: there ? 'copy' : '' };
  }

  // hold opens a job that came from elsewhere where nothing can be kept. It returns what went wrong with the one before.
  async hold({ photos, ...rest }) {
    const { text, files } = withoutFiles({ ...rest, photos: [] });
    const fault = await this.begin(readJob(text).job);
    if (!fault) Object.assign(this.beside, files, photos.length > 0 && { photos });
    return fault;
  }

  // file returns a job with all that belongs to it, {job, cut}, or the text of one that cannot be read. cut: the text of a file was too
  // long for it.
  async file(id) {
    if (id === this.job?.id) return whole(this.job, this.beside);
    const record = await this.cupboard.get(id);
    const { job, fault } = readJob(record.text);
    return fault ? { fault, text: record.text } : whole(job, await this.cupboard.beside(id));
  }

  like(job) {
    return likeJob(job, newId(), now());
  }
}

// kept returns the record with changes made on what is kept by now; another window may have written since.
function kept(record, job, batch) {
  const read = record ? readJob(record.text) : {};
  const text = JSON.stringify(read.job ? batch.reduce(applied, read.job) : job);
  return { ...record, id: job.id, text };
}

const MOST_TEXT = 60_000; // characters of a text that a file takes along; the core takes a few more bytes

// whole puts what belongs to a job into its document, but texts of files that are too long for it: {job, cut}.
function whole(job, beside) {
  const photos = (beside.photos ?? job.photos).map((photo) => ({ ...photo, note: noteOf(photo, beside) }));
  const out = { ...job, forms: { ...job.forms }, photos };
  let cut = false;
  for (const [key, text] of Object.entries(beside)) {
    const [kind, tool, path] = key.split('/');
    if (kind !== 'file') continue;
    if (new Blob([text]).size > MOST_TEXT) {
      cut = true;
      continue;
    }
    const form = out.forms[tool] ?? emptyForm();
    out.forms[tool] = { ...form, given: { ...form.given, [path]: text } };
  }
  return { job: out, cut };
}

const LONG = 4000; // characters of a text that is kept beside the job

// withoutFiles takes long texts out of a job: {text, files}.
function withoutFiles(job) {
  const files = {};
  const forms = {};
  for (const [tool, form] of Object.entries(job.forms)) {
    const given = { ...form.given };
    for (const path of Object.keys(form.names)) {
      if (given[path] === undefined) continue;
      files[`file/${tool}/${path}`] = given[path];
      delete given[path];
    }
    for (const [path, text] of Object.entries(given)) {
      if (text.length < LONG) continue;
      files[`file/${tool}/${path}`] = text;
      delete given[path];
    }
    forms[tool] = { ...form, given };
  }
  return { text: JSON.stringify({ ...job, forms }), files };
}
