// Photographs of a connector or a plate: shrunk on this device, kept beside the open job and in its file, never in a link. A picture that
// was drawn anew has nothing of the camera's in it: no place, no time, no name.
import { newId, now } from './job.js';

const MOST = 12; // as core/job has it
const SIDE = 1280; // most pixels of the longer side
const LONGEST = 450_000; // most characters of one as base64: twelve of them fit into a job's file

// A note is kept by itself: at each letter the note is written, and not the pictures.
const noteKey = (id) => `note/${id}`;

// noteOf returns the note of a photograph; beside is what belongs to its job.
export const noteOf = ({ id, note }, beside) => beside[noteKey(id)] ?? note;

export class Photos {
  // jobs: the open job (see jobs.js); hooks: tell(key).
  constructor(jobs, hooks) {
    this.jobs = jobs;
    this.hooks = hooks;
  }

  // show fills in a form's part for photographs, and hides it where no job is open.
  show(form) {
    const part = form.section.querySelector('.photos');
    if (!part) return;
    part.hidden = !this.jobs.holds(form);
    if (part.hidden) return;
    if (!part.dataset.heard) this.listen(part);
    const list = part.querySelector('ul');
    if (list.dataset.shown === this.shown()) return;
    list.dataset.shown = this.shown();
    list.replaceChildren(...(this.jobs.beside.photos ?? []).map((photo) => this.row(part, photo)));
  }

  listen(part) {
    part.dataset.heard = 'yes';
    part.querySelector('input[type="file"]').addEventListener('change', async ({ target }) => {
      const files = [...target.files];
      target.value = '';
      for (const file of files) await this.add(part, file);
    });
  }

  row(part, photo) {
    const row = part.querySelector('template').content.firstElementChild.cloneNode(true);
    const [picture, note, away, back] = ['canvas', 'input', '[data-photo="away"]', '[data-photo="back"]'].map((s) => row.querySelector(s));
    draw(picture, photo).catch(() => this.hooks.tell('photo.unread'));
    note.value = picture.ariaLabel = noteOf(photo, this.jobs.beside);
    note.addEventListener('input', () => {
      picture.ariaLabel = note.value;
      this.jobs.putBeside(noteKey(photo.id), note.value);
    });
    const gone = (is) => {
      for (const shown of [picture, note.parentElement, away]) shown.hidden = is;
      back.hidden = !is;
      (is ? back : away).focus();
    };
    away.addEventListener('click', async () => {
      photo = { ...photo, note: note.value };
      this.jobs.putBeside(noteKey(photo.id), undefined);
      await this.change((photos) => photos.filter(({ id }) => id !== photo.id), part);
      gone(true);
    });
    back.addEventListener('click', async () => {
      await this.change((photos) => [...photos.filter(({ id }) => id !== photo.id), photo], part);
      gone(false);
    });
    return row;
  }

  // add takes a picture in, or says why not.
  async add(part, file) {
    if ((this.jobs.beside.photos ?? []).length >= MOST) return this.hooks.tell('photo.most');
    const data = await shrunk(file).catch(() => null);
    if (!data) return this.hooks.tell('photo.unread');
    const photo = { id: newId(), when: now(), note: '', type: 'image/jpeg', data };
    const list = part.querySelector('ul');
    await this.change((photos) => [...photos, photo], part);
    list.append(this.row(part, photo));
    list.lastElementChild.querySelector('input').focus();
  }

  // change changes the list of photographs.
  async change(edit, part) {
    await this.jobs.editBeside('photos', (photos) => edit(photos ?? []));
    if (part) part.querySelector('ul').dataset.shown = this.shown();
  }

  // shown names the photographs of the open job in their order.
  shown() {
    return (this.jobs.beside.photos ?? []).map(({ id }) => id).join();
  }
}

// draw shows a photograph that is kept. It is drawn, as the page's policy lets no picture in but its own files.
async function draw(canvas, { type, data }) {
  const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0));
  const bitmap = await createImageBitmap(new Blob([bytes], { type }));
  if (bitmap.width > 4 * SIDE || bitmap.height > 4 * SIDE) throw new Error('larger than what is kept here');
  Object.assign(canvas, { width: bitmap.width, height: bitmap.height });
  canvas.getContext('2d').drawImage(bitmap, 0, 0);
}

// shrunk draws a picture anew, small enough to be kept, and returns it as base64.
async function shrunk(file) {
  const picture = await createImageBitmap(file, { imageOrientation: 'from-image' });
  for (let side = SIDE; side > 100; side *= 0.8) {
    const scale = Math.min(1, side / Math.max(picture.width, picture.height));
    const canvas = document.createElement('canvas');
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const pen = canvas.getContext('2d');
    pen.fillStyle = '#fff';
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    const url = canvas.toDataURL('image/jpeg', 0.8);
    const data = url.slice(url.indexOf(',') + 1);
    if (data.length <= LONGEST) return data;
  }
  throw new Error('no picture is that large');
}
