// One IndexedDB database that is opened when it is needed, and again when a browser has cut it.
// Used by store.js. Object stores: lines under [job, number], settings by key, writers by job.
mergeInto(LibraryManager.library, {
  // An error with a code of the store's contract.
  $kpTrouble: function (code, why) {
    return Object.assign(new Error(why === undefined ? '' : String(why)), { kp: code });
  },

  $kpDatabase__deps: ['$kpTrouble'],
  // `find` brings the factory that the database is kept in, where that is not the page's own.
  $kpDatabase: function (name, find) {
    const kOpenMs = 3000, kAgainMs = 250, kHungMs = 10000, kAnswerMs = 4000, kTries = 3;
    const storage = navigator.storage;
    const facts = { persisted: -1, free: -1, lost: '' };
    let base = null, busy = 0, asked = false, hung = -Infinity;

    function drop() {
      if (base) base.close();
      base = null;
    }

    async function connect() {
      if (base) return base;
      const factory = find ? await find() : indexedDB;
      return new Promise(function (resolve, reject) {
        let late = false;
        // One that did not answer a moment ago is not waited for as long again.
        const timer = setTimeout(function () {
          late = true;
          hung = performance.now();
          reject(kpTrouble('refused', 'the browser does not answer. Close other windows of this page'));
        }, performance.now() - hung < kHungMs ? kAgainMs : kOpenMs);
        const opening = factory.open(name, 1);
        opening.onupgradeneeded = function (event) {
          // Chromium says here that it found its files damaged and has thrown them away.
          if (event.dataLoss && event.dataLoss !== 'none') facts.lost = event.dataLossMessage || 'damaged';
          ['lines', 'settings', 'writers'].forEach(function (store) { opening.result.createObjectStore(store); });
        };
        opening.onerror = function () { clearTimeout(timer); reject(opening.error); };
        opening.onsuccess = function () {
          clearTimeout(timer);
          const got = opening.result;
          if (late) return got.close();
          got.onversionchange = function () { got.close(); if (base === got) base = null; };
          got.onclose = function () { if (base === got) base = null; };
          base = got;
          resolve(got);
        };
      });
    }

    // One transaction. It is done when it is complete: a request in it that succeeded may still be
    // taken back when the disk turns out to be full.
    async function once(stores, mode, act, attempt) {
      const got = await connect();
      return new Promise(function (resolve, reject) {
        const change = got.transaction(stores, mode, { durability: 'strict' });
        const out = {};
        let refusal = null;
        // What is still under way then shall not happen behind our back, if that can be helped: one
        // that is complete, or about to be, cannot be broken off, and the next try finds what it wrote.
        const timer = setTimeout(function () {
          reject(new Error('the browser does not answer'));
          try { change.abort(); } catch (error) { /* too late */ }
        }, kAnswerMs);
        change.oncomplete = function () { clearTimeout(timer); resolve(out); };
        change.onabort = function () {
          clearTimeout(timer);
          reject(refusal || change.error || new Error('the browser broke off'));
        };
        function refuse(code, why) { refusal = kpTrouble(code, why); change.abort(); }
        act(function (store) { return change.objectStore(store); }, out, refuse, attempt);
      });
    }

    async function ask_facts() {
      if (find || !storage || !storage.estimate) return;
      const room = await storage.estimate();
      facts.free = Math.max(0, room.quota - room.usage);
      facts.persisted = await storage.persisted() ? 1 : 0;
    }

    // Coming back from the background, the handle may be dead without a word. A new one costs
    // little. A page that is put aside with an open connection would lose it or be thrown away.
    function distrust() { if (busy === 0) drop(); }
    function shown() { if (!document.hidden) distrust(); }
    document.addEventListener('visibilitychange', shown);
    window.addEventListener('pageshow', distrust);
    window.addEventListener('pagehide', drop);

    return {
      facts: facts,
      facts_asked: ask_facts().catch(function () {}),
      // `act(store, out, refuse, attempt)` puts what it finds into `out`, which is what comes back.
      // Where the browser cuts the connection, it is called again on a new one.
      change: async function (stores, mode, act) {
        ++busy;
        try {
          for (let attempt = 1; ; ++attempt) {
            try {
              return await once(stores, mode, act, attempt);
            } catch (error) {
              if (error.kp) throw error;
              if (error.name === 'QuotaExceededError') throw kpTrouble('full');
              drop();
              if (attempt === kTries) throw kpTrouble('refused', error.message || error.name);
            }
          }
        } finally {
          --busy;
        }
      },
      // Once something is kept, the browser is asked to keep it for good. It may say no.
      ask_to_persist: async function () {
        if (asked || find || !storage || !storage.persist) return;
        asked = true;
        await storage.persist();
        await ask_facts();
      },
      close: function () {
        document.removeEventListener('visibilitychange', shown);
        window.removeEventListener('pageshow', distrust);
        window.removeEventListener('pagehide', drop);
        drop();
      }
    };
  }
});
