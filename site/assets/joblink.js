// A job as a link, #/job?v=1&z=…&c=…: made, handed out, shown as a code for a camera, and opened.
//
// z is the job's document as JSON without what reading it fills in again, compressed as RFC 1951 has it (deflate) and written as base64url
// (RFC 4648); j is the same uncompressed, where a browser cannot compress. v is the version of the document, which the link's JSON
// leaves out. c is a sum of z or j, so that no figure changes on the way; a link without it opens too. A link once given opens for ever:
// see testdata/jobs/links.txt.
import { VERSION, nameOf } from './job.js';
import { addressOf } from './scope.js';
import { fileName, shareLink, showCode } from './share.js';

const MOST_OUT = 1 << 20; // bytes of a document: what core/job takes without photographs
const MOST_LINK = 16_000; // characters of a link that is handed out; many programs cut a longer one off (common practice)
const LONG = 2000; // characters of a text that goes along
const STEP = 512; // bytes that are unpacked at a time: at most half a MiB comes of them
const FORMAT = 'deflate-raw';

export class JobLink {
  // hooks: word, words, say, tell, said, core(), ask, locale.
  constructor(jobs, hooks) {
    Object.assign(this, { jobs, hooks });
    this.figure = document.getElementById('job-code');
  }

  // read asks the core for a document in its one form: {job}, or {fault, text}; null if the core cannot be asked.
  read(text) {
    const { ask, core, locale } = this.hooks;
    return ask(() => core().jobRead(text, document.documentElement.lang, locale));
  }

  // ---- handed out

  // made returns a job's link, {url, job, without}: without are the keys of what to say of what it leaves out. Without url the core refused
  // the job, and text says why.
  async made(id) {
    const { job, cut } = await this.jobs.file(id);
    const { bare, without } = forLink(job, cut);
    const read = this.read(JSON.stringify(bare));
    if (!read?.job) return { text: read?.text };
    return { url: addressOf(`#/job?v=${VERSION}&${await packed(JSON.stringify(lean(read.job)))}`), job, without };
  }

  // linkOf returns a job's link as made does; null if it is too long to hand out, which is said then.
  async linkOf(id) {
    const link = await this.made(id);
    if (!link.url) {
      if (link.text) this.hooks.say(link.text, 'job.link.unread');
      return null;
    }
    if (link.url.length <= MOST_LINK) return link;
    this.offerFile(id, 'job.link.long', link.url.length);
    return null;
  }

  async share(id) {
    const link = await this.linkOf(id);
    const { words, say, said } = this.hooks;
    if (link) await shareLink(link.url, { words, say, said, without: link.without, copied: 'job.link.copied' });
  }

  async code(id) {
    const link = await this.linkOf(id);
    const drawn = link && this.hooks.ask(() => this.hooks.core().code(link.url));
    if (!drawn) return;
    const { word, words, say } = this.hooks;
    const name = nameOf(link.job) || word('job.nameless');
    this.figure.querySelector('.of').textContent = name;
    if (!showCode(this.figure, link.url, drawn, word('job.link.code', name))) this.offerFile(id, 'job.code.long', link.url.length);
    else if (!this.figure.hidden && link.without.length > 0) say(link.without.map((key) => words[key]).join(' '), link.without[0], false);
  }

  // hide takes the code away: it may not be what the job is now.
  hide() {
    this.figure.hidden = true;
  }

  // offerFile says that a link is too long, and has the button beside it that saves the job as a file.
  offerFile(id, key, length) {
    const { say, word, said } = this.hooks;
    say(word(key, length), key);
    const button = Object.assign(document.createElement('button'), { type: 'button' });
    button.textContent = document.querySelector('#job-head [data-job="export"]').textContent;
    button.dataset.job = 'export';
    button.dataset.id = id;
    said.append(' ', button);
  }

  // ---- opened

  // opened reads the query of a link. It returns the job, or null after saying what is wrong with it.
  async opened(query) {
    const { text, fault } = await unpacked(query);
    const read = fault ? { fault } : this.read(text);
    if (read?.fault) this.hooks.tell(`job.link.${read.fault}`, true);
    return read?.job ?? null;
  }
}

// fileOf is the name of the file that a job is saved as.
export const fileOf = (job, id) => `${(job && fileName(nameOf(job).replace(', ', ' '))) || id}.ohmwright-job.json`;

// forLink returns a job without photographs and long texts, and the keys of what to say of that. cut: it has lost a long text already.
function forLink(job, cut) {
  const forms = {};
  for (const [tool, form] of Object.entries(job.forms)) {
    const given = Object.fromEntries(Object.entries(form.given).filter(([, text]) => text.length <= LONG));
    // A file's name may stand without its text: it was left out before.
    cut ||= [...Object.keys(form.given), ...Object.keys(form.names)].some((path) => !(path in given));
    forms[tool] = { ...form, given };
  }
  const without = [];
  if (job.photos.length > 0) without.push('job.link.photos');
  if (cut) without.push('job.link.files');
  return { bare: { ...job, forms, photos: [] }, without };
}

// lean leaves out of a document in its one form what reading fills in again, and what the link itself says.
function lean({ ohmwright, v, ...job }) {
  const forms = Object.entries(job.forms).map(([tool, { v, ...form }]) => [tool, filled(form)]);
  const entries = job.entries.map(({ who, ...entry }) => (who ? { ...entry, who } : entry));
  return filled({ ...job, facts: filled(job.facts), forms: Object.fromEntries(forms), entries });
}

// filled returns an object without those of its values that are false or have nothing in them.
const filled = (o) => Object.fromEntries(Object.entries(o).filter(([, value]) => value === true || Object.keys(value).length > 0));

// packed returns a text as the parameters of a link: z, or j where the browser cannot compress, and c.
async function packed(text) {
  let [kind, bytes] = ['j', new Blob([text]).stream()];
  try {
    [kind, bytes] = ['z', bytes.pipeThrough(new CompressionStream(FORMAT))];
  } catch {
    // an old browser
  }
  const value = base64url(await new Response(bytes).arrayBuffer());
  return `${kind}=${value}&c=${sumOf(value)}`;
}

// sumOf returns the last five digits, to base 36, of a text's FNV-1a sum of 32 bits.
function sumOf(text) {
  let sum = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) sum = Math.imul(sum ^ text.charCodeAt(i), 0x01000193) >>> 0;
  return sum.toString(36).padStart(5, '0').slice(-5);
}

function base64url(buffer) {
  const chars = Array.from(new Uint8Array(buffer), (byte) => String.fromCharCode(byte)).join('');
  return btoa(chars).replaceAll('+', '-').replaceAll('/', '_').replaceAll('=', '');
}

// unpacked returns the document that a link's query holds, {text}, or {fault: "damaged", "newer", "large" or "old"}: the last if the
// browser cannot unpack it. It never throws, and never unpacks more than a job may hold.
async function unpacked(query) {
  const [, v] = /(?:^|&)v=([1-9]\d{0,3})(?:&|$)/.exec(query) ?? [];
  if (v > VERSION) return { fault: 'newer' };
  const [, kind, value, sum] = /^v=\d+&([jz])=([\w-]+)(?:&c=(\w*))?$/.exec(query) ?? [];
  if (!v || !kind || sum !== undefined && sum !== sumOf(value)) return { fault: 'damaged' };
  try {
    const bytes = Uint8Array.from(atob(value.replaceAll('-', '+').replaceAll('_', '/')), (char) => char.charCodeAt(0));
    const plain = kind === 'j' ? bytes : await inflated(bytes);
    if (plain.length > MOST_OUT) return { fault: 'large' };
    const text = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(plain);
    if (!text.startsWith('{')) return { fault: 'damaged' };
    return { text: `{"ohmwright":"job","v":${v},${text.slice(1)}` };
  } catch (e) {
    return { fault: e.old ? 'old' : 'damaged' };
  }
}

// inflated unpacks bytes, a few at a time, and stops once more has come out than a document may have: a small link may hold a gigabyte.
async function inflated(bytes) {
  let unpacking;
  try {
    unpacking = new DecompressionStream(FORMAT);
  } catch {
    throw Object.assign(new Error('this browser cannot unpack'), { old: true });
  }
  let at = 0;
  const source = new ReadableStream({
    pull(out) {
      if (at < bytes.length) out.enqueue(bytes.slice(at, (at += STEP)));
      else out.close();
    },
  });
  const reader = source.pipeThrough(unpacking).getReader();
  const parts = [];
  let size = 0;
  for (;;) {
    const { done, value } = await reader.read();
    if (done) break;
    parts.push(value);
    size += value.length;
    if (size <= MOST_OUT) continue;
    reader.cancel().catch(() => {}); // what is left is not wanted
    break;
  }
  return new Uint8Array(await new Blob(parts).arrayBuffer());
}
