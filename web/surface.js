// The canvas: its size in device pixels, the insets of notch and home bar, a lost context.
'use strict';
kickplate.surface = (function () {
  let canvas = document.getElementById('canvas');
  const stage = document.getElementById('stage');
  const probe = document.getElementById('insets');
  const most = Number(new URLSearchParams(location.search).get('dpr')) || 3;
  let restoring = 0;

  function inset(side) { return parseFloat(getComputedStyle(probe)['padding' + side]) || 0; }

  function measure() {
    if (!window.Module || !Module._kp_on_surface) return;
    const dpr = Math.min(window.devicePixelRatio || 1, most);
    const box = stage.getBoundingClientRect();
    const w = Math.max(1, Math.floor(box.width * dpr));
    const h = Math.max(1, Math.floor(box.height * dpr));
    if (canvas.width !== w || canvas.height !== h) {
      canvas.width = w;
      canvas.height = h;
    }
    canvas.style.width = w / dpr + 'px';
    canvas.style.height = h / dpr + 'px';
    Module._kp_on_surface(w / dpr, h / dpr, dpr, inset('Top'), inset('Right'), inset('Bottom'),
      inset('Left'));
  }

  function watchDensity() {
    matchMedia('(resolution: ' + window.devicePixelRatio + 'dppx)').addEventListener('change',
      function () { measure(); watchDensity(); }, { once: true });
  }

  function onLost(event) {
    event.preventDefault();
    Module._kp_on_context(0);
    kickplate.notice('context', 'The picture is paused. Your steps are saved.');
    restoring = setTimeout(rebuild, 3000);
  }

  function onRestored() {
    clearTimeout(restoring);
    Module._kp_on_context(1);
    kickplate.notice('context', '');
  }

  // No restore came: a new canvas gets a new context.
  function rebuild() {
    const fresh = canvas.cloneNode(false);
    canvas.replaceWith(fresh);
    canvas = fresh;
    kickplate.input.listen(canvas);
    watchContext();
    measure();
    Module._kp_on_context(1);
    const works = canvas.getContext('webgl2');
    if (works && !works.isContextLost()) {
      kickplate.notice('context', '');
    } else {
      kickplate.notice('context', 'The picture does not come back. Your steps are saved.', 'Reload',
        function () { location.reload(); });
    }
  }

  function watchContext() {
    canvas.addEventListener('webglcontextlost', onLost);
    canvas.addEventListener('webglcontextrestored', onRestored);
  }

  function start() {
    watchContext();
    kickplate.input.listen(canvas);
    new ResizeObserver(measure).observe(stage);
    watchDensity();
    // While a phone turns, sizes are nonsense for a moment.
    const turned = function () { [100, 300, 600].forEach(function (ms) { setTimeout(measure, ms); }); };
    window.addEventListener('orientationchange', turned);
    measure();
  }

  return { start: start, measure: measure };
})();
