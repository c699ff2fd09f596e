// The notice area outside the canvas: it must work when nothing else does.
'use strict';
window.kickplate = { framesDrawn: 0, idle: false };

(function () {
  const area = document.getElementById('notices');

  // One line per id; an empty text takes it away. With `label`, a button that does `act`.
  kickplate.notice = function (id, text, label, act) {
    let line = document.getElementById('notice-' + id);
    if (!text) {
      if (line) line.remove();
      return;
    }
    if (!line) {
      line = document.createElement('div');
      line.id = 'notice-' + id;
      line.className = 'notice';
      line.setAttribute('role', 'alert');
      area.appendChild(line);
    }
    line.textContent = text;
    if (label) {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = label;
      button.addEventListener('click', act);
      line.appendChild(button);
    }
  };

  // For readers. Each line is an element of its own: none is overwritten, and the same words are
  // told again.
  kickplate.tell = function (region, words) {
    const most = 20;
    const live = document.getElementById(region);
    const line = document.createElement('p');
    line.textContent = words;
    live.appendChild(line);
    while (live.children.length > most) live.firstChild.remove();
  };

  // When an event happened by the device that made it, in ms of performance.now(). A stamp that is
  // not on that clock is worth nothing.
  kickplate.when = function (event) {
    const now = performance.now();
    const at = event.timeStamp;
    return at > 0 && at <= now && now - at < 60000 ? at : now;
  };

  kickplate.fatal = function (text) {
    document.documentElement.dataset.failed = 'yes';
    kickplate.notice('fatal', text + ' Steps that were confirmed are saved.', 'Reload',
      function () { location.reload(); });
  };

  window.addEventListener('error', function (event) {
    if (event.error) kickplate.fatal('The program stopped.');
  });
})();
