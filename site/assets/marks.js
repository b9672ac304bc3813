// A teacher's table: what a class handed in, found in a text that is pasted and marked by the core from the sheet that the form sets out.
// The text and the table are held in the page alone: neither is kept on the device, nor in a link.
import { paint } from './paint.js';
import { fileName, saveFile } from './share.js';

const PAUSE = 250; // milliseconds without typing

export class Marks {
  constructor(form) {
    this.form = form;
    this.part = form.section.querySelector('.marking');
    this.text = this.part.querySelector('textarea');
    this.sheet = '';
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

  // settle marks now what was put off: marking a class takes a second.
  settle() {
    if (this.timer !== undefined) this.show();
  }

  // show marks what was pasted, and shows the table.
  show() {
    clearTimeout(this.timer);
    this.timer = undefined;
    const { hooks } = this.form;
    const core = hooks.core();
    if (!core || !this.part.open) return;
    const pasted = this.text.value;
    const { lang } = document.documentElement;
    const reply = pasted.trim() === '' ? {} : hooks.ask(() => core.mark(this.sheet, pasted, lang, hooks.locale));
    if (!reply) return;
    this.reply = reply;
    const faults = (reply.errors ?? []).map(({ message, hint }) => ['p', { class: 'note' }, [message, hint].filter(Boolean).join(' ')]);
    const shown = reply.body ? [reply.body] : faults;
    this.part.querySelector('.marked').replaceChildren(...shown.map((tree) => paint(tree)));
    this.part.querySelector('.bar').hidden = !(reply.table?.length > 1);
  }

  async copy() {
    this.settle();
    try {
      await navigator.clipboard.writeText(this.reply.tsv);
      this.form.hooks.tell('table.copied');
    } catch {
      this.form.hooks.tell('table.uncopied', true);
    }
  }

  save() {
    this.settle();
    const name = fileName(this.form.line) || this.form.tool;
    saveFile(this.reply.csv, `${name}.csv`, 'text/csv;charset=utf-8');
    this.form.hooks.tell('table.saved');
  }
}
