// Journals and settings in the browser, for src/platform/web/indexeddb_store.cpp. Requests happen
// one after another; their answers wait here until the program takes them, and Module.kpWake is
// called when one has come.
mergeInto(LibraryManager.library, {
  $kpStores: [],

  $kpMakeStore__deps: ['$kpTrouble', '$kpDatabase', '$kpCopy', '$kpWriters', '$kpNews', '$kpLetGo'],
  $kpMakeStore: function (name) {
    const database = kpDatabase(name);
    const copy = kpCopy(name, database);
    const finished = [];
    // What is no answer comes as request 0: the loss of a job, the growth of the watched one.
    function tell(code) {
      return function (job) {
        finished.push(pack(0, kpTrouble(code, job), {}));
        wake();
      };
    }
    const writers = kpWriters(name, database, tell('not-acquired'));
    const news = kpNews(name, tell('grown'));
    let work = Promise.resolve(), closed = false;

    function of_job(job) { return IDBKeyRange.bound([job, 0], [job, Infinity]); }
    function same(a, b) { return a.length === b.length && a.every(function (byte, i) { return byte === b[i]; }); }
    function is_erasure(stored, kept) {
      const text = [stored, kept].map(function (bytes) { return new TextDecoder().decode(bytes).split('\n'); });
      let at = 0;
      return text[0][0] === text[1][0] &&
        text[1].every(function (line) { return (at = text[0].indexOf(line, at) + 1) > 0; });
    }
    function wake() { if (!closed && Module['kpWake']) Module['kpWake'](); }

    const acts = {
      acquire: writers.acquire,
      'take-over': writers.take_over,
      release: writers.release,
      refuse: function (code) { throw kpTrouble(code); },
      append: async function (job, bytes, seq) {
        if (!writers.has(job)) throw kpTrouble('not-acquired');
        await database.change(writers.stores, 'readwrite', function (store, out, refuse, attempt) {
          const lines = store('lines');
          writers.check(store, job, refuse);
          lines.openKeyCursor(of_job(job), 'prev').onsuccess = function (event) {
            const last = event.target.result ? event.target.result.key[1] : 0;
            if (seq === last + 1) return void lines.add(bytes, [job, seq]);
            if (seq !== last || attempt === 1) return refuse('conflict', last);
            // Asked again after a cut: it may have been written after all.
            lines.get([job, seq]).onsuccess = function (found) {
              if (!same(found.target.result, bytes)) refuse('conflict', last);
            };
          };
        });
        news.say_grown(job);
        await copy.keep(job, seq, bytes);
        database.ask_to_persist().then(wake, function () {});
      },
      // The same line with fewer of the parts behind its line feeds: each of its lines stood there.
      erase: async function (job, bytes, seq) {
        if (!writers.has(job)) throw kpTrouble('not-acquired');
        await database.change(writers.stores, 'readwrite', function (store, out, refuse) {
          const lines = store('lines');
          writers.check(store, job, refuse);
          lines.get([job, seq]).onsuccess = function (found) {
            if (!found.target.result || !is_erasure(found.target.result, bytes)) return refuse('conflict', seq);
            lines.put(bytes, [job, seq]);
          };
        });
        await copy.erase(job, seq, bytes);
      },
      load: function (job) {
        return database.change('lines', 'readonly', function (store, out) {
          store('lines').getAll(of_job(job)).onsuccess = function (event) { out.lines = event.target.result; };
        });
      },
      // The sign counts what was heard, so that it changes with each sign of life.
      look: async function (job) {
        const found = await database.change(writers.stores, 'readonly', function (store, out) {
          store('lines').openKeyCursor(of_job(job), 'prev').onsuccess = function (event) {
            out.last = event.target.result ? event.target.result.key[1] : 0;
          };
          store('writers').get(job).onsuccess = function (event) { out.writer = event.target.result; };
        });
        const who = await writers.who(job, found.writer);
        const sign = who === 'elsewhere' ? who + ' ' + news.heard(job) : who;
        return { text: new TextEncoder().encode(sign), lines: [new TextEncoder().encode(found.last)] };
      },
      list: function () {
        return database.change('lines', 'readonly', function (store, out) {
          out.lines = [];
          store('lines').openKeyCursor().onsuccess = function (event) {
            const cursor = event.target.result;
            if (!cursor) return;
            out.lines.push(new TextEncoder().encode(cursor.key[0]));
            cursor.continue([cursor.key[0], Infinity]);
          };
        });
      },
      put: async function (key, bytes) {
        await database.change('settings', 'readwrite', function (store) { store('settings').put(bytes, key); });
        await copy.put(key, bytes);
      },
      get: function (key) {
        return database.change('settings', 'readonly', function (store, out) {
          store('settings').get(key).onsuccess = function (event) { out.text = event.target.result; };
        });
      }
    };

    // An answer as bytes: the request, how many pieces, each piece after its length. The pieces are
    // the error's code, its reason, the text, the lines.
    function pack(request, error, out) {
      const encoder = new TextEncoder();
      const words = error ? [error.kp || 'refused', error.message] : ['', ''];
      const pieces = words.map(function (word) { return encoder.encode(word); })
        .concat([out.text || new Uint8Array(0)], out.lines || []);
      const size = pieces.reduce(function (sum, piece) { return sum + 4 + piece.length; }, 8);
      const bytes = new Uint8Array(size), view = new DataView(bytes.buffer);
      view.setUint32(0, request, true);
      view.setUint32(4, pieces.length, true);
      pieces.reduce(function (at, piece) {
        view.setUint32(at, piece.length, true);
        bytes.set(piece, at + 4);
        return at + 4 + piece.length;
      }, 8);
      return bytes;
    }

    database.facts_asked.then(wake);
    return {
      facts: database.facts,
      copies: function () { return copy.copies; },
      finished: finished,
      watch: news.watch,
      say_alive: function () { news.say_alive(writers.held()); },
      ask: function (what, request, key, bytes, seq) {
        work = work.then(function () { return what === 'acquire' || copy.mend(); })
          .then(function () { return acts[what](key, bytes, seq); })
          .then(function (out) { finished.push(pack(request, null, out || {})); },
                function (error) { finished.push(pack(request, error, {})); })
          .then(wake);
      },
      close: function () {
        closed = true;
        news.close();
        const done = work.then(writers.release_all).then(copy.close).then(database.close, database.close);
        kpLetGo.done = Promise.all([kpLetGo.done, done]);
      }
    };
  },

  kp_store_open__deps: ['$kpStores', '$kpMakeStore'],
  kp_store_open: function (name) { return kpStores.push(kpMakeStore(UTF8ToString(name))) - 1; },
  kp_store_close__deps: ['$kpStores'],
  kp_store_close: function (store) { kpStores[store].close(); kpStores[store] = null; },
  // Bytes are copied out of the memory at once: it may move when it grows.
  kp_store_ask__deps: ['$kpStores'],
  kp_store_ask: function (store, what, request, key, bytes, size, seq) {
    kpStores[store].ask(UTF8ToString(what), request, UTF8ToString(key), HEAPU8.slice(bytes, bytes + size), seq);
  },
  kp_store_watch__deps: ['$kpStores'],
  kp_store_watch: function (store, job) { kpStores[store].watch(UTF8ToString(job)); },
  kp_store_alive__deps: ['$kpStores'],
  kp_store_alive: function (store) { kpStores[store].say_alive(); },
  kp_store_next_size__deps: ['$kpStores'],
  kp_store_next_size: function (store) {
    const next = kpStores[store].finished[0];
    return next ? next.length : 0;
  },
  kp_store_take__deps: ['$kpStores'],
  kp_store_take: function (store, place) { HEAPU8.set(kpStores[store].finished.shift(), place); },
  kp_store_persisted__deps: ['$kpStores'],
  kp_store_persisted: function (store) { return kpStores[store].facts.persisted; },
  kp_store_copies__deps: ['$kpStores'],
  kp_store_copies: function (store) { return kpStores[store].copies(); },
  kp_store_lost__deps: ['$kpStores'],
  kp_store_lost: function (store) { return kpStores[store].facts.lost ? 1 : 0; },
  kp_store_free__deps: ['$kpStores'],
  kp_store_free: function (store) { return kpStores[store].facts.free; }
});
