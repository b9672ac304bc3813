// Where a form is kept: in the open job, or without one under its tool's name (see jobs.js and keep.js).
import { FEW_PAST, readPast, writePast } from './keep.js';
import { randomText, readForm, writeForm } from './state.js';
import { asBefore } from './works.js';

export class Keeping {
  // show(form) is called when what is kept of a form in a job has changed; tabs() are the other windows; address is the Address.
  constructor(jobs, keep, { show, tabs, address }) {
    Object.assign(this, { jobs, keep, show, tabs, address });
  }

  // save keeps what a form holds. It returns the files that could not be kept.
  save(form, before, files, by) {
    const { jobs, keep } = this;
    if (!jobs.holds(form)) {
      if (form.marks) return keep.saveForm(form.tool, form.last, files, { work: workOf(form) }); // each window may have another sheet
      this.tabs().tell(form, before);
      return this.tabs().save(form, files);
    }
    if (jobs.changed(form, before, by)) form.adopt(jobs.stateOf(form));
    jobs.putBeside(`base/${form.tool}`, writeForm(bare(form, files)));
    this.show(form);
    return [];
  }

  // refresh takes in what another window did on the same work: a link that is tapped again opens in a window of its own.
  refresh(form) {
    const text = workOf(form) && this.keep.elsewhere(form.tool);
    if (!text || !text.includes(`"work":${JSON.stringify(workOf(form))}`)) return;
    const { form: state } = readForm(text);
    if (!state) return;
    form.adopt(state);
    form.answer();
  }

  // savePast keeps a form's steps of undo; those of the shelves are not the form's own.
  savePast(form) {
    const steps = form.past.filter((step) => step.form);
    if (this.jobs.holds(form)) this.jobs.putBeside(`past/${form.tool}`, writePast(steps, FEW_PAST));
    else {
      const { given } = form.last;
      const files = form.fields.files().filter(({ path }) => given[path] !== undefined);
      this.keep.savePast(form.tool, steps, Object.fromEntries(files.map(({ path }) => [path, given[path]])));
    }
  }

  // fill puts into a new form what is kept of it.
  fill(form) {
    const { jobs, keep } = this;
    const inside = jobs.holds(form);
    const state = inside ? jobs.stateOf(form) : keep.loadForm(form.tool, form.fields.files().map((f) => f.path));
    if (!inside && Object.keys(state.rows).length === 0) state.rows = form.fields.begun();
    if (form.marks) state.given = asBefore(state.given);
    form.restore(state);
    // An exercise is there at once, but not while a link waits for the core to be read: what it asks for is not to be guessed.
    const fresh = form.fields.fresh();
    if (fresh && !this.address.isLink && Object.keys(state.given).length === 0) fresh.field.input.value = randomText();
    form.last = form.snapshot();
    const { beside } = jobs;
    const past = inside ? beside[`past/${form.tool}`] : keep.loadPast(form.tool);
    const files = form.fields.files().map((f) => f.path);
    form.past = readPast(past, inside ? beside[`base/${form.tool}`] : null, inside ? bare(form, files) : form.last);
    this.show(form);
  }
}

// workOf returns what a form is work on, and whose; undefined for a form that is no such work.
const workOf = ({ of, whose }) => (of ? `${of} ${whose}` : undefined);

// bare returns what a form holds without the texts of its files.
function bare({ last }, files) {
  const given = { ...last.given };
  for (const path of files) delete given[path];
  return { ...last, given };
}
