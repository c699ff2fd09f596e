// Which window may write a job. Used by store.js.
mergeInto(LibraryManager.library, {
  // What is being let go of. Whoever wants a job waits for it, so that a window does not stand in
  // its own way.
  $kpLetGo: { done: null },

  // Who may write a job: the one that holds its lock. Locks go with their page.
  $kpWriters__deps: ['$kpTrouble', '$kpLetGo'],
  $kpWriters: function (name, database) {
    const kTries = 3, kAgainMs = 120, kBeatMs = 4000, kDeadMs = 15000;
    const locks = navigator.locks;
    const me = Array.from(crypto.getRandomValues(new Uint32Array(4))).join('-');
    const held = new Map();  // job -> what lets go of it

    // Without locks a record names the writer, is renewed, and is looked at in each append.
    function beat(job) {
      return database.change('writers', 'readwrite', function (store, out, refuse) {
        store('writers').get(job).onsuccess = function (event) {
          const writer = event.target.result;
          if (writer && writer.me !== me && Date.now() - writer.at < kDeadMs) refuse('held');
          else store('writers').put({ me: me, at: Date.now() }, job);
        };
      });
    }

    async function hold_by_record(job) {
      await beat(job);
      const timer = setInterval(function () {
        beat(job).catch(function (error) { if (error.kp === 'held') held.delete(job); });
      }, kBeatMs);
      held.set(job, function () {
        clearInterval(timer);
        return database.change('writers', 'readwrite', function (store) { store('writers').delete(job); });
      });
    }

    // Resolves with what lets go of the lock, or with null where another one has it.
    function lock(job) {
      return new Promise(function (answer, fail) {
        let got = false;
        const ended = locks.request('kickplate/' + name + '/' + job, { ifAvailable: true }, function (lock) {
          if (!lock) return answer(null);
          got = true;
          return new Promise(function (go) { answer(function () { go(); return ended; }); });
        });
        ended.catch(function (error) {
          if (got) held.delete(job);
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
        if (!locks) return hold_by_record(job);
        // A page that was just left may hold its lock for a moment longer.
        for (let attempt = 1; ; ++attempt) {
          const let_go = await lock(job);
          if (let_go) return void held.set(job, let_go);
          if (attempt === kTries) throw kpTrouble('held');
          await new Promise(function (go) { setTimeout(go, kAgainMs); });
        }
      },
      release: release,
      release_all: function () { return Promise.all(Array.from(held.keys()).map(release)); },
      stores: locks ? ['lines'] : ['lines', 'writers'],
      check: function (store, job, refuse) {
        if (locks) return;
        store('writers').get(job).onsuccess = function (event) {
          if (!event.target.result || event.target.result.me !== me) refuse('not-acquired');
        };
      }
    };
  }
});
