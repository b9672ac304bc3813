// Where a form is kept: in the open job, or without one under its tool's name (see jobs.js and keep.js).
import { readPast, writePast } from './keep.js';
import { randomText, writeForm } from './state.js';

export class Keeping {
  // show(form) is called when what is kept of a form in a job has changed.
  constructor(jobs, keep, show) {
    Object.assign(this, { jobs, keep, show });
  }

  // save keeps what a form holds. It returns the files that could not be kept.
  save(form, before, files, by) {
    const { jobs, keep } = this;
    if (!jobs.holds(form)) return keep.saveForm(form.tool, form.last, files);
    if (jobs.changed(form, before, by)) form.adopt(jobs.stateOf(form));
    jobs.putBeside(`base/${form.tool}`, writeForm(bare(form, files)));
    this.show(form);
    return [];
  }

  // savePast keeps a form's steps of undo; those of the shelves are not the form's own.
  savePast(form) {
    const text = writePast(form.past.filter((step) => step.form));
    if (this.jobs.holds(form)) this.jobs.putBeside(`past/${form.tool}`, text);
    else this.keep.savePast(form.tool, text);
  }

  // fill puts into a new form what is kept of it.
  fill(form) {
    const { jobs, keep } = this;
    const inside = jobs.holds(form);
    const state = inside ? jobs.stateOf(form) : keep.loadForm(form.tool, form.fields.files().map((f) => f.path));
    if (!inside && Object.keys(state.rows).length === 0) state.rows = form.fields.begun();
    form.restore(state);
    // An exercise is there at once, but not while a link waits for the core to be read: what it asks for is not to be guessed.
    const fresh = form.fields.fresh();
    const isLink = location.hash.includes('?') && history.state?.own === undefined;
    if (fresh && !isLink && Object.keys(state.given).length === 0) fresh.field.input.value = randomText();
    form.last = form.snapshot();
    const { beside } = jobs;
    const past = inside ? beside[`past/${form.tool}`] : keep.loadPast(form.tool);
    const files = form.fields.files().map((f) => f.path);
    form.past = readPast(past, inside ? beside[`base/${form.tool}`] : null, inside ? bare(form, files) : form.last);
    this.show(form);
  }
}

// bare returns what a form holds without the texts of its files.
function bare({ last }, files) {
  const given = { ...last.given };
  for (const path of files) delete given[path];
  return { ...last, given };
}
