/* What a reader is told where a list can't be had as asked: the rules in words, and a way out. */
window.refusals = function (page) {
  "use strict";
  const { choice, list, say, made, money, byId, every } = page;
  const words = list.words;

  function nameOf(id) {
    const found = choice.item(id) || list.standard.filter((item) => item.id === id)[0];
    return found ? found.name : "";
  }

  function named(ids) { return ids.map(nameOf).join(words.between); }

  // The packages on the list that hold an option which is asked for.
  function holdersOf(rule, id) {
    return choice.holders(rule.option).filter((each) => each.id !== id && choice.count(each.id));
  }

  function held(rule, id) {
    return holdersOf(rule, id).map((each) => say(words.held, {
      option: nameOf(rule.option), package: each.name
    }));
  }

  // A rule in words, with every side of it that is on the boat. Where there are too many of an
  // option, the package that holds some is named.
  function reasons(rule, id) {
    const told = say(rule.words, { options: named(rule.sides || []) });
    if (rule.kind !== "most") { return [told]; }
    const packed = held(rule, id);
    return packed.length && choice.item(rule.option).most === 1 ? packed : [told].concat(packed);
  }

  function all(rules, id) {
    const found = [].concat(...rules.map((rule) => reasons(rule, id)));
    return found.filter((reason, at) => found.indexOf(reason) === at);
  }

  function clear() {
    every("tr.refused, article .refusal").forEach((old) => old.remove());
  }

  // A box with the rules in words, right after what was pressed, and a way out.
  function refuse(answer, id, count, after) {
    clear();
    const rules = answer.rules;
    const why = all(rules, id);
    // What is in a package already is not in the way of anything: that is all there is to say.
    const there = choice.item(id).most === 1 && rules.every((rule) => rule.kind === "most" &&
      rule.option === id && held(rule, id).length);
    const told = there ? why.join(" ")
      : say(count ? words.refused : words.kept, { name: nameOf(id) });
    const box = made("div", { class: "refusal" }, [made("p", {}, [made("strong", {}, [told])])]);
    if (!there) { box.append(made("ul", {}, why.map((each) => made("li", {}, [each])))); }
    if (answer.instead) { box.append(...wayOut(answer, id, count, after)); }
    if (after.tagName === "TR") {
      const cell = made("td", { colspan: after.cells.length }, [box]);
      after.after(made("tr", { class: "refused" }, [cell]));
    } else {
      after.querySelector(".amount").after(box);
    }
    box.scrollIntoView({ block: "nearest" });
    page.announce([told].concat(there ? [] : why).join(" "));
  }

  function offered(answer, id, count) {
    const { added, removed } = answer.difference;
    const kind = added.length && removed.length ? "fix_both" : added.length ? "fix_add" : "fix_out";
    return say(words[count ? kind : kind + "_too"], {
      name: count > 1 ? count + " × " + nameOf(id) : nameOf(id),
      added: named(added),
      removed: named(removed)
    });
  }

  function wayOut(answer, id, count, after) {
    const { into } = answer.difference;
    const total = say(words.then, { total: money(choice.totals(answer.instead).price) });
    const packed = say(words.goes_in, { package: nameOf(id), names: named(into) });
    const button = made("button", { type: "button" }, [offered(answer, id, count)]);
    button.addEventListener("click", () => {
      const before = choice.kept();
      choice.take(answer.instead);
      page.changed(id, count, into, before);
      const back = after.isConnected ? after.querySelector("input, button, select") : null;
      (back || byId("list-title")).focus();
    });
    return [
      ...(into.length ? [made("p", {}, [packed])] : []), button,
      made("span", { class: "small" }, [" " + total])
    ];
  }

  return { refuse, clear, all, named };
};
