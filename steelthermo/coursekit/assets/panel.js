/* Runs once per panel on the page. The sliders, pictures and text areas of ipywidgets come without accessible names,
   live region or alt text; this gives them theirs, again whenever a part of the panel is drawn anew. It also tells the
   kernel how dense the screen is. */
(function (start) {
  var tries = 0, told;
  function tell(panel) {
    var box = panel.querySelector('.st-density input');
    if (box && told !== devicePixelRatio) {
      told = devicePixelRatio;
      box.value = String(told);
      box.dispatchEvent(new Event('change', { bubbles: true }));
    }
  }
  function tidy(handle) { /* the value as spoken: 4.85, not 4.8500000000000005 */
    var text = handle.getAttribute('aria-valuetext'), plain = String(parseFloat(Number(text).toPrecision(10)));
    if (text !== null && plain !== 'NaN' && plain !== text) { handle.setAttribute('aria-valuetext', plain); }
  }
  function name(panel) {
    panel.setAttribute('role', 'group');
    panel.setAttribute('aria-label', start.dataset.title);
    /* JupyterLab takes arrow keys and letters for its own shortcuts unless the part that has the focus says no */
    panel.querySelectorAll('select, [role=slider]').forEach(function (part) { part.setAttribute('data-lm-suppress-shortcuts', 'true'); });
    panel.querySelectorAll('.st-row').forEach(function (row) {
      var handle = row.querySelector('[role=slider]'), caption = row.querySelector('.widget-text > label');
      if (!handle || !caption || handle.hasAttribute('aria-label')) { return; }
      handle.setAttribute('aria-label', caption.textContent);
      tidy(handle);
      new MutationObserver(function () { tidy(handle); }).observe(handle, { attributeFilter: ['aria-valuetext'] });
    });
    var region = panel.querySelector('.st-sentence');
    if (region && !region.hasAttribute('aria-live')) {
      region.setAttribute('role', 'status');
      region.setAttribute('aria-live', 'polite');
      region.setAttribute('aria-atomic', 'true');
    }
    var picture = panel.querySelector('img.st-picture'), words = panel.querySelector('.st-alt');
    if (picture && words && picture.alt !== words.textContent) { picture.alt = words.textContent; }
    reach(panel);
    tell(panel);
  }
  function reach(panel) { /* a picture wider than its place is scrolled by keyboard too */
    var frame = panel.querySelector('.st-frame'), wide = frame && frame.scrollWidth > frame.clientWidth;
    if (frame && frame.hasAttribute('tabindex') !== wide) { frame.toggleAttribute('tabindex', wide); if (wide) { frame.tabIndex = 0; } }
    if (frame) { frame.setAttribute('data-lm-suppress-shortcuts', 'true'); }
  }
  (function find() {
    var panel = start.closest('.st-panel');
    if (!panel) { if (++tries < 200) { setTimeout(find, 50); } return; }
    new MutationObserver(function () { name(panel); }).observe(panel, { childList: true, subtree: true });
    addEventListener('resize', function () { if (panel.isConnected) { tell(panel); reach(panel); } });
    name(panel);
  })();
})(this);
