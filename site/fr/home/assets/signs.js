/* Where the browser lets a page, pressing the sign beside a heading copies its address; elsewhere
   the sign is the link that it is. */
(function () {
  "use strict";
  const words = document.currentScript.getAttribute("data-copied");

  function copied(sign) {
    const told = document.createElement("span");
    told.setAttribute("role", "status");
    told.className = "copied screen";
    sign.after(told);
    // A listener hears what comes after the element itself.
    setTimeout(() => { told.textContent = words; }, 50);
    setTimeout(() => told.remove(), 4000);
  }

  document.addEventListener("click", (event) => {
    const sign = event.target.closest("[data-sign]");
    if (!sign || !navigator.clipboard || event.button || event.ctrlKey || event.metaKey ||
      event.shiftKey || event.altKey) { return; }
    event.preventDefault();
    navigator.clipboard.writeText(sign.href).then(
      () => copied(sign), () => { location.hash = sign.hash; }
    );
  });
}());
