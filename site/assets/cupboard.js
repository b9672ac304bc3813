// Where jobs are kept on the device: IndexedDB, in as few words as it takes. Two stores: "jobs" has {id, text, gone}, where text is
// the document and gone the time when it was deleted; "beside" has what belongs to a job and is too large to be written at each
// keystroke, or no part of the document, under keys that begin with the job's id.
import { databaseFor, isShared, scope } from './scope.js';

export class Cupboard {
  // name is that of the database; old that of one whose jobs are copied when it is made, if there are any.
  constructor(name = databaseFor(scope), old = isShared(() => localStorage) ? databaseFor('/') : '') {
    Object.assign(this, { name, old });
    this.opened = this.database = null;
    this.running = new Set(); // transactions that read, and are not at their end
    this.cut = new WeakSet(); // those that rest ended
  }

  // forget lets go of the database: the next use opens it anew.
  forget() {
    this.database.close();
    this.opened = this.database = null;
  }

  // rest ends what is going on and lets go of the database. A page that is put aside, to be gone back to, gets no answers: a transaction
  // that waits for one would hold up all other pages. What only writes is kept all the same. All else waits for ever.
  rest() {
    this.awake = new Promise(() => {});
    for (const transaction of this.running) {
      this.cut.add(transaction);
      try {
        transaction.abort();
      } catch {} // it is at its end
    }
    if (this.database) this.forget();
  }

  // open opens the database. If that fails, the next call tries again.
  open() {
    this.opened ??= this.made().then(
      (database) => {
        this.database = database;
        database.onversionchange = database.onclose = () => database === this.database && this.forget();
        return database;
      },
      (e) => {
        this.opened = null;
        throw e;
      },
    );
    return this.opened;
  }

  // made returns the database. If it is new, what lies under the old name is read first and then put in, all at once or not at all. If
  // there is no room for it twice, the old one is used.
  async made() {
    if (!this.old) return opened(this.name, shelve);
    const there = await openedIfThere(this.name);
    if (there) return there;
    const before = await openedIfThere(this.old);
    if (!before) return opened(this.name, shelve);
    const content = await contentOf(before);
    try {
      const database = await opened(this.name, (request) => {
        shelve(request);
        for (const record of content.jobs) request.transaction.objectStore('jobs').put(record);
        for (const [key, value] of content.beside) request.transaction.objectStore('beside').put(value, key);
      });
      before.close();
      return database;
    } catch {
      return before;
    }
  }

  // act does something in one transaction, and returns its result once everything is kept. act gets the two stores and done(result).
  // An open database is used at once: a page that is being left has no later.
  async act(mode, act, { reads = true } = {}) {
    while (!this.database) {
      await this.awake;
      await this.open();
    }
    const { database, running, cut } = this;
    return new Promise((resolve, reject) => {
      const transaction = database.transaction(['jobs', 'beside'], mode);
      let result;
      const ended = (how) => {
        running.delete(transaction);
        how();
      };
      const fail = () => ended(() => cut.has(transaction) || reject(transaction.error ?? new Error('IndexedDB gave up')));
      transaction.oncomplete = () => ended(() => resolve(result));
      transaction.onerror = fail;
      transaction.onabort = fail;
      act(transaction.objectStore('jobs'), transaction.objectStore('beside'), (value) => (result = value));
      if (reads) running.add(transaction);
      else transaction.commit?.();
    });
  }

  // write writes without reading first: nothing has to happen in the page any more until it is kept.
  write(act) {
    return this.act('readwrite', act, { reads: false });
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
    return this.write((jobs, beside) => {
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
    return this.write((jobs, beside) => {
      if (value === undefined) beside.delete(`${id}/${key}`);
      else beside.put(value, `${id}/${key}`);
    });
  }
}

// opened opens a database; make is called with the request if it is new.
function opened(name, make) {
  return new Promise((resolve, reject) => {
    const request = globalThis.indexedDB.open(name, 1);
    request.onupgradeneeded = () => make(request);
    request.onsuccess = () => resolve(request.result);
    request.onblocked = request.onerror = () => reject(request.error ?? new Error('IndexedDB is blocked'));
  });
}

// shelve makes the two stores of a new database.
function shelve({ result: database }) {
  database.createObjectStore('jobs', { keyPath: 'id' });
  database.createObjectStore('beside');
}

// openedIfThere opens a database, or returns null, and makes none, if there is none.
async function openedIfThere(name) {
  let isNew = false;
  const give = (request) => {
    isNew = true;
    request.transaction.abort();
  };
  return opened(name, give).catch((e) => {
    if (isNew) return null;
    throw e;
  });
}

// contentOf reads all that a database holds.
function contentOf(database) {
  return new Promise((resolve, reject) => {
    const transaction = database.transaction(['jobs', 'beside'], 'readonly');
    const [jobs, beside] = [transaction.objectStore('jobs').getAll(), []];
    transaction.objectStore('beside').openCursor().onsuccess = ({ target: { result: cursor } }) => {
      if (!cursor) return;
      beside.push([cursor.key, cursor.value]);
      cursor.continue();
    };
    transaction.oncomplete = () => resolve({ jobs: jobs.result, beside });
    transaction.onabort = transaction.onerror = () => reject(transaction.error ?? new Error('IndexedDB gave up'));
  });
}

const besideOf = (id) => globalThis.IDBKeyRange.bound(`${id}/`, `${id}/\uffff`);

// faultOf says what went wrong: "full" or "forbidden".
export const faultOf = (e) => (e?.name === 'QuotaExceededError' ? 'full' : 'forbidden');
