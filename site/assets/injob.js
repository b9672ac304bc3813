// What a form does while a job is open: it shows where its facts come from and which row of a specification applies, writes the job's
// record, and passes its reading on to the form that takes readings. Everything it says comes from the core or from the page's words.
import { hasAny, isIn, isTakenAt, patch, specRows } from './facts.js';
import { newRows, passedOn } from './rows.js';
import { lastVerdict, nameOf, now, onTheClock } from './job.js';
import { setText } from './paint.js';
import { Photos } from './photos.js';
import { nameOf as windingName, turned, withoutAsking } from './windings.js';

const REST = 3000; // milliseconds without a change after which a form counts as settled

export class InJob {
  // hooks: core(), ask, word, say, tell, formOf, titleOf(tool), readLink, locale.
  constructor(jobs, hooks) {
    this.jobs = jobs;
    this.hooks = hooks;
    this.photos = new Photos(jobs, hooks);
    this.noted = new WeakMap(); // by form: what it held when the record was written last
    this.typedIn = null; // the form in which a field is being typed in
  }

  // ---- where facts come from

  // show writes beside a form's facts where they were entered, and offers the rows of a specification.
  show(form) {
    const { jobs } = this;
    this.photos.show(form);
    const from = jobs.holds(form) ? jobs.job.facts.from : {};
    for (const use of jobs.usesFor(form)) {
      const element = elementOf(form, use);
      const isOwn = jobs.holds(form) && hasAny(jobs.job.forms[form.tool]?.given ?? {}, use.path);
      this.mark(element, hasAny(form.last.given, use.path) && !isOwn && from[use.fact] !== form.tool ? from[use.fact] : undefined);
      if (isTakenAt(use) && isOwn && !use.takes) this.markKept(element, jobs.job.facts, use.fact);
      if (use.fact === 'spec') this.offerRows(form, element, use);
    }
    for (const card of form.element.querySelectorAll('.card.picked')) {
      const kind = card.querySelector('input[data-how]:checked')?.value;
      this.mark(card, from[`${card.closest('.list').dataset.list}.${kind}`]);
    }
  }

  // placed brings a form that is shown now up to what the job says.
  placed(form) {
    if (!this.jobs.holds(form)) return;
    form.adopt(this.jobs.stateOf(form));
    this.show(form);
  }

  mark(element, tool) {
    let mark = element.querySelector(':scope > .from');
    if (!mark && !tool) return;
    if (!mark) {
      mark = Object.assign(document.createElement('p'), { className: 'from' });
      (element.querySelector(':scope > :is(.how, .picked-how)') ?? element.firstElementChild).after(mark);
    }
    // A tool that is about a fact of its own name, such as a code, says that too.
    const about = this.jobs.job?.facts.given[tool];
    setText(mark, tool ? this.hooks.word('job.from', [this.hooks.titleOf(tool), about].filter(Boolean).join(' ')) : '');
  }

  // markKept says beside what is kept for a form's readings what the job says now.
  markKept(element, { given, units, from }, fact) {
    this.mark(element, from[fact]);
    const mark = element.querySelector(':scope > .from');
    if (!mark || given[fact] === undefined) return;
    const unit = element.querySelector(`.units input[value="${units[fact]}"] + span`)?.textContent ?? units[fact] ?? '';
    setText(mark, this.hooks.word('job.kept', `${given[fact]}\u00a0${unit}`, this.hooks.titleOf(from[fact])));
  }

  // offerRows shows the rows of the specification as buttons, where there are several.
  offerRows(form, element, use) {
    const rows = this.jobs.holds(form) ? specRows(this.jobs.job.facts) : [];
    let place = element.querySelector('.spec-rows');
    if (!place && rows.length < 2) return;
    if (!place) {
      place = Object.assign(document.createElement('div'), { className: 'spec-rows' });
      element.querySelector('.fields').before(place);
    }
    place.hidden = rows.length < 2;
    const title = Object.assign(document.createElement('p'), { textContent: this.hooks.word('job.rows') });
    const before = place.contains(document.activeElement) ? [...place.children].indexOf(document.activeElement) : -1;
    place.replaceChildren(title, ...rows.map((row) => this.rowButton(form, use, row)));
    place.children[before]?.focus();
  }

  rowButton(form, use, { row, name, limits, applies }) {
    const { given, units } = limits;
    const unit = units['spec.min'] === 'ohm' ? 'Ω' : (units['spec.min'] ?? '');
    const text = this.hooks.word('job.row', name || String(row + 1), `${given['spec.min']}–${given['spec.max']} ${unit}`);
    const button = Object.assign(document.createElement('button'), { type: 'button', textContent: text, ariaPressed: String(applies) });
    button.addEventListener('click', () => this.takeRow(form, use, limits));
    return button;
  }

  takeRow(form, { path }, { given, units }) {
    const change = { given: {}, units: {} };
    for (const name of ['min', 'max', 'at']) {
      change.given[`${path}.${name}`] = given[`spec.${name}`] ?? null;
      const radio = form.element.querySelector(`.field[data-path="${path}.${name}"] .units input[value="${units[`spec.${name}`]}"]`);
      change.units[`${path}.${name}`] = radio && !radio.defaultChecked ? radio.value : null;
    }
    form.replace(patch(form.snapshot(), change));
  }

  // ---- the record

  // recordOf returns what a form takes from a job's entries, with the times as the clock showed them here.
  recordOf(job) {
    const { core, ask } = this.hooks;
    const given = core()?.jobRecord && ask(() => core().jobRecord(JSON.stringify({ ...job, photos: [] })))?.given;
    const local = ([key, text]) => [key, key.endsWith('.when') ? onTheClock(text) : text];
    return given && Object.fromEntries(Object.entries(given).map(local));
  }

  // settledSoon writes into the record once nothing was entered for a while: a form that is being filled in says nothing yet.
  settledSoon(form) {
    clearTimeout(this.rest);
    this.typedIn = null;
    this.rest = setTimeout(() => this.settled(form), REST);
  }

  // typing puts that off until the field is left: half a number is no reading, however long the other half takes.
  typing(form) {
    clearTimeout(this.rest);
    this.typedIn = form;
  }

  // fieldLeft goes on from there, and takes in what came from elsewhere. It reports whether the form is part of the job.
  fieldLeft(form) {
    if (this.typedIn === form) this.settledSoon(form);
    if (!this.jobs.holds(form)) return false;
    form.adopt(this.jobs.stateOf(form));
    return true;
  }

  // settled writes into the job's record what is new in a form.
  settled(form) {
    clearTimeout(this.rest);
    this.typedIn = null;
    const core = this.hooks.core();
    const { jobs } = this;
    if (!core?.jobNote || !jobs.holds(form)) return;
    const texts = form.fields.told();
    if (this.noted.get(form) === texts) return;
    this.noted.set(form, texts);
    const job = JSON.stringify({ ...jobs.job, photos: [] });
    const who = jobs.job.facts.given.who ?? '';
    const { lang } = document.documentElement;
    const reply = this.hooks.ask(() => core.jobNote(job, form.tool, texts, lang, this.hooks.locale, now(), who));
    if (reply?.entries?.length > 0) jobs.change({ entries: reply.entries });
  }

  // left does what is due when a form is left; isHidden: with the page, which may come back to half a number.
  left(form, isHidden) {
    if (!form || !this.jobs.holds(form) || (isHidden && this.typedIn === form)) return;
    this.settled(form);
    this.passOn(form);
  }

  // passOn gives a reading of a form, and what else its answer takes along, to the form that has the readings.
  passOn(form) {
    const carries = [...form.section.querySelectorAll('[data-carry]')].filter((button) => {
      const to = this.hooks.formOf(button.dataset.carry);
      return to?.element.querySelector('.list[data-pick-by]') && this.jobs.holds(to);
    });
    // A form that only takes facts tries things out, and an answer with several ways on does not say which one is meant.
    if (carries.length !== 1 || form.element.querySelector('[data-fact-takes]')) return;
    const target = this.hooks.formOf(carries[0].dataset.carry);
    target.adopt(this.jobs.stateOf(target));
    const opened = this.hooks.readLink(`#/${target.tool}?${new URLSearchParams(JSON.parse(carries[0].dataset.given))}`);
    if (!opened?.fields) return;
    const { list, pickBy } = target.element.querySelector('.list[data-pick-by]').dataset;
    const passed = target.lists.named('others') ? withoutAsking(target.last, opened.fields) : opened.fields;
    const fields = this.without(form, this.unknown(form, target, passed, list));
    const { from } = this.jobs.job.facts;
    const mine = (key) => from[this.factOf(target, key)] === form.tool;
    const { state, kinds } = passedOn(target.last, list, pickBy, fields, mine);
    target.takeOver(state, { by: form.tool, marks: kinds.map((kind) => `${list}.${kind}`) }, kinds.length > 0);
    if (kinds.length === 0 || !isShownNext(target)) return;
    this.hooks.say(this.hooks.word('job.passed', this.hooks.titleOf(form.tool)), 'job.passed', false);
  }

  // carry takes what was tapped in an answer of the tool "by" over to another form: readings that are there already are not doubled, and
  // are marked as that tool's. Without a job, what is of no winding is added to what is there. It says what was done.
  carry(form, fields, by) {
    const { tell, say, word } = this.hooks;
    const element = form.element.querySelector('.list[data-pick-by]');
    const several = fields.winding && form.lists.named('others');
    if (!several && !this.jobs.holds(form)) form.add(fields);
    else if (!element) form.add(newRows(form.last, fields));
    else {
      const { list, pickBy } = element.dataset;
      const { state: before, from, to } = several ? turned(form.last, fields) : { state: form.last };
      const { winding, ...rest } = fields;
      const { state, kinds } = passedOn(before, list, pickBy, several ? rest : fields, () => true);
      form.takeOver(state, { by, marks: kinds.map((kind) => `${list}.${kind}`) }, true);
      if (from) return say(word('several.other', windingName(to, word), windingName(from, word)), 'several.other', false);
    }
    tell('carried');
  }

  factOf(form, key) {
    return this.jobs.usesFor(form).find(({ path }) => isIn(key, path))?.fact ?? key;
  }

  // unknown leaves readings, and of the rest what the job does not know yet: a fact that the form itself holds is in the job already,
  // and limits are passed on only where none apply.
  unknown(form, target, fields, list) {
    const own = this.jobs.usesFor(form).map(({ fact }) => fact);
    if (own.includes('specs')) own.push('spec'); // which row applies is the reader's to say
    const { from, given } = this.jobs.job.facts;
    const news = ([key]) => {
      if (key.startsWith(`${list}.`)) return true;
      const fact = this.factOf(target, key);
      return !own.includes(fact) && (!hasAny(given, fact) || from[fact] === form.tool);
    };
    return Object.fromEntries(Object.entries(fields).filter(news));
  }

  // without leaves out what was passed on before in these words: it is there, or somebody took it away, or put it aside.
  without({ tool }, fields) {
    const [key, text] = [`passed/${tool}`, JSON.stringify(fields)];
    if (this.jobs.beside[key] === text) return {};
    this.jobs.putBeside(key, text);
    return fields;
  }

  // wordsFor returns the key of what to say when a job could not be opened.
  wordsFor(fault) {
    if (fault === 'missing') return 'job.gone';
    if (fault.startsWith('unsaved')) return `job.${fault}`;
    return fault === 'forbidden' ? 'job.unlisted' : `job.unread.${fault}`;
  }

  // ---- in a line

  // line says what a job is called, what its last verdict was, and when it was changed last.
  line(job) {
    const { core, locale, word, ask } = this.hooks;
    const { lang } = document.documentElement;
    const plain = { name: nameOf(job), said: lastVerdict(job)?.said ?? '' };
    const made = core()?.jobLine && ask(() => core().jobLine(JSON.stringify({ ...job, photos: [] }), lang, locale));
    const { name, said } = made ?? plain;
    const when = new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeStyle: 'short' }).format(new Date(job.changed));
    return { name: name || word('job.nameless'), said: said ?? '', when };
  }
}

// isShownNext reports whether a form is what the address names, where undo then takes back what was done in it.
const isShownNext = ({ tool }) => location.hash.replace(/^#\/*/, '').split(/[/?]/)[0].toLowerCase() === tool;

function elementOf(form, { path }) {
  const at = CSS.escape(path);
  return form.element.querySelector(`[data-fact]:is([data-path="${at}"], [data-list="${at}"], [data-group="${at}"])`);
}
