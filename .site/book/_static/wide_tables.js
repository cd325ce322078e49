/* A table that is wider than its page is moved sideways: by keys too, so it can have the focus. */
(function () {
  function look() {
    document.querySelectorAll('.bd-article table').forEach(function (table) {
      table.toggleAttribute('tabindex', false);
      if (table.scrollWidth > table.clientWidth) { table.tabIndex = 0; }
    });
  }
  addEventListener('load', look);
  addEventListener('resize', look);
})();
