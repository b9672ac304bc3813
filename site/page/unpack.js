// hashOf returns the hash of a file as stamp.go writes it. The page and the service worker compare with it.
export const hashOf = async (bytes) => {
  const sum = new Uint8Array(await crypto.subtle.digest('SHA-256', bytes));
  return `sha256-${btoa(String.fromCharCode(...sum))}`;
};

// Unpacks what site/pack has packed, as much of it as has come: the form that the program xz calls "lzma" (a header, then LZ77 under an
// adaptive binary range coder). The service worker has these lines too.
const [HEAD, MOST_STEP, PIECE] = [13, 32, 25_000]; // bytes of the header, the most that a step may need, and of a piece

export class Unpacker {
  constructor() {
    const probs = (n) => new Uint16Array(n).fill(1024);
    const lengths = () => ({ choice: probs(2), low: probs(16 << 3), mid: probs(16 << 3), high: probs(256) });
    this.input = new Uint8Array(0);
    this.at = 0; // in the input
    this.out = null;
    this.to = 0; // in the output
    this.coder = new Uint32Array([0xffffffff, 0]); // range and code: as numbers of an object they would be slow
    [this.literalBits, this.literalPlaces, this.places] = [0, 0, 0]; // what the header says
    this.state = 0;
    [this.rep0, this.rep1, this.rep2, this.rep3] = [0, 0, 0, 0]; // the last distances
    [this.isMatch, this.isLong] = [probs(12 << 4), probs(12 << 4)];
    [this.isRep, this.isRep0, this.isRep1, this.isRep2] = [probs(12), probs(12), probs(12), probs(12)];
    [this.slots, this.special, this.align] = [probs(4 << 6), probs(115), probs(16)];
    [this.matchLength, this.repLength] = [lengths(), lengths()];
    this.literal = null;
  }

  bit(table, i) {
    const { coder } = this;
    const prob = table[i];
    const bound = (coder[0] >>> 11) * prob;
    let result;
    if (coder[1] < bound) {
      coder[0] = bound;
      table[i] = prob + ((2048 - prob) >>> 5);
      result = 0;
    } else {
      coder[0] -= bound;
      coder[1] -= bound;
      table[i] = prob - (prob >>> 5);
      result = 1;
    }
    if (coder[0] < 0x1000000) this.more();
    return result;
  }

  more() {
    const { coder } = this;
    coder[0] <<= 8;
    coder[1] = (coder[1] << 8) | this.input[this.at++];
  }

  // What is in variables of the function itself is three times as quick as what functions share.
  tree(table, from, bits) {
    const { input, coder } = this;
    let [r, c, a, m] = [coder[0], coder[1] | 0, this.at, 1];
    for (let i = 0; i < bits; i++) {
      const prob = table[from + m];
      const bound = (r >>> 11) * prob;
      if (c >>> 0 < bound) {
        r = bound;
        table[from + m] = prob + ((2048 - prob) >>> 5);
        m <<= 1;
      } else {
        r -= bound;
        c = (c - bound) | 0;
        table[from + m] = prob - (prob >>> 5);
        m = (m << 1) | 1;
      }
      if (r < 0x1000000) {
        r = (r << 8) >>> 0;
        c = (c << 8) | input[a++];
      }
    }
    coder[0] = r;
    coder[1] = c;
    this.at = a;
    return m - (1 << bits);
  }

  // likeOther is a literal after a match: it is coded beside the byte at the last distance, as long as they are the same.
  likeOther(from, other) {
    const { input, coder, literal } = this;
    let [r, c, a, m, offset] = [coder[0], coder[1] | 0, this.at, 1, 0x100];
    while (m < 0x100) {
      other <<= 1;
      const i = from + offset + (other & offset) + m;
      const prob = literal[i];
      const bound = (r >>> 11) * prob;
      if (c >>> 0 < bound) {
        r = bound;
        literal[i] = prob + ((2048 - prob) >>> 5);
        m <<= 1;
        offset &= ~other;
      } else {
        r -= bound;
        c = (c - bound) | 0;
        literal[i] = prob - (prob >>> 5);
        m = (m << 1) | 1;
        offset &= other;
      }
      if (r < 0x1000000) {
        r = (r << 8) >>> 0;
        c = (c << 8) | input[a++];
      }
    }
    coder[0] = r;
    coder[1] = c;
    this.at = a;
    return m - 0x100;
  }

  reversed(table, from, bits) {
    let [m, sum] = [1, 0];
    for (let i = 0; i < bits; i++) {
      const b = this.bit(table, from + m);
      m = (m << 1) | b;
      sum |= b << i;
    }
    return sum;
  }

  direct(bits) {
    const { coder } = this;
    let sum = 0;
    for (let i = 0; i < bits; i++) {
      coder[0] >>>= 1;
      const b = coder[1] < coder[0] ? 0 : 1;
      if (b) coder[1] -= coder[0];
      sum = (sum << 1) | b;
      if (coder[0] < 0x1000000) this.more();
    }
    return sum;
  }

  length({ choice, low, mid, high }, place) {
    if (!this.bit(choice, 0)) return 2 + this.tree(low, place << 3, 3);
    if (!this.bit(choice, 1)) return 10 + this.tree(mid, place << 3, 3);
    return 18 + this.tree(high, 0, 8);
  }

  distance(n) {
    const slot = this.tree(this.slots, Math.min(n - 2, 3) << 6, 6);
    if (slot < 4) return slot;
    const bits = (slot >> 1) - 1;
    const base = (2 | (slot & 1)) << bits;
    if (slot < 14) return base + this.reversed(this.special, base - slot, bits);
    return base + (this.direct(bits - 4) << 4) + this.reversed(this.align, 0, 4);
  }

  aLiteral() {
    const before = this.to > 0 ? this.out[this.to - 1] : 0;
    const from = 0x300 * (((this.to & this.literalPlaces) << this.literalBits) + (before >> (8 - this.literalBits)));
    this.out[this.to] = this.state < 7 ? this.tree(this.literal, from, 8) : this.likeOther(from, this.out[this.to - this.rep0 - 1]);
    this.to++;
    this.state = this.state < 4 ? 0 : this.state < 10 ? this.state - 3 : this.state - 6;
  }

  // aStep unpacks a literal or a match.
  aStep() {
    const place = this.to & this.places;
    if (!this.bit(this.isMatch, (this.state << 4) + place)) return this.aLiteral();
    let n = 1;
    if (!this.bit(this.isRep, this.state)) {
      [this.rep3, this.rep2, this.rep1] = [this.rep2, this.rep1, this.rep0];
      n = this.length(this.matchLength, place);
      this.rep0 = this.distance(n);
      this.state = this.state < 7 ? 7 : 10;
    } else {
      n = this.again(place);
    }
    if (this.rep0 >= this.to || n > this.out.length - this.to) throw new Error('this is not packed as it should be');
    const { out } = this;
    let [from, i] = [this.to - this.rep0 - 1, this.to];
    this.to += n;
    while (i < this.to) out[i++] = out[from++];
  }

  // again chooses among the last distances, and returns the length.
  again(place) {
    if (!this.bit(this.isRep0, this.state)) {
      if (!this.bit(this.isLong, (this.state << 4) + place)) {
        this.state = this.state < 7 ? 9 : 11;
        return 1;
      }
    } else if (!this.bit(this.isRep1, this.state)) [this.rep0, this.rep1] = [this.rep1, this.rep0];
    else if (!this.bit(this.isRep2, this.state)) [this.rep0, this.rep1, this.rep2] = [this.rep2, this.rep0, this.rep1];
    else [this.rep0, this.rep1, this.rep2, this.rep3] = [this.rep3, this.rep0, this.rep1, this.rep2];
    this.state = this.state < 7 ? 8 : 11;
    return this.length(this.repLength, place);
  }

  begin() {
    const view = new DataView(this.input.buffer);
    const first = this.input[0];
    this.literalBits = first % 9;
    this.literalPlaces = (1 << (Math.floor(first / 9) % 5)) - 1;
    this.places = (1 << Math.floor(first / 45)) - 1;
    this.literal = new Uint16Array(0x300 << (this.literalBits + (Math.floor(first / 9) % 5))).fill(1024);
    if (first >= 225 || view.getUint32(9, true) !== 0) throw new Error('this is not packed as it should be');
    this.out = new Uint8Array(view.getUint32(5, true));
    this.coder[1] = view.getUint32(HEAD + 1);
    this.at = HEAD + 5;
  }

  // push unpacks what has come by now. The last bytes wait for more, as a step may need them; null says that all have come. It throws
  // if that was too little, or no such thing.
  push(bytes) {
    if (bytes) {
      const rest = this.input.subarray(this.at);
      this.input = new Uint8Array(rest.length + bytes.length);
      this.input.set(rest);
      this.input.set(bytes, rest.length);
      this.at = 0;
    }
    const until = this.input.length - (bytes ? MOST_STEP : 0);
    if (!this.out && until < HEAD + 5) {
      if (bytes) return;
      throw new Error('too little has come');
    }
    if (!this.out) this.begin();
    while (this.to < this.out.length && this.at <= until) this.aStep();
    if (!bytes && (this.to < this.out.length || this.at > this.input.length)) throw new Error('too little has come');
  }

  // unpacked returns what has come out.
  unpacked() {
    return this.out?.subarray(0, this.to) ?? new Uint8Array(0);
  }

  isDone() {
    return this.out !== null && this.to === this.out.length;
  }
}

// The module comes as streams that are packed each by itself, in pieces: see packed in site/fold/streams.go.
export class Streams {
  // unfolder.push(streams, ready, all) is called with what has come out.
  constructor(unfolder) {
    this.unfolder = unfolder;
    this.unpackers = null;
    this.at = 0; // in what is packed
    this.perGo = 0;
    this.ready = 0; // functions
  }

  // push unpacks and unfolds the bytes so far; all says that they are all.
  push(bytes, all) {
    for (let come = this.pieces(bytes); come; come = this.pieces(bytes)) {
      this.unpackers ??= come.map(() => new Unpacker());
      come.forEach(({ piece, isLast }, i) => {
        const one = this.unpackers[i];
        if (piece.length > 0) one.push(piece);
        if (isLast) one.push(null);
      });
      this.ready += this.perGo;
      const isDone = this.unpackers[0].isDone();
      this.unfolder.push(this.unpackers.map((one) => one.unpacked()), this.ready, isDone);
    }
    if (all && !this.unpackers?.every((one) => one.isDone())) throw new Error('too little has come');
  }

  // pieces returns what comes next of each stream, or null if not all of that is here.
  pieces(bytes) {
    let at = this.at;
    const number = () => {
      let [n, b] = [0, 0x80];
      for (let shift = 0; b >= 0x80; shift += 7) {
        b = bytes[at++];
        n |= (b & 0x7f) << shift;
      }
      return n;
    };
    if (!this.unpackers) [this.count, this.perGo] = [number(), number()];
    const sizes = Array.from({ length: this.count }, number);
    const come = sizes.map((size) => ({ piece: bytes.subarray(at, (at += size >>> 1)), isLast: (size & 1) === 1 }));
    if (at > bytes.length || come.length === 0) return null;
    this.at = at;
    return come;
  }
}
