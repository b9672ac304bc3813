// Times: a request has them in UTC (2026-11-30T08:00Z), a reader enters and reads them by the clock on the wall.
import { onTheClock } from './job.js';
import { Picker } from './picker.js';

const TIME = /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d)?Z$/;

// told writes a time for a reader, with how far that clock is ahead of UTC: 2026-11-30 09:00 UTC+01:00. Any other text stays as it is.
export function told(text) {
  if (!TIME.test(text)) return text;
  const [, day, time, sign, ahead] = /^(.+)T(\d\d:\d\d).*([+-])(\d\d:\d\d)$/.exec(onTheClock(text)) ?? [];
  if (!day) return text;
  return `${day} ${time} UTC${ahead === '00:00' ? '' : (sign === '-' ? '\u2212' : '+') + ahead}`;
}

// A Clock takes the place of a field's input: its value is a time in UTC, or the text that a link has in place of one.
export class Clock extends Picker {
  constructor(picker) {
    super(picker);
    this.held = { text: '', shown: '' }; // a time that was put in stays to the letter: an hour comes twice when clocks are put back
    picker.addEventListener('input', () => (this.held.text = ''));
  }

  get value() {
    const shown = this.picker.value;
    if (shown === this.held.shown && this.held.text !== '') return this.held.text;
    const at = new Date(shown);
    return Number.isNaN(at.getTime()) ? '' : `${at.toISOString().slice(0, 16)}Z`;
  }

  set value(text) {
    this.picker.value = TIME.test(text) ? onTheClock(text).slice(0, 16) : '';
    this.held = { text, shown: this.picker.value };
  }
}
