// The list of jobs, the open job's head, and the card on the first screen that leads on with it.
import { MOST_BYTES, found, nameOf } from './job.js';
import { JobLink, fileOf } from './joblink.js';
import { setText } from './paint.js';
import { PaperLink } from './paperlink.js';
import { saveFile } from './share.js';

const LAST = 'last-job'; // the job that a link was opened beside
const PLACE = 'job-place'; // the tool that was shown last in a job

export class JobList {
  // hooks: word, words, say, tell, said, leave(), place(), jobSwitched(), core(), ask, locale, named().
  constructor(jobs, inJob, hooks) {
    Object.assign(this, { jobs, inJob, hooks });
    this.section = document.getElementById('jobs');
    this.head = document.getElementById('job-head');
    this.search = document.getElementById('job-search');
    this.card = document.getElementById('continue');
    this.home = document.getElementById('home-name');
    this.label = this.home.parentElement.ariaLabel;
    this.entries = [];
    this.link = new JobLink(jobs, hooks);
    this.paper = new PaperLink(jobs, this.link, hooks);
    this.linked = Promise.resolve(); // the last link of a job, until it is opened
    document.addEventListener('click', (e) => this.tapped(e));
    this.head.addEventListener('submit', (e) => e.preventDefault());
    this.head.addEventListener('input', ({ target }) => this.typed(target));
    this.search.addEventListener('input', () => this.paint());
    const file = document.getElementById('job-file');
    file.addEventListener('change', () => {
      this.take(file.files[0]);
      file.value = '';
    });
  }

  get store() {
    return this.jobs.hooks.store;
  }

  // ---- the open job

  // placed is told what is shown: a tool's form, the jobs, or the first screen.
  placed(here, form) {
    this.link.hide();
    this.paper.soon(form);
    if (form && this.jobs.holds(form)) this.store.write(PLACE, here);
    if (here === 'jobs') this.refresh();
    if (here === 'start') this.showOpen();
  }

  showName() {
    const { job } = this.jobs;
    const { name } = this.home.dataset;
    const shown = job ? nameOf(job) || this.hooks.word('job.nameless') : name;
    setText(this.home, shown);
    this.home.parentElement.ariaLabel = this.label.replace(name, () => shown);
    this.hooks.named();
  }

  // showOpen shows which job is open: in the header, on the first screen, and on the page of jobs.
  async showOpen() {
    this.showName();
    const { job } = this.jobs;
    document.body.dataset.job = job ? 'open' : 'none';
    this.head.hidden = !job;
    if (job) {
      for (const input of this.head.querySelectorAll('[data-head]')) {
        if (input !== document.activeElement) input.value = job.facts.given[input.dataset.head] ?? '';
      }
      this.showEntries(job);
      return this.showCard(job, `#/${this.store.read(PLACE) ?? 'jobs'}`);
    }
    const last = this.store.read(LAST);
    const kept = last && (await this.jobs.cupboard.get(last).catch(() => null));
    const aside = kept && !kept.gone && !this.jobs.job ? JSON.parse(kept.text) : null;
    this.showCard(aside, '#/jobs');
  }

  showCard(job, href) {
    this.card.hidden = !job;
    if (!job) return;
    const { name, said, when } = this.inJob.line(job);
    const link = this.card.querySelector('a');
    link.href = href;
    setText(link.querySelector('strong'), name);
    setText(link.querySelector('span'), [said, when].filter(Boolean).join(' · '));
  }

  showEntries(job) {
    const said = job.entries.filter((entry) => entry.said).slice(-8);
    this.head.querySelector('.entries').replaceChildren(
      ...said.map((entry) => {
        const item = document.createElement('li');
        item.textContent = entry.said;
        return item;
      }),
    );
  }

  typed(input) {
    const { head } = input.dataset;
    if (!head || !this.jobs.job) return;
    this.link.hide();
    this.jobs.change({ facts: { given: { [head]: input.value === '' ? null : input.value } } });
    this.showName();
  }

  // putAside closes the open job because something else is looked at; the first screen leads back to it. If it cannot be kept it stays.
  async putAside() {
    const { job } = this.jobs;
    const unsaved = await this.jobs.close();
    if (unsaved) return this.hooks.tell(`job.unsaved.${unsaved}`, true);
    this.hooks.jobSwitched();
    this.store.write(LAST, job.id);
  }

  // ---- all of them

  async refresh() {
    if (document.body.dataset.place !== 'jobs') return;
    try {
      this.entries = await this.jobs.list();
    } catch {
      this.entries = [];
      this.hooks.tell('job.unlisted', true);
    }
    this.paint();
    this.showOpen();
  }

  paint() {
    const { content } = document.getElementById('job-row');
    const shown = this.entries.filter((entry) => !entry.job || found(entry.job, this.search.value));
    const rows = [false, true].flatMap((archived) => shown.filter(({ job }) => (job?.archived ?? false) === archived));
    const items = rows.map((entry) => this.row(entry, content.cloneNode(true).firstElementChild));
    this.section.querySelector('.job-list').replaceChildren(...items);
    document.getElementById('job-none').hidden = this.entries.length > 0;
    this.search.parentElement.hidden = this.entries.length < 2;
  }

  row({ id, job, fault, gone }, row) {
    const { word } = this.hooks;
    row.dataset.id = id;
    const [open, more, back] = row.children;
    const { name, said, when } = job ? this.inJob.line(job) : { name: word(`job.unread.${fault}`), said: '', when: '' };
    const named = gone ? word('job.deleted', name) : job?.archived ? word('job.archived', name) : name;
    open.querySelector('strong').textContent = named;
    open.querySelector('span').textContent = [said, when].filter(Boolean).join(' · ');
    open.disabled = Boolean(gone) || !job;
    open.ariaCurrent = String(id === this.jobs.job?.id);
    more.hidden = Boolean(gone) || id === this.jobs.job?.id;
    back.hidden = !gone;
    for (const button of more.querySelectorAll('button:not([data-job="export"], [data-job="remove"])')) button.hidden = !job;
    if (job?.archived) more.querySelector('[data-job="archive"]').textContent = word('job.unarchive');
    return row;
  }

  // ---- what is tapped

  async tapped(e) {
    const button = e.target.closest('[data-job]');
    if (e.target.closest('#continue') && !this.jobs.job) {
      e.preventDefault();
      await this.open(this.store.read(LAST));
    }
    if (!button || button === document.body) return;
    const id = button.closest('[data-id]')?.dataset.id ?? this.jobs.job?.id;
    if (button.dataset.job !== 'code') this.link.hide();
    await this.acts[button.dataset.job]?.call(this, id).catch(() => this.hooks.tell('job.unlisted', true));
    this.refresh();
  }

  acts = {
    async new() {
      this.hooks.leave();
      if (await this.begun(this.jobs.begin(), 'job.begun')) return;
      if (document.body.dataset.place !== 'jobs') await this.go('#/jobs');
      document.getElementById('job-vehicle').focus();
    },
    open(id) {
      return this.open(id);
    },
    async close() {
      this.hooks.leave();
      const unsaved = await this.jobs.close();
      if (unsaved) this.hooks.tell(`job.unsaved.${unsaved}`, true);
      else this.switched('job.closed');
    },
    async export(id) {
      const { job, text, cut } = await this.jobs.file(id);
      saveFile(job ? JSON.stringify(job) : text, fileOf(job, id));
      const bare = cut || job && Object.values(job.forms).some(({ names, given }) => Object.keys(names).some((path) => !given[path]));
      this.hooks.tell(bare ? 'job.exported.bare' : 'job.exported', bare);
    },
    share(id) {
      return this.link.share(id);
    },
    code(id) {
      return this.link.code(id);
    },
    async like(id) {
      const { job } = await this.jobs.file(id);
      if (await this.begun(this.jobs.begin(this.jobs.like(job)), 'job.like')) return;
      document.getElementById('job-vehicle').focus();
    },
    async archive(id) {
      const { job } = await this.jobs.file(id);
      if (id === this.jobs.job?.id && !job.archived) await this.acts.close.call(this);
      await this.jobs.archive(id, !job.archived);
    },
    async remove(id) {
      const open = id === this.jobs.job?.id;
      await this.jobs.remove(id);
      if (open) this.hooks.jobSwitched();
      this.hooks.tell('job.removed');
    },
    async back(id) {
      await this.jobs.bringBack(id);
      this.hooks.tell('job.back');
    },
  };

  // begun says how a new job began. It returns what went wrong.
  async begun(beginning, key) {
    const fault = await beginning;
    if (fault) this.hooks.tell(this.inJob.wordsFor(fault), true);
    else this.switched(key);
    return fault;
  }

  switched(key) {
    this.store.remove(LAST);
    this.store.remove(PLACE);
    this.hooks.jobSwitched();
    this.hooks.tell(key);
  }

  // go shows a place, and waits until it is shown.
  async go(hash) {
    if (location.hash === hash || (hash === '#/' && location.hash === '')) return this.hooks.place();
    const shown = new Promise((resolve) => addEventListener('hashchange', resolve, { once: true }));
    location.hash = hash;
    await shown;
  }

  // open opens a job that is here. It returns whether it could.
  async open(id) {
    if (id !== this.jobs.job?.id) {
      this.hooks.leave();
      const fault = await this.jobs.open(id);
      if (fault) {
        this.hooks.tell(this.inJob.wordsFor(fault), true);
        return false;
      }
      this.switched('job.opened');
    }
    await this.go('#/');
    return true;
  }

  // ---- files and links

  // take opens a file as a job beside those that are here.
  async take(file) {
    const { core, ask, tell, say, locale } = this.hooks;
    if (!file) return;
    if (file.size > MOST_BYTES) return tell('job.import.large', true);
    const text = await file.text();
    const read = ask(() => core().jobRead(text, document.documentElement.lang, locale));
    if (!read) return;
    if (read.fault) return say(read.text, `job.import.${read.fault}`);
    await this.keepBeside(read.job, 'import');
  }

  // openLink opens the job of a link, given as the link's query. Two links that come at once are opened one after the other.
  openLink(query) {
    this.linked = this.linked.then(async () => {
      const job = await this.link.opened(query);
      if (job) await this.keepBeside(job, 'link');
    });
    return this.linked;
  }

  // keepBeside keeps a job that came from elsewhere beside those that are here, and opens it. What is said of it begins with job.WAY.
  async keepBeside(job, way) {
    const { tell } = this.hooks;
    try {
      const { id, how } = await this.jobs.add(job);
      if (await this.open(id)) tell(`job.${way}.${how || 'new'}`, true);
    } catch (e) {
      const isFull = e?.name === 'QuotaExceededError';
      // A browser that keeps nothing still has the job while this window is open.
      if (isFull || (await this.jobs.hold(job))) tell(`job.import.${isFull ? 'full' : 'forbidden'}`, true);
      else {
        this.switched('job.import.held');
        await this.go('#/');
      }
    }
    this.refresh();
  }
}
