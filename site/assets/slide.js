// The slider beside a number: where it stands for a number, and which number it stands for. Some sliders run by equal steps, others
// by equal ratios (data-ratio). Its run in each unit is in data-runs: see run in site/form.go.
const PLACES = 100; // from one power of ten to the next, on a slider by equal ratios
const FIGURES = 3; // significant figures of the number that such a slider gives

export class Slide {
  // number(value, options) writes a number as the reader does.
  constructor(range, number) {
    this.range = range;
    this.number = number;
    this.ratio = 'ratio' in range.dataset;
    this.runs = JSON.parse(range.dataset.runs);
  }

  // use lays the slider out in a unit. It is hidden in a unit that it has no run in.
  use(unit) {
    if (unit === this.unit) return;
    this.unit = unit;
    this.run = this.runs[unit];
    this.wrote = this.stood = this.began = undefined;
    this.range.hidden = !this.run;
    if (!this.run) return;
    const { from, to, step } = this.run;
    const places = Math.round(PLACES * Math.log10(to / from));
    Object.assign(this.range, this.ratio ? { min: 0, max: places, step: 1 } : { min: from, max: to, step });
    this.decimals = this.ratio ? 0 : decimalsOf(step);
  }

  // text returns the number that the slider stands for.
  text() {
    const at = Number(this.range.value);
    if (!this.ratio) return this.number(at, { minimumFractionDigits: this.decimals, maximumFractionDigits: this.decimals });
    const { from, to } = this.run;
    const value = from * (to / from) ** (at / Number(this.range.max));
    return this.number(value, { minimumSignificantDigits: FIGURES, maximumSignificantDigits: FIGURES });
  }

  // start returns the number that is taken while nothing is entered, "" for none.
  start() {
    const start = this.run?.start ?? null;
    this.began ??= start === null ? '' : this.number(start, { maximumSignificantDigits: 12 });
    return this.began;
  }

  // write returns the text for where the reader has moved the slider, and remembers that it came from there.
  write() {
    this.wrote = this.text();
    return this.wrote;
  }

  // stand puts the slider where it belongs for the text beside it. value is the number that the core read from the text, in the
  // contract's unit, or undefined if it could not be read. If the text came from the slider, that stays where it is. sign is the unit
  // as it is written for a reader, unset is said of an empty field.
  stand(text, value, sign, unset) {
    if (!this.run) return;
    const stood = () => [text, value, sign, unset, this.range.value].join('\0');
    if (this.stood === stood()) return;
    const { from, to, start, times, plus } = this.run;
    const empty = text.trim() === '';
    if (empty || (text !== this.wrote && value !== undefined)) {
      const at = empty ? start : value * times + plus;
      if (at === null) this.move((Number(this.range.min) + Number(this.range.max)) / 2);
      else this.move(this.ratio ? Number(this.range.max) * (at > from ? Math.log(at / from) / Math.log(to / from) : 0) : at);
      this.wrote = undefined;
    }
    this.tell(empty ? [this.start(), sign, unset] : [text.trim(), /[\d.,]$/.test(text.trim()) ? sign : ''], empty);
    this.stood = stood();
  }

  move(to) {
    if (Number(this.range.value) !== to) this.range.value = to;
  }

  // tell says to a screen reader which number the slider stands for, and fills the track up to there.
  tell(parts, empty) {
    const said = (empty && parts[0] === '' ? parts.slice(2) : parts).filter(Boolean).join(' ');
    if (this.range.ariaValueText !== said) this.range.ariaValueText = said;
    this.range.classList.toggle('unset', empty);
    const { min, max, value } = this.range;
    this.range.style.setProperty('--at', ((value - min) / (max - min)).toFixed(4));
  }
}

// decimalsOf returns how many decimals a step has.
function decimalsOf(step) {
  let decimals = 0;
  while (decimals < 9 && Math.abs(step * 10 ** decimals - Math.round(step * 10 ** decimals)) > 1e-6) decimals++;
  return decimals;
}
