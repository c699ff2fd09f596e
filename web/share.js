// Documents for the person: shared, saved or printed, as the device can. The program offers one;
// the browser lets it out only within a tap, so an offer that comes late waits for the next.
'use strict';
kickplate.share = (function () {
  const waiting = [];

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
  function choice(file) {
    const id = 'document-' + file.name;
    kickplate.notice(id, file.name);
    const line = document.getElementById('notice-' + id);
    const files = [file];
    if (navigator.canShare && navigator.canShare({ files: files })) {
      button(line, 'Share', function () {
        navigator.share({ files: files }).catch(function (error) {
          if (error.name === 'NotAllowedError') kickplate.notice('share', 'Press Share again.');
        });
      });
    }
    button(line, 'Save', function () { save(file); });
    if (file.type === 'text/html') button(line, 'Print', function () { print(file); });
    button(line, 'Done', function () { kickplate.notice(id, ''); });
  }

  function offer(name, mime, bytes) {
    const file = new File([bytes], name, { type: mime });
    kickplate.lastDocument = { name: name, mime: mime, size: bytes.length };
    waiting.push(file);
    setTimeout(flush, 0);
  }

  function flush() {
    while (waiting.length > 0) choice(waiting.shift());
  }

  return { offer: offer, flush: flush, save: save };
})();
