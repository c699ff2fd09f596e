// Documents for the person: shared, saved or printed, as the device can. The program offers one;
// the browser lets it out only within a tap, so an offer that comes late waits for the next.
'use strict';
kickplate.share = (function () {
  const kShared = 0, kLetOut = 1, kPutAway = 2;  // of kp_page_handed
  const waiting = [];
  const handed = [];   // what became of offers and was not told yet

  function tell(offer, how) {
    handed.push({ offer: offer, how: how });
    kickplate.loop.wake();
  }

  function save(file) {
    const url = URL.createObjectURL(file);
    const link = document.createElement('a');
    link.href = url;
    link.download = file.name;
    document.body.appendChild(link);
    link.click();
    link.remove();
    setTimeout(function () { URL.revokeObjectURL(url); }, 60000);
  }

  // A page that prints itself: no picture of the screen is ever printed.
  function print(file) {
    const url = URL.createObjectURL(file);
    const frame = document.createElement('iframe');
    frame.hidden = true;
    frame.src = url;
    frame.addEventListener('load', function () {
      try {
        frame.contentWindow.focus();
        frame.contentWindow.print();
      } catch (refused) {
        save(file);
      }
    });
    document.body.appendChild(frame);
    setTimeout(function () { frame.remove(); URL.revokeObjectURL(url); }, 60000);
  }

  function button(line, label, act) {
    const element = document.createElement('button');
    element.type = 'button';
    element.textContent = label;
    element.addEventListener('click', act);
    line.appendChild(element);
  }

  // The choice stands in the notice area: its buttons are real taps.
  function choice(offer, file) {
    let taken = false;
    const out = function (how) { taken = true; tell(offer, how); };
    const id = 'document-' + file.name;
    kickplate.notice(id, file.name);
    const line = document.getElementById('notice-' + id);
    const files = [file];
    if (navigator.canShare && navigator.canShare({ files: files })) {
      button(line, 'Share', function () {
        navigator.share({ files: files }).then(function () { out(kShared); }, function (error) {
          if (error.name === 'NotAllowedError') kickplate.notice('share', 'Press Share again.');
        });
      });
    }
    button(line, 'Save', function () { save(file); out(kLetOut); });
    if (file.type === 'text/html') button(line, 'Print', function () { print(file); out(kLetOut); });
    button(line, 'Done', function () {
      kickplate.notice(id, '');
      if (!taken) tell(offer, kPutAway);
    });
  }

  function offer(number, name, mime, bytes) {
    const file = new File([bytes], name, { type: mime });
    kickplate.lastDocument = { name: name, mime: mime, size: bytes.length };
    waiting.push({ offer: number, file: file });
    setTimeout(flush, 0);
  }

  function flush() {
    while (waiting.length > 0) {
      const next = waiting.shift();
      choice(next.offer, next.file);
    }
  }

  return {
    offer: offer,
    flush: flush,
    save: save,
    takeHanded: function () { return handed.shift(); }
  };
})();
