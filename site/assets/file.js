// A field that holds a file's text: picked, dropped or pasted. The text goes nowhere but into the form.
const MOST = 2 << 20; // bytes of a file that is read as a whole
const ENOUGH = (1 << 20) + 1; // of a larger one: enough to be told that it is too large

// FileText stands for a field's input: it has a value, and a name beside it.
export class FileText {
  constructor(element, locale) {
    this.element = element;
    this.locale = locale;
    this.picker = element.querySelector('input[type="file"]');
    this.text = '';
    this.name = '';
  }

  get value() {
    return this.text;
  }

  set value(text) {
    this.set(text, '');
  }

  // set holds a text under a name; a text without one was pasted or came with a link.
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
    const size = new Intl.NumberFormat(this.locale, { style: 'unit', unit, maximumSignificantDigits: 3, numberingSystem: 'latn' }).format(bytes / of);
    return bytes === ENOUGH ? `> ${size}` : size;
  }

  get ariaInvalid() {
    return this.picker.ariaInvalid;
  }

  set ariaInvalid(text) {
    this.picker.ariaInvalid = text;
  }

  focus() {
    this.picker.focus();
  }
}

// readFile reads a file's text: in the encoding that its first bytes name, in UTF-8, or as Windows writes western text.
export async function readFile(file) {
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
