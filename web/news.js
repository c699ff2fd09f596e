// What the windows of one browser tell each other of their jobs: that a line is kept, that a writer is
// alive. Used by store.js. It may come late or not at all, so nothing rests on it: a reader looks.
mergeInto(LibraryManager.library, {
  // `tell_grown` is called when the watched job grew in another window.
  $kpNews: function (name, tell_grown) {
    const channel = window.BroadcastChannel ? new BroadcastChannel('kickplate/' + name) : null;
    const signs = new Map();  // job -> how often its writer was heard
    let watched = '';

    function say(message) { if (channel) channel.postMessage(message); }

    if (channel) {
      channel.onmessage = function (event) {
        const job = event.data.grown || event.data.alive;
        signs.set(job, (signs.get(job) || 0) + 1);
        if (event.data.grown && event.data.grown === watched) tell_grown(job);
      };
    }
    return {
      watch: function (job) { watched = job; },
      say_grown: function (job) { say({ grown: job }); },
      say_alive: function (jobs) { jobs.forEach(function (job) { say({ alive: job }); }); },
      heard: function (job) { return signs.get(job) || 0; },
      close: function () { if (channel) channel.close(); }
    };
  }
});
