// A teacher's table: what a class handed in, found in a text that is pasted and marked by the core from the sheet that the form sets out.
// The text and the table are held in the page alone: neither is kept on the device, nor in a link.
import { paint, setText } from './paint.js';
import { fileName, saveFile } from './share.js';

const PAUSE = 250; // milliseconds without typing
const FEW = '8'; // hand-ins that are marked at a time: each takes some milliseconds

export class Marks {
  constructor(form) {
    this.form = form;
    this.part = form.section.querySelector('.marking');
    this.text = this.part.querySelector('textarea');
    this.progress = this.part.querySelector('progress');
    this.sheet = '';
    this.turn = 0; // of what is marked: a later one takes its place
    this.text.addEventListener('input', () => this.soon());
    this.part.addEventListener('toggle', () => this.part.open && this.show());
  }

  // sheetIs says which sheet the form sets out now.
  sheetIs(link) {
    if (link === this.sheet) return;
    this.sheet = link;
    this.soon();
  }

  soon() {
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.show(), PAUSE);
  }

  // settled waits until what was pasted is marked.
  async settled() {
    if (this.timer !== undefined) this.show();
    await this.marked;
  }

  // show marks what was pasted, and shows the table.
  show() {
    clearTimeout(this.timer);
    this.timer = undefined;
    if (this.form.hooks.core() && this.part.open) this.marked = this.mark((this.turn += 1));
  }

  // mark marks a few hand-ins at a time, so that the page stays at hand, unless there is something new to mark meanwhile.
  async mark(turn) {
    const { ask, core, locale } = this.form.hooks;
    const { lang } = document.documentElement;
    const pasted = this.text.value;
    let reply = pasted.trim() === '' ? {} : ask(() => core().mark(this.sheet, pasted, lang, locale, 'begin'));
    while (reply?.of !== undefined) {
      this.progress.hidden = false;
      this.progress.max = Math.max(1, reply.of);
      this.progress.value = reply.of - reply.left;
      await new Promise((resolve) => setTimeout(resolve));
      if (turn !== this.turn) return;
      reply = core() && ask(() => core().markNext(FEW, lang, locale));
    }
    this.progress.hidden = true;
    if (reply) this.tell(reply);
  }

  // tell shows a table, or why there is none.
  tell(reply) {
    this.reply = reply;
    const find = (selector) => this.part.querySelector(selector);
    const faults = (reply.errors ?? []).map(({ message, hint }) => [message, hint].filter(Boolean).join(' '));
    setText(find('.marked-said'), reply.said ?? faults.join(' '));
    find('.marked-said').classList.toggle('note', faults.length > 0);
    find('.marked').hidden = !reply.body;
    find('.marked').replaceChildren(...(reply.body ? [paint(reply.body)] : []));
    find('.bar').hidden = !reply.body;
  }

  async copy() {
    await this.settled();
    try {
      await navigator.clipboard.writeText(this.reply.tsv);
      this.form.hooks.tell('table.copied');
    } catch {
      this.form.hooks.tell('table.uncopied', true);
    }
  }

  async save() {
    await this.settled();
    const name = fileName(this.form.line) || this.form.tool;
    saveFile(this.reply.csv, `${name}.csv`, 'text/csv;charset=utf-8');
    this.form.hooks.tell('table.saved');
  }
}
