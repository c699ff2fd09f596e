// Starts the program: content and program are fetched side by side, then the parts of the page
// are joined to it. The browser's back key closes what is open before it leaves.
'use strict';
kickplate.page = (function () {
  const build = document.documentElement.dataset.build;
  let content = null;
  let history_armed = false;

  function start() {
    const bytes = new Uint8Array(content);
    const at = Module._malloc(bytes.length);
    Module.HEAPU8.set(bytes, at);
    const want = new URLSearchParams(location.search);
    const dark = matchMedia('(prefers-color-scheme: dark)');
    const theme = want.get('theme') || (dark.matches ? 'night' : 'day');
    const taste = [theme, want.get('text') || '100',
      matchMedia('(prefers-reduced-motion: reduce)').matches ? 'still' : '',
      want.has('demo') ? 'demo' : '', want.get('screen') || ''].join(' ');
    Module.ccall('kp_start', null, ['number', 'number', 'string'], [at, bytes.length, taste]);
    Module._free(at);
    Module.kpWake = kickplate.loop.wake;
    kickplate.input.start();
    kickplate.surface.start();
    if (want.has('theme')) return;
    dark.addEventListener('change', function () { Module._kp_on_theme(dark.matches ? 1 : 0); });
  }

  function ready() {
    document.documentElement.dataset.ready = 'yes';
    const title = document.getElementById('title');
    if (title) title.remove();
  }

  // Entries of the history count only when made after a touch of the person.
  function touched() {
    if (history_armed) return;
    history_armed = true;
    history.pushState({ kickplate: 1 }, '');
  }

  window.addEventListener('popstate', function () {
    if (!window.Module || !Module._kp_on_back) return;
    history_armed = false;
    if (Module._kp_on_back()) touched();
  });

  function loadProgram() {
    return new Promise(function (resolve, reject) {
      window.Module = {
        locateFile: function (name) { return name + '?' + build; },
        onRuntimeInitialized: resolve,
        onAbort: function () { kickplate.loop.stop(); kickplate.fatal('The program stopped.'); },
        print: function (text) { console.log(text); },
        printErr: function (text) { console.warn(text); }
      };
      const script = document.createElement('script');
      script.src = 'kickplate.js?' + build;
      script.onerror = function () { reject(new Error('no program')); };
      document.body.appendChild(script);
    });
  }

  function loadContent() {
    return fetch('content.txt?' + build).then(function (answer) {
      if (!answer.ok) throw new Error('no content');
      return answer.arrayBuffer();
    }).then(function (bytes) { content = bytes; });
  }

  function serviceWorker() {
    if (!('serviceWorker' in navigator) || !build || !window.isSecureContext) return;
    navigator.serviceWorker.register('sw.js').then(function (registration) {
      const tell = function () {
        if (registration.waiting) kickplate.updateReady = true;
        if (registration.active && navigator.serviceWorker.controller) kickplate.offlineReady = true;
      };
      tell();
      registration.addEventListener('updatefound', function () {
        registration.installing.addEventListener('statechange', tell);
      });
      navigator.serviceWorker.ready.then(function () { kickplate.offlineReady = true; });
      kickplate.update = function () {
        if (!registration.waiting) return false;
        navigator.serviceWorker.addEventListener('controllerchange', function () { location.reload(); });
        registration.waiting.postMessage('take over');
        return true;
      };
    }).catch(function () { /* offline use is not there; the tool says so by not promising it */ });
  }

  kickplate.version = build;
  if (typeof WebAssembly !== 'object') {
    kickplate.fatal('This browser is too old to run the tool.');
  } else {
    Promise.all([loadProgram(), loadContent()]).then(start).catch(function () {
      kickplate.fatal('The program did not load.');
    });
    serviceWorker();
  }

  return { ready: ready, touched: touched };
})();
