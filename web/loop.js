// Frames only when something is due. The program's answer says when: 0 at once, a number of
// milliseconds, or below 0 only when something happens.
'use strict';
kickplate.loop = (function () {
  let frame = 0;
  let timer = 0;
  let wasHidden = document.hidden;
  let stopped = false;

  function schedule(next, again) {
    if (next === 0) {
      again();
    } else if (next > 0) {
      timer = setTimeout(function () { timer = 0; wake(); }, next);
    }
    kickplate.idle = frame === 0;
  }

  function run() {
    frame = 0;
    clearTimeout(timer);
    timer = 0;
    if (stopped) return;
    kickplate.framesDrawn += 1;
    schedule(Module._kp_on_frame(), wake);
  }

  // While hidden nothing is drawn; the program still takes what finished.
  function think() {
    frame = 0;
    clearTimeout(timer);
    timer = 0;
    if (stopped) return;
    const next = Module._kp_on_think();
    if (next >= 0) timer = setTimeout(think, Math.max(next, 1000));
  }

  function wake() {
    kickplate.idle = false;
    if (frame !== 0 || stopped) return;
    if (document.hidden) {
      clearTimeout(timer);
      timer = setTimeout(think, 0);
      return;
    }
    frame = requestAnimationFrame(run);
  }

  document.addEventListener('visibilitychange', function () {
    if (document.hidden) {
      wasHidden = true;
      cancelAnimationFrame(frame);
      frame = 0;
    }
    if (!window.Module || !Module._kp_on_frame) return;
    if (document.hidden) Module._kp_on_lost();
    Module._kp_on_hidden(document.hidden ? 1 : 0);
    wake();
  });
  window.addEventListener('pageshow', function (event) {
    if (event.persisted && window.Module && Module._kp_on_frame) wake();
  });
  document.addEventListener('freeze', function () { wasHidden = true; });

  return {
    wake: wake,
    stop: function () { stopped = true; },
    takeHidden: function () {
      const was = wasHidden;
      wasHidden = document.hidden;
      return was;
    }
  };
})();
