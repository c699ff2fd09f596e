// Real elements over the picture, one for each item of the semantics list: for screen readers,
// the keyboard, translation and tests. They let every touch through; a click by an assistive tool
// goes to the program, and a text field is the one that is typed into.
'use strict';
kickplate.mirror = (function () {
  const kActivate = 9, kFocus = 10, kValue = 11;  // of ui::EventKind
  const kArea = 2, kKeypad = 3;       // of ui::Typing
  const kHold = 1, kDraw = 2;         // of ui::Pressing
  const root = document.getElementById('mirror');
  const known = new Map();   // id -> { item, element, outer }
  const fields = kickplate.fields;

  function send(kind, id, text) {
    Module.ccall('kp_on_item', null, ['number', 'number', 'string'], [kind, id, text || '']);
  }

  function make(item) {
    const tags = { button: 'button', checkbox: 'button', radio: 'button', heading: 'h' + (item.level || 2),
      text: 'p', status: 'p', alert: 'p', item: 'div', list: 'div', region: 'section' };
    let tag = tags[item.role] || 'div';
    if (item.press === kDraw) tag = 'canvas';
    if (item.role === 'textbox') tag = item.typing === kArea ? 'textarea' : 'input';
    const element = document.createElement(tag);
    if (tag === 'button') element.type = 'button';
    if (item.role === 'textbox') fields.make(element, item, send);
    const now = function () { return (known.get(item.id) || { item: item }).item; };
    if (item.press === kHold) kickplate.touch.hold(element, now);
    if (item.press === kDraw) kickplate.touch.pad(element, now);
    element.addEventListener('click', function (event) {
      event.preventDefault();
      // A finger's or a mouse's own press was told as it happened; a reader's click was not.
      if (item.press && event.detail > 0 && kickplate.form.isText()) return;
      if (element.getAttribute('aria-disabled') !== 'true' && item.role !== 'textbox') {
        send(kActivate, item.id);
        kickplate.share.flush();
      }
    });
    element.addEventListener('focus', function () { send(kFocus, item.id); });
    element.addEventListener('blur', function () { send(kFocus, 0); });
    return element;
  }

  const plain = { text: 1, status: 1, alert: 1, heading: 1 };
  const roles = { checkbox: 'checkbox', radio: 'radio', slider: 'slider', progress: 'progressbar',
    image: 'img', item: 'listitem' };

  function describe(entry) {
    const item = entry.item;
    const element = entry.element;
    const words = item.value && item.role !== 'textbox' && item.role !== 'slider'
      ? item.name + ', ' + item.value : item.name;
    const set = function (name, value) {
      if (value === undefined || value === '' || value === null) element.removeAttribute(name);
      else element.setAttribute(name, value);
    };
    if (roles[item.role]) set('role', roles[item.role]);
    if (item.press === kDraw) {
      set('role', 'img');
      if (item.value === 'empty') kickplate.touch.wipe(element);
    }
    set('data-tag', item.tag);
    set('data-press', item.press === kHold ? 'hold' : '');
    if (plain[item.role]) element.dataset.kind = item.role;
    if (item.role === 'region') set('role', item.modal ? 'dialog' : 'region');
    if (item.role === 'list') set('role', entry.radios ? 'radiogroup' : 'list');
    if (plain[item.role] || item.role === 'item' || element.tagName === 'BUTTON') {
      const text = element.tagName === 'BUTTON' ? item.name : words;
      if (element.textContent !== text) element.textContent = text;
    } else {
      set('aria-label', item.name);
    }
    const more = [element.tagName === 'BUTTON' ? item.value : '', item.hint].filter(Boolean).join('. ');
    set('aria-description', plain[item.role] ? '' : more);
    set('aria-disabled', item.off ? 'true' : '');
    set('aria-busy', item.busy ? 'true' : '');
    set('aria-current', item.current ? 'step' : '');
    set('aria-modal', item.modal ? 'true' : '');
    if (item.role === 'checkbox' || item.role === 'radio') set('aria-checked', item.checked ? 'true' : 'false');
    if (item.role === 'slider' || item.role === 'progress') {
      set('aria-valuemin', item.low);
      set('aria-valuemax', item.high);
      set('aria-valuenow', item.now);
      set('aria-valuetext', item.value);
    }
    if (item.role === 'slider') element.tabIndex = 0;
    if (item.role === 'textbox' && element !== fields.open() && element.value !== item.value) {
      element.value = item.value || '';
    }
  }

  // Boxes are in the page's px; what stands in a group is placed from the group's corner.
  function place(entry) {
    const box = entry.item.box;
    const parent = known.get(entry.item.parent);
    const from = parent ? parent.item.box : [0, 0];
    const wanted = [box[0] - from[0], box[1] - from[1], box[2], box[3]].join();
    if (entry.placed === wanted) return;
    entry.placed = wanted;
    const style = entry.element.style;
    style.left = box[0] - from[0] + 'px';
    style.top = box[1] - from[1] + 'px';
    style.width = box[2] + 'px';
    style.height = box[3] + 'px';
  }

  function update(item) {
    let entry = known.get(item.id);
    if (!entry || entry.item.role !== item.role || entry.item.typing !== item.typing) {
      if (entry) entry.outer.remove();
      entry = { item: item, element: make(item) };
      entry.outer = entry.element;
      known.set(item.id, entry);
    }
    entry.item = item;
    describe(entry);
  }

  // A list's children are list items; a button in it gets one around it.
  function wrapped(entry, parent) {
    const inList = parent && parent.item.role === 'list' && !parent.radios;
    if (!inList || entry.item.role === 'item') return entry.element;
    if (entry.outer === entry.element) {
      entry.outer = document.createElement('div');
      entry.outer.setAttribute('role', 'listitem');
      entry.outer.className = 'around';
      entry.outer.appendChild(entry.element);
    }
    return entry.outer;
  }

  function order(ids) {
    const alive = new Set(ids);
    const had = document.activeElement;
    known.forEach(function (entry, id) {
      if (!alive.has(id)) { entry.outer.remove(); known.delete(id); }
    });
    ids.forEach(function (id) {
      const parent = known.get(known.get(id).item.parent);
      if (parent && parent.item.role === 'list') parent.radios = known.get(id).item.role === 'radio';
    });
    const next = new Map();
    ids.forEach(function (id) {
      const entry = known.get(id);
      const parent = known.get(entry.item.parent);
      const home = parent ? parent.element : root;
      const node = wrapped(entry, parent);
      const here = next.has(home) ? next.get(home) : home.firstChild;
      if (here === node) {
        next.set(home, node.nextSibling);
      } else {
        home.insertBefore(node, here);
        next.set(home, here);
      }
      if (entry.item.role === 'list') describe(entry);
    });
    // Whoever walks by keyboard goes on from the top of the page, not from the browser's bar.
    if (had !== document.activeElement && had && !had.isConnected) root.focus({ preventScroll: true });
  }

  function apply(changes) {
    (changes.items || []).forEach(update);
    if (changes.order) order(changes.order);
    (changes.boxes || []).forEach(function (pair) {
      const entry = known.get(pair[0]);
      if (entry) entry.item.box = pair[1];
    });
    known.forEach(place);
    (changes.told || []).forEach(function (one) { kickplate.tell(one[0] ? 'alert' : 'say', one[1]); });
    if (changes.order || changes.items) kickplate.form.changed();
  }

  function inside(box, at) {
    return at.x >= box[0] && at.y >= box[1] && at.x < box[0] + box[2] && at.y < box[1] + box[3];
  }

  function enterField(from, to) {
    known.forEach(function (entry) {
      const item = entry.item;
      if (item.role !== 'textbox' || item.typing === kKeypad || item.off || item.hidden) return;
      if (inside(item.box, from) && inside(item.box, to)) entry.element.focus({ preventScroll: true });
    });
  }

  return {
    apply: apply,
    enterField: enterField,
    leaveField: fields.leave,
    items: function () { return Array.from(known.values(), function (entry) { return entry.item; }); }
  };
})();
