// Where jobs are kept on the device: IndexedDB, in as few words as it takes. Two stores: "jobs" has {id, text, gone}, where text is
// the document and gone the time when it was deleted; "beside" has what belongs to a job and is too large to be written at each
// keystroke, or no part of the document, under keys that begin with the job's id.

export class Cupboard {
  constructor(name = 'ohmwright') {
    this.name = name;
    this.opened = null;
  }

  // open opens the database. If that fails, the next call tries again.
  open() {
    this.opened ??= new Promise((resolve, reject) => {
      const request = globalThis.indexedDB.open(this.name, 1);
      request.onupgradeneeded = () => {
        request.result.createObjectStore('jobs', { keyPath: 'id' });
        request.result.createObjectStore('beside');
      };
      request.onsuccess = () => {
        request.result.onversionchange = () => request.result.close();
        request.result.onclose = () => (this.opened = null);
        resolve(request.result);
      };
      request.onblocked = request.onerror = () => reject(request.error ?? new Error('IndexedDB is blocked'));
    }).catch((e) => {
      this.opened = null;
      throw e;
    });
    return this.opened;
  }

  // act does something in one transaction, and returns its result once everything is kept. act gets the two stores and done(result).
  async act(mode, act) {
    const database = await this.open();
    return new Promise((resolve, reject) => {
      const transaction = database.transaction(['jobs', 'beside'], mode);
      let result;
      transaction.oncomplete = () => resolve(result);
      transaction.onabort = transaction.onerror = () => reject(transaction.error ?? new Error('IndexedDB gave up'));
      act(transaction.objectStore('jobs'), transaction.objectStore('beside'), (value) => (result = value));
    });
  }

  // change replaces a job's record by what edit(record) returns, in one transaction: nothing can come in between.
  change(id, edit) {
    return this.act('readwrite', (jobs, beside, done) => {
      jobs.get(id).onsuccess = ({ target }) => {
        const record = edit(target.result);
        jobs.put(record);
        done(record);
      };
    });
  }

  get(id) {
    return this.act('readonly', (jobs, beside, done) => (jobs.get(id).onsuccess = ({ target }) => done(target.result)));
  }

  all() {
    return this.act('readonly', (jobs, beside, done) => (jobs.getAll().onsuccess = ({ target }) => done(target.result)));
  }

  // remove takes a job away for good, with all that belongs to it.
  remove(id) {
    return this.act('readwrite', (jobs, beside) => {
      jobs.delete(id);
      beside.delete(besideOf(id));
    });
  }

  // beside returns what belongs to a job: {key: value} without its id.
  beside(id) {
    return this.act('readonly', (jobs, beside, done) => {
      const out = {};
      done(out);
      beside.openCursor(besideOf(id)).onsuccess = ({ target: { result: cursor } }) => {
        if (!cursor) return;
        out[cursor.key.slice(id.length + 1)] = cursor.value;
        cursor.continue();
      };
    });
  }

  // edit replaces something that belongs to a job by what edit(value) returns, in one transaction, and returns it.
  edit(id, key, edit) {
    return this.act('readwrite', (jobs, beside, done) => {
      beside.get(`${id}/${key}`).onsuccess = ({ target }) => {
        const value = edit(target.result);
        beside.put(value, `${id}/${key}`);
        done(value);
      };
    });
  }

  // put keeps something that belongs to a job; undefined takes it away.
  put(id, key, value) {
    return this.act('readwrite', (jobs, beside) => {
      if (value === undefined) beside.delete(`${id}/${key}`);
      else beside.put(value, `${id}/${key}`);
    });
  }
}

const besideOf = (id) => globalThis.IDBKeyRange.bound(`${id}/`, `${id}/\uffff`);

// faultOf says what went wrong: "full" or "forbidden".
export const faultOf = (e) => (e?.name === 'QuotaExceededError' ? 'full' : 'forbidden');
