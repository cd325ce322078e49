/* Runs once per page: names the page and its problems for screen readers, and makes every verdict a live region. */
(function (start) {
  var tries = 0;
  function name(page) {
    page.setAttribute('role', 'group');
    page.setAttribute('aria-label', start.dataset.title);
    /* JupyterLab takes arrow keys and letters for its own shortcuts unless the part that has the focus says no */
    page.querySelectorAll('select, input[type=radio]').forEach(function (part) { part.setAttribute('data-lm-suppress-shortcuts', 'true'); });
    page.querySelectorAll('.st-problem').forEach(function (problem) {
      var heading = problem.querySelector('h3');
      problem.setAttribute('role', 'group');
      if (heading) { problem.setAttribute('aria-label', heading.textContent); }
    });
    page.querySelectorAll('.st-sentence:not([aria-live])').forEach(function (region) {
      region.setAttribute('role', 'status');
      region.setAttribute('aria-live', 'polite');
      region.setAttribute('aria-atomic', 'true');
    });
  }
  (function find() {
    var page = start.closest('.st-exercise');
    if (!page) { if (++tries < 200) { setTimeout(find, 50); } return; }
    new MutationObserver(function () { name(page); }).observe(page, { childList: true, subtree: true });
    name(page);
  })();
})(this);
