/* Prices hold from an edition's first day to its last. By the reader's own clock a notice stands
   over them before and after; nothing is asked of anybody for it. */
(function () {
  "use strict";
  const notices = Array.from(document.querySelectorAll("[data-edition]"));
  const said = document.querySelector("[data-edition][data-last]");
  if (!said) { return; }

  function day(now) {
    const two = (number) => String(number).padStart(2, "0");
    return now.getFullYear() + "-" + two(now.getMonth() + 1) + "-" + two(now.getDate());
  }

  function tell() {
    const today = day(new Date());
    const words = today > said.dataset.last ? said.dataset.after
      : today < said.dataset.first ? said.dataset.before : "";
    notices.forEach((notice) => {
      notice.textContent = words;
      notice.hidden = !words;
    });
  }

  // A page that stays open overnight, or is printed the day after, says what holds then.
  document.addEventListener("visibilitychange", tell);
  window.addEventListener("pageshow", tell);
  window.addEventListener("beforeprint", tell);
  tell();
}());
