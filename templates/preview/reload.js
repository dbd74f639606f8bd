/* Shows a later reading of the catalogue. The page's own policy allows nothing but files from here,
   so the question is a script that the server keeps back until there is an answer. */
(function () {
  "use strict";
  const own = document.currentScript.dataset;
  const place = "preview:" + location.pathname;
  let asking = false;
  let leaving = false;

  function ask() {
    if (asking || leaving || document.hidden) { return; }
    const script = document.createElement("script");
    function again(pause) {
      script.remove();
      asking = false;
      window.setTimeout(ask, pause);
    }
    asking = true;
    script.onload = function () { again(50); };
    script.onerror = function () { again(1000); };  // the server is gone, perhaps to come back
    script.src = "/-/after/" + own.reading + ".js";
    document.head.append(script);
  }

  // The browser would keep the place, too, but not over a page of problems in between.
  function remember() {
    if ("troubled" in own) { return; }
    sessionStorage.setItem(place, window.scrollY);
    history.scrollRestoration = "manual";
  }

  function comeBack() {
    const kept = sessionStorage.getItem(place);
    if ("troubled" in own || kept === null) { return; }
    sessionStorage.removeItem(place);
    if (performance.getEntriesByType("navigation")[0].type === "reload") {
      window.scrollTo({ top: Number(kept), behavior: "instant" });
    }
    window.requestAnimationFrame(() => {  // only then is the browser done with its own
      window.requestAnimationFrame(() => { history.scrollRestoration = "auto"; });
    });
  }

  document.addEventListener("visibilitychange", ask);
  document.addEventListener("preview:changed", () => {
    leaving = true;
    remember();
    location.reload();
  });
  window.addEventListener("load", () => {
    comeBack();
    ask();
  });
}());
