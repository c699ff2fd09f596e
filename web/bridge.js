// What the program calls on the page. Linked into the glue; everything behind it lives in the
// page's own scripts, under window.kickplate.
mergeInto(LibraryManager.library, {
  kp_page_mirror: function (changes) { kickplate.mirror.apply(JSON.parse(UTF8ToString(changes))); },
  kp_page_wake: function () { kickplate.loop.wake(); },
  kp_page_ready: function () { kickplate.page.ready(); },
  kp_page_idle: function () {},
  kp_page_now: function () { return performance.now(); },
  kp_page_wall: function () { return Date.now(); },
  kp_page_offset_min: function () { return -new Date().getTimezoneOffset(); },
  kp_page_was_hidden: function () { return kickplate.loop.takeHidden() ? 1 : 0; },
  kp_page_random: function (bytes, count) {
    crypto.getRandomValues(HEAPU8.subarray(bytes, bytes + count));
  },
  kp_page_share: function (offer, name, mime, bytes, size) {
    kickplate.share.offer(offer, UTF8ToString(name), UTF8ToString(mime), HEAPU8.slice(bytes, bytes + size));
  },
  kp_page_handed: function (how) {
    const next = kickplate.share.takeHanded();
    if (!next) return 0;
    HEAP32[how >> 2] = next.how;
    return next.offer;
  },
  kp_page_notice: function (id, text) { kickplate.notice(UTF8ToString(id), UTF8ToString(text)); },
  kp_page_form: function (text, theme, percent) { kickplate.form.set(text !== 0, theme, percent); }
});
