// A second copy of what is kept, in a bucket of its own. Used by store.js.
//
// Chromium keeps IndexedDB in LevelDB, one folder a bucket, and writes each record in two pieces: its
// head, then its body. A browser killed between the two leaves a head without a body. The next start
// takes no offence and writes on behind it; the start after that finds a wrong sum there and throws
// away the whole folder, with lines that were complete for long (dataLoss "total"). The page cannot
// keep the browser from that. But a kill tears at most one folder, as the copy is written after the
// first one is complete, and each start makes good from one what is missing in the other.
mergeInto(LibraryManager.library, {
  $kpCopy__deps: ['$kpDatabase'],
  $kpCopy: function (name, database) {
    const buckets = navigator.storageBuckets;
    let bucket = null;  // kept, because its databases go when it is let go of
    const other = kpDatabase(name, async function () {
      bucket = bucket || await buckets.open('kickplate-copy', { durability: 'strict' });
      return bucket.indexedDB;
    });
    const copy = { copies: -1, mend: mend, keep: keep, erase: erase, put: put, close: other.close };
    let mended = null;

    function of_job(job, after) { return IDBKeyRange.bound([job, after + 1], [job, Infinity]); }

    // job -> number of its last line
    async function lasts(from) {
      const found = await from.change('lines', 'readonly', function (store, out) {
        out.lasts = new Map();
        store('lines').openKeyCursor(null, 'prev').onsuccess = function (event) {
          const cursor = event.target.result;
          if (!cursor) return;
          out.lasts.set(cursor.key[0], cursor.key[1]);
          cursor.continue([cursor.key[0], 0]);
        };
      });
      return found.lasts;
    }

    // What the key finds in `from` and not in `to` is written there; what is there stays as it is.
    async function fill(from, to, kind, range) {
      const found = await from.change(kind, 'readonly', function (store, out) {
        store(kind).getAllKeys(range).onsuccess = function (event) { out.keys = event.target.result; };
        store(kind).getAll(range).onsuccess = function (event) { out.values = event.target.result; };
      });
      if (found.keys.length === 0) return;
      await to.change(kind, 'readwrite', function (store) {
        found.keys.forEach(function (key, i) {
          store(kind).getKey(key).onsuccess = function (event) {
            if (event.target.result === undefined) store(kind).add(found.values[i], key);
          };
        });
      });
    }

    async function fill_jobs(from, to, more, less) {
      const jobs = Array.from(more.keys());
      for (let i = 0; i < jobs.length; ++i) {
        const have = less.get(jobs[i]) || 0;
        if (more.get(jobs[i]) > have) await fill(from, to, 'lines', of_job(jobs[i], have));
      }
    }

    // A line is in the copy only after the first one had it, also where another window writes: so
    // the copy is looked at first, and what it has alone is what was lost.
    async function mend_now() {
      await database.change('lines', 'readonly', function () {});
      const there = await lasts(other);
      const here = await lasts(database);
      await fill_jobs(other, database, there, here);
      await fill_jobs(database, other, here, there);
      await fill(other, database, 'settings');
      await fill(database, other, 'settings');
      copy.copies = 2;
      if (there.size > 0) database.facts.lost = '';
    }

    // Once a page. A copy that cannot be had is done without, and told.
    function mend() {
      if (!mended) {
        mended = !buckets ? Promise.resolve() : mend_now().catch(function () { copy.copies = 1; });
      }
      return mended;
    }

    async function beside(act) {
      if (copy.copies !== 2) return;
      await act().catch(function () { copy.copies = 1; });
    }

    // Line `seq` is kept; so is what comes before it, where an older try failed.
    function keep(job, seq, bytes) {
      return beside(async function () {
        const found = await other.change('lines', 'readwrite', function (store, out) {
          store('lines').openKeyCursor(of_job(job, 0), 'prev').onsuccess = function (event) {
            out.last = event.target.result ? event.target.result.key[1] : 0;
            if (out.last + 1 >= seq) store('lines').put(bytes, [job, seq]);
          };
        });
        if (found.last + 1 < seq) await fill(database, other, 'lines', of_job(job, found.last));
      });
    }

    // It is gone only when it is gone from both, so a copy that cannot be had is a failure here.
    async function erase(job, seq, bytes) {
      if (!buckets) return;
      await other.change('lines', 'readwrite', function (store) {
        store('lines').getKey([job, seq]).onsuccess = function (event) {
          if (event.target.result !== undefined) store('lines').put(bytes, [job, seq]);
        };
      });
    }

    function put(key, bytes) {
      return beside(function () {
        return other.change('settings', 'readwrite', function (store) { store('settings').put(bytes, key); });
      });
    }

    return copy;
  }
});
