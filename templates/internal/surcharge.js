/* Reads the fields of each calculator and writes what its clause makes of them. */
(function () {
  "use strict";

  function amountIn(field) {
    const value = Number(field.value);
    return field.value !== "" && isFinite(value) && value > 0 ? value : null;
  }

  function start(form) {
    const language = document.documentElement.lang;
    const digits = Number(form.getAttribute("data-digits"));
    const money = new Intl.NumberFormat(language, {
      minimumFractionDigits: digits, maximumFractionDigits: digits
    });
    const percent = new Intl.NumberFormat(language, {
      style: "percent", minimumFractionDigits: 2, maximumFractionDigits: 2
    });
    const written = { counted: percent, fraction: percent, surcharge: money, adjusted: money };
    const compute = window.quoterClauses[form.getAttribute("data-clause")];

    function show() {
      const price = amountIn(form.elements.price);
      const base = amountIn(form.elements.base);
      const now = amountIn(form.elements.now);
      const whole = price !== null && base !== null && now !== null;
      const found = whole ? compute(price, base, now) : null;
      Object.keys(written).forEach((name) => {
        form.elements[name].value = found ? written[name].format(found[name]) : "–";
      });
      const told = found ? (found.leave ? form.dataset.yes : form.dataset.no) : "–";
      form.elements.leave.value = told;
      form.querySelector(".fault").textContent = whole ? "" : form.dataset.fault;
    }

    form.addEventListener("input", show);
    form.addEventListener("submit", (event) => { event.preventDefault(); });
    form.hidden = false;
    show();
  }

  document.querySelectorAll("form.calculator").forEach(start);
  document.querySelectorAll(".unscripted").forEach((words) => {
    words.hidden = true;
  });
}());
