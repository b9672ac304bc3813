// What the printed record says of where its job is: its link as a text and as a code, where a camera can read that; else the name of
// its file. It is made ready while the record is on the screen, since printing waits for nothing: what is not ready by then is the link.
import { fileOf } from './joblink.js';
import { addressOf } from './scope.js';
import { showCode } from './share.js';

const PAUSE = 400; // milliseconds without a change

export class PaperLink {
  // link makes links of jobs (see joblink.js); hooks: word, words, core(), ask, locale.
  constructor(jobs, link, hooks) {
    Object.assign(this, { jobs, link, hooks });
    addEventListener('beforeprint', () => {
      const figure = this.figureOf(this.form);
      if (figure?.hidden && jobs.holds(this.form)) this.showFile(figure, {});
    });
  }

  figureOf(form) {
    return form?.section.querySelector('.paper-link');
  }

  // soon makes what is printed with a form ready once nothing has changed for a moment; until then no link is printed, as it would be of
  // what was.
  soon(form) {
    this.form = form;
    const figure = this.figureOf(form);
    if (!figure) return;
    figure.hidden = true;
    clearTimeout(this.pause);
    this.pause = setTimeout(() => this.now(form), PAUSE);
  }

  // now makes it ready at once.
  async now(form) {
    const figure = this.figureOf(form);
    if (!figure) return;
    clearTimeout(this.pause);
    const turn = (this.turn = Symbol('turn'));
    const inside = this.jobs.holds(form);
    const { id } = this.jobs.job ?? {};
    const made = inside ? await this.link.made(id).catch(() => ({})) : { url: form.link && addressOf(form.link) };
    if (turn !== this.turn) return; // something has changed since
    const drawn = made.url && this.hooks.ask(() => this.hooks.core().code(made.url));
    if (drawn?.path) this.show(figure, made.url, drawn);
    else if (inside) this.showFile(figure, made);
  }

  show(figure, url, drawn) {
    const { words } = this.hooks;
    figure.querySelector('.address').textContent = '';
    showCode(figure, url, drawn, words['code.label']);
    figure.querySelector('.of').textContent = words['job.paper.link'];
  }

  // showFile says where a job is that is too long for a code.
  showFile(figure, { url, job = this.jobs.job }) {
    const { word, locale } = this.hooks;
    const when = new Intl.DateTimeFormat(locale, { dateStyle: 'medium', timeStyle: 'short' }).format(new Date(job.changed));
    const text = [word('job.paper.file', fileOf(job, job.id), when), url && word('job.paper.long', url.length)];
    figure.querySelector('.picture').replaceChildren();
    figure.querySelector('.address').textContent = '';
    figure.querySelector('.of').textContent = text.filter(Boolean).join(' ');
    figure.hidden = false;
  }
}
