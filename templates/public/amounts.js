/* Exact amounts in whole smallest units, and how this page's language writes them. */
(function () {
  "use strict";

  // "1234.50" with two decimals is 123450. Nothing is rounded: the text has that many.
  function units(text, digits) {
    const parts = text.replace("-", "").split(".");
    const decimals = ((parts[1] || "") + "0".repeat(digits)).slice(0, digits);
    const whole = Number(parts[0] + decimals);
    return text.startsWith("-") ? -whole : whole;
  }

  function grouped(whole, style) {
    if (whole.length < style.grouped_from) { return whole; }
    const groups = [whole.slice(-style.sizes[0])];
    let rest = whole.slice(0, -style.sizes[0]);
    while (rest) {
      groups.unshift(rest.slice(-style.sizes[1]));
      rest = rest.slice(0, -style.sizes[1]);
    }
    return groups.join(style.separator);
  }

  // Whole smallest units as the language writes them: no number is minus nothing. A style of whole
  // prices leaves out decimals that are nought.
  function written(count, style) {
    const figures = String(Math.abs(count)).padStart(style.digits + 1, "0");
    const at = figures.length - style.digits;
    const decimals = figures.slice(at);
    const shown = style.whole && !Number(decimals) ? "" : style.decimal + decimals;
    const body = grouped(figures.slice(0, at), style) + shown;
    return count < 0
      ? style.before_negative + body + style.after_negative
      : style.before + body + style.after;
  }

  // How many of a size, halves away from zero as everywhere in a price list. No fraction is formed
  // before, so that a half stays one.
  function nearest(count, size) {
    return Math.sign(count) * Math.floor((2 * Math.abs(count) + size) / (2 * size));
  }

  function measured(count, size, fine, whole, wholeDigits) {
    return Math.abs(count) >= 10 ** (wholeDigits - 1) * size
      ? written(nearest(count, size), whole)
      : written(nearest(count, size / 10), fine);
  }

  // A mass in millionths of a kilogram: in kilograms, pounds, or with pounds beside them, as the
  // market reads it.
  function mass(count, masses) {
    const metric = masses.fine
      ? measured(count, 1e6, masses.fine, masses.whole, masses.whole_digits) : "";
    if (!masses.pound) { return metric; }
    const pound = Number(masses.pound) * 1e6;
    const beside = measured(
      count, pound, masses.pounds_fine, masses.pounds_whole, masses.pounds_whole_digits
    );
    return metric ? metric + " (" + beside + ")" : beside;
  }

  window.amounts = { units, written, mass };
}());
