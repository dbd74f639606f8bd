/* Shows a later reading of the catalogue. The page's own policy allows nothing but files from here,
   so the question is a script that the server keeps back until there is an answer. */
(function () {
  "use strict";
  var own = document.currentScript.dataset;
  var place = "preview:" + location.pathname;
  var asking = false;
  var leaving = false;

  function ask() {
    if (asking || leaving || document.hidden) { return; }
    var script = document.createElement("script");
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
    var kept = sessionStorage.getItem(place);
    if ("troubled" in own || kept === null) { return; }
    sessionStorage.removeItem(place);
    if (performance.getEntriesByType("navigation")[0].type === "reload") {
      window.scrollTo({ top: Number(kept), behavior: "instant" });
    }
    window.requestAnimationFrame(function () {  // only then is the browser done with its own
      window.requestAnimationFrame(function () { history.scrollRestoration = "auto"; });
    });
  }

  document.addEventListener("visibilitychange", ask);
  document.addEventListener("preview:changed", function () {
    leaving = true;
    remember();
    location.reload();
  });
  window.addEventListener("load", function () {
    comeBack();
    ask();
  });
}());
