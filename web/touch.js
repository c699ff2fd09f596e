// What is held or drawn on, as a real element: the touch goes to the program with the item's name
// and the event's own time. Sliding off, a second finger, a lost touch cancel, as in the picture.
'use strict';
kickplate.touch = (function () {
  const kMove = 0, kDown = 1, kUp = 2, kCancel = 3;   // of ui::EventKind
  const firm = { passive: false };
  let held = null;   // { element, pointer, cancel }

  function tell(kind, event, item, u, v) {
    const box = item.box;
    Module._kp_on_pointer(kind, event.pointerId, event.pointerType === 'mouse' ? 0 : 1,
      box[0] + u * box[2], box[1] + v * box[3], kickplate.when(event), item.id);
  }

  function inside(element, event) {
    const box = element.getBoundingClientRect();
    return event.clientX >= box.left && event.clientX < box.right && event.clientY >= box.top &&
      event.clientY < box.bottom;
  }

  function share(element, event) {
    const box = element.getBoundingClientRect();
    const part = function (at, from, size) { return Math.min(1, Math.max(0, (at - from) / size)); };
    return [part(event.clientX, box.left, box.width), part(event.clientY, box.top, box.height)];
  }

  // `item` gives the element's item as it is now; `at` where the touch is, as shares of its box.
  function listen(element, item, at, keeps) {
    function end(kind, event) {
      if (!held || held.element !== element || held.pointer !== event.pointerId) return;
      held = null;
      element.classList.remove('held');
      const place = at(event);
      tell(kind, event, item(), place[0], place[1]);
      kickplate.share.flush();
    }
    element.addEventListener('pointerdown', function (event) {
      if (event.pointerType === 'mouse' && event.button !== 0) return;
      if (element.getAttribute('aria-disabled') === 'true' || held) return;
      held = { element: element, pointer: event.pointerId, cancel: function () { end(kCancel, event); } };
      element.classList.add('held');
      try { element.setPointerCapture(event.pointerId); } catch (gone) { /* lifted already */ }
      kickplate.page.touched();
      const place = at(event);
      tell(kDown, event, item(), place[0], place[1]);
    }, firm);
    element.addEventListener('pointermove', function (event) {
      if (!held || held.element !== element || held.pointer !== event.pointerId) return;
      if (!keeps && !inside(element, event)) return end(kCancel, event);
      const place = at(event);
      tell(kMove, event, item(), place[0], place[1]);
    });
    element.addEventListener('pointerup', function (event) { end(kUp, event); });
    element.addEventListener('pointercancel', function (event) { end(kCancel, event); });
    element.addEventListener('lostpointercapture', function (event) { end(kCancel, event); });
    element.addEventListener('contextmenu', function (event) { event.preventDefault(); });
  }

  function middle() { return [0.5, 0.5]; }

  // A pad for a signature: what is drawn is seen here and stored by the program.
  function pad(element, item) {
    let last = null;
    const at = function (event) { return share(element, event); };
    function draw(event) {
      const box = element.getBoundingClientRect();
      if (element.width !== Math.round(box.width) || element.height !== Math.round(box.height)) {
        element.width = Math.round(box.width);
        element.height = Math.round(box.height);
      }
      const place = at(event);
      const pen = element.getContext('2d');
      pen.strokeStyle = getComputedStyle(element).color;
      pen.lineWidth = 2.6;
      pen.lineCap = 'round';
      pen.beginPath();
      pen.moveTo((last || place)[0] * element.width, (last || place)[1] * element.height);
      pen.lineTo(place[0] * element.width, place[1] * element.height);
      pen.stroke();
      last = place;
    }
    listen(element, item, at, true);
    element.addEventListener('pointerdown', function (event) { last = null; draw(event); });
    element.addEventListener('pointermove', function (event) { if (held && held.element === element) draw(event); });
  }

  document.addEventListener('pointerdown', function (event) {
    if (held && !held.element.isConnected) held = null;   // its card went while it was pressed
    if (held && held.pointer !== event.pointerId) held.cancel();
  }, true);

  return {
    hold: function (element, item) { listen(element, item, middle, false); },
    pad: pad,
    wipe: function (element) { element.width = element.width; }
  };
})();
