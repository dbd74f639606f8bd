/* The command that works out the margin review's what-if from the catalogue. */
(function () {
  "use strict";

  // Twelve digits: all that was written, and none that only floating numbers add.
  function tidy(value) { return String(Number(value.toPrecision(12))); }

  function shellWord(text) {
    return /[^\w@%+=:,.\/-]/.test(text) ? "'" + text.replace(/'/g, "'\"'\"'") + "'" : text;
  }

  // A percentage on top of the one that the page was built with, if there is one.
  function onTop(own, key, value) {
    return own.reduce((sum, setting) => (
      setting[0] === key ? ((1 + setting[2] / 100) * (1 + sum / 100) - 1) * 100 : sum
    ), value);
  }

  // The page's own settings with what is moved on top: values by key, in their order.
  function settingsNow(data, levelOf, ticked) {
    const own = data.command.settings;
    const found = {};
    const raised = {};
    own.forEach((setting) => { found[setting[0]] = setting[1]; });
    data.factors.forEach((factor) => {
      if (factor.kind === "rise" || levelOf(factor) === 0) { return; }
      const value = onTop(own, factor.setting, levelOf(factor));
      found[factor.setting] = (value < 0 ? "" : "+") + tidy(value) + "%";
    });
    ticked.forEach((rise) => {
      data.command.rises[rise.id].prices.forEach((price) => {
        const before = raised[price[0]] === undefined ? price[1] : raised[price[0]];
        raised[price[0]] = before + price[3];
        found["price." + price[0]] = tidy(raised[price[0]]) + " " + price[2];
      });
    });
    return found;
  }

  // `levelOf` gives a slider's per cent, `ticked` are the rises that hold. `kept` is the setting
  // that keeps a command from saying it, or empty.
  window.quoterMarginCommand = function (data, levelOf, ticked) {
    const found = settingsNow(data, levelOf, ticked);
    const words = Object.keys(found).map((key) => "--set " + shellWord(key + "=" + found[key]));
    const kept = ticked.map((rise) => data.command.rises[rise.id].kept);
    return {
      command: [data.command.begin].concat(words, data.command.end).join(" "),
      kept: kept.filter(Boolean)[0] || ""
    };
  };
}());
