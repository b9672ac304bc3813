// The slider beside a number: where it stands for a number, and the number for where it stands.
const PLACES = 100; // of a slider that runs by equal ratios, to a decade
const FIGURES = 3; // of the number that such a one gives

export class Slide {
  // number(value, options) writes a number as the reader does.
  constructor(range, number) {
    this.range = range;
    this.number = number;
    this.ratio = 'ratio' in range.dataset;
    this.runs = JSON.parse(range.dataset.runs);
  }

  // use lays the slider out in a unit; in one that it has no run in, it is away.
  use(unit) {
    if (unit === this.unit) return;
    this.unit = unit;
    this.run = this.runs[unit];
    this.wrote = undefined;
    this.range.hidden = !this.run;
    if (!this.run) return;
    const { from, to, step } = this.run;
    Object.assign(this.range, this.ratio ? { min: 0, max: Math.round(PLACES * Math.log10(to / from)), step: 1 } : { min: from, max: to, step });
    this.decimals = 0;
    while (!this.ratio && this.decimals < 9 && Math.abs(step * 10 ** this.decimals - Math.round(step * 10 ** this.decimals)) > 1e-6) this.decimals++;
  }

  // text is the number for where the slider stands.
  text() {
    const at = Number(this.range.value);
    if (!this.ratio) return this.number(at, { minimumFractionDigits: this.decimals, maximumFractionDigits: this.decimals });
    const { from, to } = this.run;
    return this.figures(from * (to / from) ** (at / Number(this.range.max)));
  }

  figures(value) {
    return this.number(value, { minimumSignificantDigits: FIGURES, maximumSignificantDigits: FIGURES });
  }

  // start is the number that holds while nothing is entered, "" for none.
  start() {
    const start = this.run?.start;
    return start === undefined || start === null ? '' : this.number(start, { maximumSignificantDigits: 12 });
  }

  // write gives the text for where the reader has moved the slider.
  write() {
    this.wrote = this.text();
    return this.wrote;
  }

  // stand puts the slider where it belongs: for a text beside it, that was read as a value of the contract's unit; undefined:
  // not read. A slider that the text came from stays where it is. sign is the unit as it is read, unset what is said of an
  // empty field.
  stand(text, value, sign, unset) {
    if (!this.run) return;
    const { from, to, start, times, plus } = this.run;
    const empty = text.trim() === '';
    if (empty || (text !== this.wrote && value !== undefined)) {
      const at = empty ? start : value * times + plus;
      if (at === null) this.move((Number(this.range.min) + Number(this.range.max)) / 2);
      else this.move(this.ratio ? Number(this.range.max) * (at > from ? Math.log(at / from) / Math.log(to / from) : 0) : at);
      this.wrote = undefined;
    }
    this.tell(empty ? [this.start(), sign, unset] : [text.trim(), /[\d.,]$/.test(text.trim()) ? sign : ''], empty);
  }

  move(to) {
    if (Number(this.range.value) !== to) this.range.value = to;
  }

  // tell says to a screen reader what the slider stands for, and fills it up to there.
  tell(parts, empty) {
    const said = (empty && parts[0] === '' ? parts.slice(2) : parts).filter(Boolean).join(' ');
    if (this.range.ariaValueText !== said) this.range.ariaValueText = said;
    this.range.classList.toggle('unset', empty);
    const { min, max, value } = this.range;
    this.range.style.setProperty('--at', ((value - min) / (max - min)).toFixed(4));
  }
}
