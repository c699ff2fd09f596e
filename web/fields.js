// Text fields are real ones, laid over the picture while somebody types: only they bring up a
// phone's keyboard, and only their own value is to be trusted.
'use strict';
kickplate.fields = (function () {
  const kValue = 11;  // of ui::EventKind
  const kLine = 1, kArea = 2, kKeypad = 3;
  let field = null;   // the one being typed into
  let text = false;   // the mirror is the page
  const pads = new Set();

  // In the picture the tool's own keypad types; as text a figure is typed like any word.
  function set_pad(element) {
    element.readOnly = !text;
    element.inputMode = text ? 'decimal' : 'none';
  }

  function make(element, item, send) {
    element.autocomplete = 'off';
    element.setAttribute('autocapitalize', item.typing === kArea ? 'sentences' : 'off');
    element.spellcheck = false;
    if (item.typing === kKeypad) {
      element.className = 'keypad';
      pads.add(element);
      set_pad(element);
      element.addEventListener('input', function () { send(kValue, item.id, element.value); });
      return;
    }
    let composing = false;
    const tell = function () { if (!composing) send(kValue, item.id, element.value); };
    element.addEventListener('compositionstart', function () { composing = true; });
    element.addEventListener('compositionend', function () { composing = false; tell(); });
    element.addEventListener('input', tell);
    element.addEventListener('focus', function () { field = element; element.classList.add('open'); });
    element.addEventListener('blur', function () {
      composing = false;
      tell();
      element.classList.remove('open');
      if (field === element) field = null;
    });
    element.addEventListener('keydown', function (event) {
      const done = event.key === 'Enter' && item.typing === kLine && !event.isComposing;
      if (done || event.key === 'Escape') element.blur();
    });
  }

  return {
    make: make,
    set_form: function (on) {
      text = on;
      pads.forEach(function (element) {
        if (element.isConnected) set_pad(element);
        else pads.delete(element);
      });
    },
    open: function () { return field; },
    leave: function () { if (field) field.blur(); }
  };
})();
