/* Reads the fields of each calculator and writes what its clause makes of them. */
function amountIn(field) {
  var value = Number(field.value);
  return field.value !== "" && isFinite(value) && value > 0 ? value : null;
}

function start(form) {
  var language = document.documentElement.lang;
  var digits = Number(form.getAttribute("data-digits"));
  var money = new Intl.NumberFormat(language, {
    minimumFractionDigits: digits, maximumFractionDigits: digits
  });
  var percent = new Intl.NumberFormat(language, {
    style: "percent", minimumFractionDigits: 2, maximumFractionDigits: 2
  });
  var written = { counted: percent, fraction: percent, surcharge: money, adjusted: money };
  var compute = clauses[form.getAttribute("data-clause")];

  function show() {
    var price = amountIn(form.elements.price);
    var base = amountIn(form.elements.base);
    var now = amountIn(form.elements.now);
    var whole = price !== null && base !== null && now !== null;
    var found = whole ? compute(price, base, now) : null;
    Object.keys(written).forEach(function (name) {
      form.elements[name].value = found ? written[name].format(found[name]) : "–";
    });
    var told = found ? (found.leave ? "yes" : "no") : "–";
    form.elements.leave.value = told;
    form.querySelector(".fault").textContent = whole ? "" : "Write a number above 0 in each field.";
  }

  form.addEventListener("input", show);
  form.addEventListener("submit", function (event) { event.preventDefault(); });
  form.hidden = false;
  show();
}

Array.prototype.forEach.call(document.querySelectorAll("form.calculator"), start);
Array.prototype.forEach.call(document.querySelectorAll(".unscripted"), function (words) {
  words.hidden = true;
});
