/* Words as a reader types them, held against words as a page has them: without accents, capitals
   and the endings of plurals and other forms. A word is found within a longer one, too. */
(function () {
  "use strict";
  const FOLDED = { "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "’": "'" };
  const LEFT = 3; // letters that a word keeps at least
  const WITHIN = 5; // letters of a stem that is looked for in the middle of a word as well

  // What else people write for letters that their keyboard lacks.
  const SPELT = { de: [/([aou])e/, "$1"], nb: [/(a)a|(o)e/, "$1$2"] };

  // Steps of each language: each takes the first ending off that fits and leaves enough of a word.
  const STEPS = {
    en: [
      [[/ies$|ied$/, "y"], [/(ss|sh|ch|x|z)es$/, "$1"], [/'s$/, ""], [/([^su])s$/, "$1"]],
      [[/(?:ing|ed)$/, ""]], [[/e$/, ""]], [[/([bdfgmnprt])\1$/, "$1"]], [[/y$/, "i"]]
    ],
    de: [
      [[/(?:ern|em|er|en|es|e)$/, ""], [/([bdfghklmnrt])s$/, "$1"], [/([lr])n$/, "$1"]],
      [[/(?:er|en|est|st|e)$/, ""]]
    ],
    fr: [
      [[/eaux$/, "eau"], [/aux$/, "al"], [/[sx]$/, ""]],
      [[/eu(?:x|se)$/, "eu"], [/i(?:f|ve)$/, "i"], [/er$/, ""], [/e+$/, ""]],
      [[/e$/, ""]], [[/([lnrt])\1$/, "$1"]]
    ],
    es: [[[/ces$/, "z"], [/([^aeiou])es$/, "$1"], [/s$/, ""]], [[/[aeo]$/, ""]]],
    nb: [
      [[/het(?:enes|ene|ens|en|er)$/, "het"], [/(?:endes|ende|ande|edes|ede)$/, ""],
        [/(?:enes|ene|ane|ens|ers|ets|ast)$/, ""], [/(?:en|ar|er|as|es|et)$/, ""], [/[ae]$/, ""],
        [/([bcdfghjklmnoprtvyz])s$/, "$1"]],
      [[/([bdfgklmnprst])\1$/, "$1"]]
    ]
  };

  function plain(text) {
    return text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase()
      .replace(/[ßæœøłđ’]/g, (letter) => FOLDED[letter]);
  }

  function stripped(word, endings) {
    const fitting = endings.map((each) => (each[0].test(word) ? word.replace(each[0], each[1]) : ""));
    return fitting.filter((each) => each.length >= LEFT)[0] || word;
  }

  function forms(tag) {
    const language = tag.toLowerCase().split("-")[0];
    const steps = STEPS[language] || [];
    const spelt = SPELT[language];
    const stem = (word) => steps.reduce(stripped, word);
    const wordsIn = (text) => text.split(language === "en" ? /[^\p{L}\p{N}']+/u : /[^\p{L}\p{N}]+/u)
      .filter(Boolean);

    // A text to look in: its letters, and its words with their stems.
    function read(text) {
      const letters = plain(text);
      const words = wordsIn(letters);
      return { letters, words: " " + words.concat(words.map(stem)).join(" ") + " " };
    }

    // What was asked for, word by word, each in the ways it may stand in a text.
    function asked(text) {
      return plain(text).split(/\s+/).filter(Boolean).map((written) => {
        const word = language === "fr" ? written.replace(/^(?:[cdjlmnst]|qu)'(?=.)/, "") : written;
        const ways = spelt && spelt[0].test(word) ? [word, word.replace(spelt[0], spelt[1])] : [word];
        return { ways, stems: ways.map(stem) };
      });
    }

    function stands(stemmed, words) {
      if (stemmed.length < LEFT) { return words.indexOf(" " + stemmed + " ") >= 0; }
      return words.indexOf(" " + stemmed) >= 0 || words.indexOf(stemmed + " ") >= 0 ||
        (stemmed.length >= WITHIN && words.indexOf(stemmed) >= 0);
    }

    function has(text, word) {
      return word.ways.some((way) => text.letters.indexOf(way) >= 0) ||
        word.stems.some((each) => stands(each, text.words));
    }

    return { asked, read, stem, fits: (text, words) => words.every((word) => has(text, word)) };
  }

  window.forms = forms;
}());
