// Pointer Events, wheel and keys, as the program's queue takes them. Nothing else listens to the
// canvas: mouse and touch events that browsers send besides would make one tap three.
'use strict';
kickplate.input = (function () {
  const kMove = 0, kDown = 1, kUp = 2, kCancel = 3;
  const keys = {
    Tab: 1, Enter: 2, ' ': 3, Escape: 4, Backspace: 5, Delete: 6, ArrowLeft: 7, ArrowRight: 8,
    ArrowUp: 9, ArrowDown: 10, Home: 11, End: 12, PageUp: 13, PageDown: 14
  };
  const firm = { passive: false };
  let pressed = null;   // where the present press began

  function send(kind, event) {
    Module._kp_on_pointer(kind, event.pointerId, event.pointerType === 'mouse' ? 0 : 1,
      event.offsetX, event.offsetY, kickplate.when(event), 0);
  }

  // A busy page gets many places in one event; a finger that slid off and came back is in them.
  function parts(event) {
    const all = event.getCoalescedEvents ? event.getCoalescedEvents() : [];
    return all.length > 1 ? all : [event];
  }

  function onDown(event) {
    event.preventDefault();
    if (event.pointerType === 'mouse' && event.button !== 0) return;
    kickplate.mirror.leaveField();
    kickplate.page.touched();
    pressed = { x: event.offsetX, y: event.offsetY };
    if (event.currentTarget.setPointerCapture) {
      try { event.currentTarget.setPointerCapture(event.pointerId); } catch (gone) { /* lifted already */ }
    }
    send(kDown, event);
  }

  function onUp(event) {
    event.preventDefault();
    if (event.pointerType === 'mouse' && event.button !== 0) return;
    send(kUp, event);
    // The phone's keyboard opens only for a field that is focused in this very event.
    if (pressed) kickplate.mirror.enterField(pressed, { x: event.offsetX, y: event.offsetY });
    kickplate.share.flush();
    pressed = null;
  }

  function onMove(event) {
    event.preventDefault();
    const own = event.currentTarget.getBoundingClientRect();
    parts(event).forEach(function (part) {
      if (part === event) return send(kMove, event);
      Module._kp_on_pointer(kMove, event.pointerId, event.pointerType === 'mouse' ? 0 : 1,
        part.clientX - own.left, part.clientY - own.top, kickplate.when(part), 0);
    });
  }

  function onCancel(event) {
    pressed = null;
    send(kCancel, event);
  }

  function onWheel(event) {
    event.preventDefault();
    const unit = event.deltaMode === 1 ? 18 : event.deltaMode === 2 ? 400 : 1;
    Module._kp_on_wheel(event.offsetX, event.offsetY, event.deltaX * unit, event.deltaY * unit,
      event.ctrlKey ? 1 : 0);
  }

  function listen(canvas) {
    canvas.addEventListener('pointerdown', onDown, firm);
    canvas.addEventListener('pointermove', onMove, firm);
    canvas.addEventListener('pointerup', onUp, firm);
    canvas.addEventListener('pointercancel', onCancel, firm);
    canvas.addEventListener('lostpointercapture', function (event) { if (pressed) onCancel(event); });
    canvas.addEventListener('wheel', onWheel, firm);
    ['touchstart', 'touchmove', 'touchend', 'contextmenu', 'dblclick'].forEach(function (name) {
      canvas.addEventListener(name, function (event) { event.preventDefault(); }, firm);
    });
  }

  // Keys are the page's while a real field has the focus, and the browser's own stay its own.
  function onKey(event) {
    if (!window.Module || !Module._kp_on_key) return;
    const target = event.target;
    if (target.tagName === 'INPUT' || target.tagName === 'TEXTAREA') {
      if (!target.readOnly || event.key === 'Tab') return;
    }
    if (event.isComposing || event.keyCode === 229) return;
    if (target.closest && target.closest('#notices')) return;
    const key = keys[event.key];
    const down = event.type === 'keydown';
    if (key === 1) return;   // Tab walks through the mirror
    if (key) {
      if (key === 2 || key === 3 || (key >= 7 && key <= 10)) event.preventDefault();
      Module._kp_on_key(down ? 1 : 0, key, event.shiftKey ? 1 : 0, event.ctrlKey ? 1 : 0,
        event.repeat ? 1 : 0, kickplate.when(event));
      if (key === 3 && !down) kickplate.share.flush();
    } else if (down && event.key.length === 1 && !event.ctrlKey && !event.metaKey && !event.altKey) {
      Module.ccall('kp_on_text', null, ['string'], [event.key]);
    }
  }

  function start() {
    document.addEventListener('keydown', onKey);
    document.addEventListener('keyup', onKey);
    window.addEventListener('blur', function () {
      if (window.Module && Module._kp_on_lost) Module._kp_on_lost();
    });
  }

  return { start: start, listen: listen };
})();
