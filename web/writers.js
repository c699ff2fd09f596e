// Which window may write a job. Used by store.js.
mergeInto(LibraryManager.library, {
  // What is being let go of. Whoever wants a job waits for it, so that a window does not stand in
  // its own way.
  $kpLetGo: { done: null },

  // Who may write a job: the one that holds its lock. Locks go with their page. A lock that is taken
  // over is told to its holder late, so a record names the new writer and each append looks at it.
  $kpWriters__deps: ['$kpTrouble', '$kpLetGo'],
  $kpWriters: function (name, database, tell_lost) {
    const kTries = 3, kAgainMs = 120, kBeatMs = 4000, kDeadMs = 15000;
    const locks = navigator.locks;
    const me = Array.from(crypto.getRandomValues(new Uint32Array(4))).join('-');
    const held = new Map();  // job -> what lets go of it

    function lose(job) {
      if (held.delete(job)) tell_lost(job);
    }

    function put_me(store, job) { store('writers').put({ me: me, at: Date.now() }, job); }

    function sign(job) {
      return database.change('writers', 'readwrite', function (store) { put_me(store, job); });
    }

    // The record may name one who is gone and whose lock we have now. Where nothing can be read,
    // appends will say so.
    async function sign_over(job) {
      const found = await database.change('writers', 'readonly', function (store, out) {
        store('writers').get(job).onsuccess = function (event) { out.writer = event.target.result; };
      }).catch(function () { return {}; });
      if (found.writer && found.writer.me !== me) await sign(job);
    }

    // Without locks the record alone names the writer, and is renewed.
    function beat(job) {
      return database.change('writers', 'readwrite', function (store, out, refuse) {
        store('writers').get(job).onsuccess = function (event) {
          const writer = event.target.result;
          if (writer && writer.me !== me && Date.now() - writer.at < kDeadMs) refuse('held');
          else put_me(store, job);
        };
      });
    }

    function hold_by_record(job) {
      const timer = setInterval(function () {
        beat(job).catch(function (error) {
          if (error.kp !== 'held') return;
          clearInterval(timer);
          lose(job);
        });
      }, kBeatMs);
      held.set(job, function () {
        clearInterval(timer);
        return database.change('writers', 'readwrite', function (store) {
          store('writers').get(job).onsuccess = function (event) {
            if (event.target.result && event.target.result.me === me) store('writers').delete(job);
          };
        });
      });
    }

    // Resolves with what lets go of the lock, or with null where another one has it.
    function lock(job, how) {
      return new Promise(function (answer, fail) {
        let got = false;
        const ended = locks.request('kickplate/' + name + '/' + job, how, function (lock) {
          if (!lock) return answer(null);
          got = true;
          return new Promise(function (go) { answer(function () { go(); return ended; }); });
        });
        ended.catch(function (error) {
          if (got) lose(job);
          else fail(error);
        });
      });
    }

    async function release(job) {
      const let_go = held.get(job);
      held.delete(job);
      if (!let_go) return;
      const gone = let_go().catch(function () {});
      kpLetGo.done = Promise.all([kpLetGo.done, gone]);
      await gone;
    }

    return {
      has: function (job) { return held.has(job); },
      acquire: async function (job) {
        if (held.has(job)) return;
        await kpLetGo.done;
        if (!locks) {
          await beat(job);
          return hold_by_record(job);
        }
        // A page that was just left may hold its lock for a moment longer.
        for (let attempt = 1; ; ++attempt) {
          const let_go = await lock(job, { ifAvailable: true });
          if (let_go) {
            held.set(job, let_go);
            return sign_over(job).catch(function (error) { return release(job).then(function () { throw error; }); });
          }
          if (attempt === kTries) throw kpTrouble('held');
          await new Promise(function (go) { setTimeout(go, kAgainMs); });
        }
      },
      take_over: async function (job) {
        await kpLetGo.done;
        if (!held.has(job) && locks) held.set(job, await lock(job, { steal: true }));
        await sign(job);
        if (!held.has(job)) hold_by_record(job);
      },
      release: release,
      release_all: function () { return Promise.all(Array.from(held.keys()).map(release)); },
      held: function () { return Array.from(held.keys()); },
      // Whether the record, as it was read, and the locks name a writer: 'here', 'elsewhere', ''.
      who: async function (job, writer) {
        await kpLetGo.done;
        if (held.has(job)) {
          if (writer ? writer.me === me : locks) return 'here';
          lose(job);
        }
        if (!locks) return writer && Date.now() - writer.at < kDeadMs ? 'elsewhere' : '';
        const there = await locks.query();
        const key = 'kickplate/' + name + '/' + job;
        return there.held.some(function (lock) { return lock.name === key; }) ? 'elsewhere' : '';
      },
      stores: ['lines', 'writers'],
      check: function (store, job, refuse) {
        store('writers').get(job).onsuccess = function (event) {
          const writer = event.target.result;
          if (writer ? writer.me === me : locks) return;
          refuse('not-acquired');
          lose(job);
        };
      }
    };
  }
});
