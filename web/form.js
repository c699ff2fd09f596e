// The page as text: where there is no picture (no WebGL, a lost context) the mirror comes forward,
// in the program's own colours and text size.
'use strict';
kickplate.form = (function () {
  const html = document.documentElement;
  const themes = ['day', 'night', 'sun'];   // ui::ThemeKind
  let text = false;
  let card = '';

  function set(on, theme, percent) {
    html.dataset.theme = themes[theme];
    html.style.setProperty('--text', String(percent / 100));
    if (on === text) return;
    text = on;
    html.classList.toggle('text-only', on);
    kickplate.fields.set_form(on);
    card = '';
    show_card();
  }

  // A new thing to do is read from its cautions on.
  function show_card() {
    if (!text) return;
    const headings = document.querySelectorAll('#mirror h1');
    let first = headings[headings.length - 1];
    if (!first) return;
    for (let one = first.previousElementSibling; one; one = one.previousElementSibling) {
      if (one.tagName === 'P' && (one.dataset.tag || one.dataset.kind === 'alert')) first = one;
      else if (one.tagName !== 'P' && one.tagName !== 'H1') break;
    }
    const now = first.textContent + headings[headings.length - 1].textContent;
    if (now === card) return;
    card = now;
    first.scrollIntoView({ block: 'start' });
  }

  return { set: set, isText: function () { return text; }, changed: show_card };
})();
