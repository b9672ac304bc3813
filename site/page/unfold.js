// Unfolds what site/fold has folded, as much of it as has come: functions of the module, written as tokens that stand for templates with
// holes. What the holes are says site/fold/templates.go, in the same order, and which streams there are streams.go beside it. The service
// worker has these lines too.
const HOLE = 0xe0;
const [REST, HEADS, TOKENS] = [0, 1, 2]; // numbers of streams
const [, TIMES_U, TIMES_S, CALLEE, BACK, UNWIND, FRAME, AGAIN, JUMP, LOOP, RESUME] = Array.from({ length: 11 }, (_, i) => HOLE + i);
const [OPEN, SHUT, ONE, TWO, MORE, NEAR, FOUR, EIGHT, TABLE, START, SINGLE] = Array.from({ length: 11 }, (_, i) => HOLE + 11 + i);
const HOLES = SINGLE + 1;
const LAST = 0xff; // the token after a function's last
const [AS_IT_IS, IN_PARTS, WITH_LOOP, UNWINDS] = [8, 4, 2, 1];
const FIRST_ADDRESS = 0x1000;
const [FIXED, PCDATA, FUNCDATA] = [11, 7, 10]; // words of a record in the table of functions: how many, and which say how many more
const STACK = 4; // the word with the offset of the table of stack depths
const DIFFERENT = 3;

// powersOfTen are the first 128 bits of 10^-348 to 10^347, of each the upper half, then the lower: see site/fold/powers.go.
function powersOfTen() {
  const table = new DataView(new ArrayBuffer(16 * 696));
  for (let at = 0; at < table.byteLength; at += 16) {
    const e = at / 16 - 348;
    const power = 10n ** BigInt(Math.abs(e));
    const bits = BigInt(power.toString(2).length);
    const first = e < 0 ? (1n << (bits + 127n)) / power : (power << 128n) >> bits;
    [8, 12, 0, 4].forEach((place, i) => table.setUint32(at + place, Number((first >> BigInt(32 * i)) & 0xffffffffn), true));
  }
  return new Uint8Array(table.buffer);
}

export class Unfolder {
  // give(bytes) is called with what comes out.
  constructor(give) {
    this.give = give;
    this.templates = null;
    this.streams = []; // {bytes, at}: what has come of each, and where it is read
    this.rest = null;
    this.from = null; // the stream that is read for a hole
    this.size = 0; // of what is unfolded
    this.out = null;
    this.to = 0;
    this.code = null; // of the function that is being unfolded
    this.n = 0;
    this.left = 0; // bytes before the first function that have not come
    this.functions = 0;
    this.column = 0; // bytes that say what tables of stack depths there are
    this.done = 0;
    this.extents = []; // of each function: its frame, and how many numbers its parts take, but for the last
    this.offsets = null; // of each function's table of stack depths
  }

  // push unfolds what has come: of each stream the bytes so far, in which are ready functions; all says that they are all.
  push(streams, ready, all) {
    streams.forEach((bytes, i) => ((this.streams[i] ??= { bytes, at: 0 }).bytes = bytes));
    [this.rest] = this.streams;
    const from = this.to;
    if (!this.templates) this.begin();
    this.copy(this.left);
    while (this.left === 0 && this.done < Math.min(ready, this.functions)) this.aFunction();
    if (this.done === this.functions) this.after(all);
    const wrong = this.streams.some(({ bytes, at }) => at > bytes.length) || this.to > this.size || (all && this.to !== this.size);
    if (wrong) throw new Error('this is not folded as it should be');
    if (this.to > from) this.give(this.out.subarray(from, this.to));
  }

  // after unfolds what comes after the functions.
  after(all) {
    const { rest } = this;
    this.from = rest;
    if (this.column > 0) {
      if (!all && rest.at + this.column > rest.bytes.length) return;
      this.stacks();
    }
    if (this.records > 0) {
      this.copy(this.recordsAt - this.to);
      if (this.to < this.recordsAt || (!all && rest.at + this.columns > rest.bytes.length)) return;
      this.table();
    }
    this.copy(this.size - this.to);
  }

  // copy copies bytes that are as they should be, but for slopes, where they are differences to the bytes some places before, and for
  // pieces, which follow from something else.
  copy(most) {
    const { out, to, rest } = this;
    const n = Math.min(most, rest.bytes.length - rest.at);
    if (n <= 0) return;
    out.set(rest.bytes.subarray(rest.at, rest.at + n), to);
    rest.at += n;
    this.to += n;
    for (const [from, bytes] of this.pieces) {
      for (let i = Math.max(from, to); i < from + bytes.length && i < this.to; i++) out[i] = bytes[i - from];
    }
    for (const [from, until, places] of this.slopes) {
      for (let i = Math.max(from, to); i < until && i < this.to; i++) out[i] += out[i - places];
    }
    if (this.done === 0) this.left -= n;
  }

  begin() {
    const { rest } = this;
    const { bytes } = rest;
    this.from = rest;
    const some = (n) => bytes.slice(rest.at, (rest.at += n));
    this.templates = Array.from({ length: 256 }, () => {
      const n = bytes[rest.at++];
      return [some(n), some(n)]; // and the stream of each of its holes
    });
    this.size = this.number();
    this.code = new Uint8Array(this.number());
    this.functions = this.number();
    this.left = this.number();
    this.heads = Array.from({ length: bytes[rest.at++] + 1 }, () => {
      const from = rest.at++;
      for (let n = this.number(); n > 0; n--) {
        this.number();
        rest.at++;
      }
      return bytes.slice(from, rest.at);
    });
    this.records = this.number();
    if (this.records > 0) [this.recordsAt, this.columns, this.column] = [this.number(), this.number(), this.number()];
    if (this.column > 0) [this.stacksAt, this.firstStack] = [this.number(), this.number()];
    const powersAt = this.number();
    this.pieces = powersAt > 0 ? [[powersAt, powersOfTen()]] : [];
    this.slopes = Array.from({ length: this.number() }, () => [this.number(), this.number(), this.number()]);
    this.out = new Uint8Array(this.size);
  }

  number() {
    const { from } = this;
    let [n, shift, b] = [0, 0, 0x80];
    for (; b >= 0x80; shift += 7) {
      b = from.bytes[from.at++];
      n |= (b & 0x7f) << shift;
    }
    return n;
  }

  zigzag() {
    const n = this.number();
    return (n >>> 1) ^ -(n & 1);
  }

  unsigned(n) {
    for (; n >= 0x80; n >>= 7) this.code[this.n++] = n | 0x80;
    this.code[this.n++] = n;
  }

  signed(n) {
    for (; n >= 0x40 || n < -0x40; n >>= 7) this.code[this.n++] = n | 0x80;
    this.code[this.n++] = n & 0x7f;
  }

  // same copies bytes of a function.
  same(n) {
    const { from } = this;
    for (let i = 0; i < n; i++) this.code[this.n++] = from.bytes[from.at++];
  }

  sameNumber() {
    const { from } = this;
    while (from.bytes[from.at] >= 0x80) this.code[this.n++] = from.bytes[from.at++];
    this.code[this.n++] = from.bytes[from.at++];
  }

  // aFunction unfolds the next function: its code first, as only that tells how many numbers each part takes.
  aFunction() {
    const heads = (this.from = this.streams[HEADS]);
    const [head, ...before] = this.heads[heads.bytes[heads.at++]];
    this.n = 0;
    this.parts = this.number();
    this.outer = (head & UNWINDS) + ((head & WITH_LOOP) >> 1);
    this.self = (FIRST_ADDRESS + this.done) << 16;
    [this.part, this.address, this.takes, this.opened, this.frame, this.first] = [0, 0, 0, 0, 0, 0];
    this.taken = [];
    this.tokens();
    this.extents.push([this.first, this.address]);
    if (head === AS_IT_IS) {
      this.end([]);
      return;
    }
    before.push(0x23, 0, 0x21, 1);
    if (head & IN_PARTS) {
      this.opening(head, before);
      if (head & WITH_LOOP) this.code[this.n++] = 0x0b;
      this.code[this.n++] = 0;
      if (head & UNWINDS) for (const b of [0x0b, 0x41, 1]) this.code[this.n++] = b;
    }
    this.code[this.n++] = 0x0b;
    this.end(before);
  }

  tokens() {
    const { code, templates, streams } = this;
    const tokens = streams[TOKENS];
    for (let token = tokens.bytes[tokens.at++]; token !== LAST; token = tokens.bytes[tokens.at++]) {
      const [template, numbers] = templates[token];
      for (let i = 0; i < template.length; i++) {
        const b = template[i];
        if (b < HOLE || b >= HOLES) code[this.n++] = b;
        else {
          this.from = streams[numbers[i]];
          this.hole(b);
        }
      }
      if (this.n >= code.length) throw new Error('this is not folded as it should be');
    }
  }

  // opening writes the blocks around the parts of a function, and the table by which a part is gone to.
  opening(head, out) {
    if (head & UNWINDS) out.push(0x02, 0x40);
    if (head & WITH_LOOP) out.push(0x03, 0x40);
    for (let i = 0; i <= this.parts; i++) out.push(0x02, 0x40);
    const number = (n) => {
      for (; n >= 0x80; n >>= 7) out.push((n & 0x7f) | 0x80);
      out.push(n);
    };
    out.push(0x20, 0, 0x0e);
    number(this.address);
    this.taken.forEach((takes, part) => {
      for (let i = 0; i < takes; i++) number(part);
    });
    number(this.parts);
    out.push(0x0b);
  }

  // end writes a function's size, what stands before its code, and its code.
  end(before) {
    for (let n = before.length + this.n, more = true; more; n >>= 7) {
      more = n >= 0x80;
      this.out[this.to++] = more ? n | 0x80 : n;
    }
    this.out.set(before, this.to);
    this.to += before.length;
    this.out.set(this.code.subarray(0, this.n), this.to);
    this.to += this.n;
    this.done++;
  }

  hole(h) {
    switch (h) {
      case HOLE: return this.sameNumber();
      case TIMES_U: return this.unsigned(8 * this.number());
      case TIMES_S: return this.signed(8 * this.number());
      case CALLEE: return this.signed((this.from.bytes[this.from.at++] << 8) | this.from.bytes[this.from.at++]);
      case BACK: return this.signed(this.self + this.address + this.takes);
      case UNWIND: return this.unsigned(this.outer + this.parts - this.part + this.opened - 1);
      case FRAME: this.frame = 8 * this.number(); this.first ||= this.frame; return this.signed(this.frame);
      case AGAIN: return this.signed(this.frame);
      case JUMP: return this.signed(this.address + this.zigzag());
      case LOOP: return this.unsigned(this.parts - this.part + this.opened);
      case RESUME: this.taken.push(this.takes); this.part++; this.address += this.takes; return undefined;
      case OPEN: this.opened++; return undefined;
      case SHUT: this.opened--; return undefined;
      case ONE: this.takes = 1; return undefined;
      case TWO: this.takes = 2; return undefined;
      case MORE: this.takes = this.number(); return undefined;
      case NEAR: return this.signed(this.self + this.address + this.zigzag());
      case FOUR: return this.same(4);
      case EIGHT: return this.same(8);
      case START: return this.signed(this.self);
      case TABLE: return this.list();
      case SINGLE: return this.same(1);
    }
    return undefined;
  }

  // list writes numbers, of which each was read with 1 added, after their count but one.
  list() {
    const all = [];
    for (let n = this.number(); n > 0; n = this.number()) all.push(n - 1);
    this.unsigned(all.length - 1);
    all.forEach((n) => this.unsigned(n));
  }

  // stacks makes the tables of stack depths, and their offsets: see site/fold/stacks.go.
  stacks() {
    const known = new Map();
    const tables = [];
    const put = (n) => {
      for (; n >= 0x80; n >>>= 7) tables.push((n & 0x7f) | 0x80);
      tables.push(n);
    };
    this.offsets = this.extents.map(([frame, numbers]) => {
      const last = this.number();
      if (last === 0) return 0;
      if (last < DIFFERENT) numbers += last;
      else [frame, numbers] = [8 * this.number(), this.number()];
      const key = `${frame} ${numbers}`;
      if (known.has(key)) return known.get(key);
      const offset = this.firstStack + tables.length;
      known.set(key, offset);
      for (const n of frame ? [2, 1, 2 * frame, numbers - 1, 0] : [2, numbers, 0]) put(n);
      return offset;
    });
    this.pieces.push([this.stacksAt, tables]);
    this.column = 0;
  }

  // table unfolds the table of functions: see site/fold/table.go.
  table() {
    const rows = Array.from({ length: this.records }, () => []);
    for (let n = 0; n < FIXED; n++) {
      if (n === STACK && this.offsets) rows.forEach((row, i) => row.push(this.offsets[i]));
      else this.words(rows, (word) => word);
    }
    const itself = (word) => word;
    const behind = this.offsets ? (word, before) => this.behind(word, before) : itself;
    for (const [count, next] of [[(row) => row[PCDATA], behind], [(row) => row[FUNCDATA] >>> 24, itself]]) {
      for (let n = 0, some = rows; ; n++) {
        some = some.filter((row) => n < count(row));
        if (some.length === 0) break;
        this.words(some, next);
      }
    }
    const view = new DataView(this.out.buffer, this.to);
    let index = 0;
    let at = 8 * (rows.length + 1);
    for (const row of rows) {
      at = (at + 7) & ~7;
      view.setInt32(index, row[0], true);
      view.setInt32(index + 4, at, true);
      index += 8;
      for (const word of row) {
        view.setInt32(at, word, true);
        at += 4;
      }
    }
    view.setInt32(index, rows[0][0] + rows.length, true);
    this.to += at;
    this.records = 0;
  }

  // behind returns the offset behind a table by program counter, or last if it is none: see site/fold/stacks.go.
  behind(offset, last) {
    const { out } = this;
    let at = this.stacksAt + offset - this.firstStack;
    if (offset < this.firstStack) return last;
    const skip = () => {
      while (out[at] >= 0x80) at++;
      at++;
    };
    for (let first = true; at < this.to; first = false) {
      const done = !first && out[at] === 0;
      skip();
      if (done) return at - this.stacksAt + this.firstStack;
      skip();
    }
    return last;
  }

  // words gives each row one word more: one that was there before by its number, a new one by what it differs from the new one before, or
  // from what follows from that.
  words(rows, next) {
    const numbers = rows.map(() => this.number());
    const known = [];
    let last = 0;
    rows.forEach((row, i) => {
      if (numbers[i] === 0) {
        const word = (last + this.zigzag()) | 0;
        known.push(word);
        row.push(word);
        last = next(word, last);
      } else row.push(known[numbers[i] - 1]);
    });
  }
}
