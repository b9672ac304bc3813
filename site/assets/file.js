// A field that holds the text of a file that is picked, dropped or pasted. The text goes into the form and nowhere else.
import { Picker } from './picker.js';

const MOST = 2 << 20; // bytes of a file that is read as a whole
const ENOUGH = (1 << 20) + 1; // bytes of a larger one: the core then says that it is too large

// A FileText takes the place of a field's input: it has a value like one, and the file's name.
export class FileText extends Picker {
  constructor(element, locale) {
    super(element.querySelector('input[type="file"]'));
    this.element = element;
    this.locale = locale;
    this.text = '';
    this.name = '';
  }

  get value() {
    return this.text;
  }

  set value(text) {
    this.set(text, '');
  }

  // set holds a text and its name. A text without a name was pasted, or came with a link.
  set(text, name) {
    this.text = text;
    this.name = text === '' ? '' : name;
    this.element.querySelector('.file').hidden = text === '';
    const shown = this.element.querySelector('.file-name');
    shown.textContent = this.name || shown.dataset.unnamed;
    this.element.querySelector('.file-size').textContent = text === '' ? '' : this.size();
    this.element.querySelector('.paste').value = '';
    this.picker.value = '';
  }

  size() {
    const bytes = new Blob([this.text]).size;
    const [unit, of] = [['byte', 1], ['kilobyte', 1e3], ['megabyte', 1e6]].findLast(([, of]) => bytes >= of);
    const style = { style: 'unit', unit, maximumSignificantDigits: 3, numberingSystem: 'latn' };
    const size = new Intl.NumberFormat(this.locale, style).format(bytes / of);
    return bytes === ENOUGH ? `> ${size}` : size;
  }
}

// readFile reads a file's text in the encoding that its first bytes name, or else in UTF-8, or else in windows-1252.
async function readFile(file) {
  const whole = file.size <= MOST;
  const bytes = new Uint8Array(await (whole ? file : file.slice(0, ENOUGH)).arrayBuffer());
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder('utf-16le').decode(bytes);
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return new TextDecoder('utf-16be').decode(bytes);
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes, { stream: !whole });
  } catch {
    return new TextDecoder('windows-1252').decode(bytes);
  }
}

// takeFiles takes a file or a text for a form while the form is shown: dropped anywhere on the page, or pasted.
export function takeFiles(form) {
  const { section, fields } = form;
  const target = (e) => fields.at(e.target.closest?.('.f-file')?.dataset.path) ?? fields.files()[0];
  const dropping = (on) => section.classList.toggle('dropping', on);
  const on = (name, act) =>
    document.addEventListener(name, (e) => !section.hidden && e.dataTransfer.types.includes('Files') && act(e));
  for (const name of ['dragenter', 'dragover']) {
    on(name, (e) => {
      e.preventDefault();
      e.dataTransfer.dropEffect = 'copy';
      dropping(true);
    });
  }
  on('dragleave', (e) => e.relatedTarget ?? dropping(false));
  on('drop', (e) => {
    e.preventDefault();
    dropping(false);
    take(form, target(e), e.dataTransfer.files[0]);
  });
  document.addEventListener('paste', (e) => {
    if (section.hidden || e.target.closest?.('input, textarea:not(.paste)')) return;
    const [file] = e.clipboardData.files;
    const text = e.clipboardData.getData('text/plain');
    if (!file && !text) return;
    e.preventDefault();
    take(form, target(e), file ?? text);
  });
}

const turns = new WeakMap(); // by form: the turn of what was taken last

// take puts the text of a file, or a text, into a field.
export async function take(form, field, from) {
  if (!from) return;
  const turn = {};
  turns.set(form, turn);
  let text = from;
  try {
    if (from instanceof File) text = await readFile(from);
  } catch {
    return form.hooks.tell('file.unread');
  }
  if (turns.get(form) !== turn) return; // another one came in the meantime
  if (text === '') return form.hooks.tell('file.empty');
  putFile(form, field.path, text, from.name ?? '');
  form.settle();
  // If something is wrong with it, that is shown beside the field, and no good news covers it.
  if (!form.fields.at(field.path).element.classList.contains('wrong')) form.hooks.tell('file.taken');
}

// putFile puts a text and its name into a field, as one step of undo.
export function putFile(form, path, text, name) {
  form.settle();
  form.step();
  const { input, element } = form.fields.at(path);
  input.set(text, name);
  element.classList.add('touched');
  form.changed();
}
