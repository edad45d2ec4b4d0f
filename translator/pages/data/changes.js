"use strict";
/* The page of changes: a filter above the list of parts. All else stands in the markup. */
(() => {
  const side = document.getElementById("side");
  const rows = [...document.querySelectorAll("#list li")];
  const parts = [...document.querySelectorAll("article.part")].map((article, at) => ({
    article, row: rows[at], text: article.textContent.toLowerCase(),
    group: { unread: "unread", hand: "hand", added: "added", removed: "removed" }[article.dataset.status]
      || article.dataset.weight,
  }));
  const GROUPS = [["hand", "check the hand"], ["metal", "metal"], ["work", "other work"], ["paper", "paper only"],
    ["added", "added"], ["removed", "removed"], ["unread", "not compared"]];

  function make(name, attributes, ...children) {
    const node = document.createElement(name);
    for (const [key, value] of Object.entries(attributes)) {
      if (value === true) node.setAttribute(key, "");
      else node.setAttribute(key, value);
    }
    node.append(...children);
    return node;
  }

  const search = make("input", { type: "search", id: "search", autocomplete: "off", spellcheck: "false" });
  const status = make("p", { role: "status", id: "status" });
  const boxes = new Map();
  for (const [group] of GROUPS) {
    if (parts.some((part) => part.group === group)) {
      boxes.set(group, make("input", { type: "checkbox", id: `show-${group}`, checked: true }));
    }
  }

  function filter() {
    const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shown = 0;
    for (const part of parts) {
      const isShown = boxes.get(part.group).checked && words.every((word) => part.text.includes(word));
      part.article.hidden = part.row.hidden = !isShown;
      shown += isShown ? 1 : 0;
    }
    status.textContent = `${shown} of ${parts.length} parts shown`;
  }

  const labels = GROUPS.filter(([group]) => boxes.has(group))
    .map(([group, words]) => make("label", {}, boxes.get(group), words));
  const form = make("form", { class: "filter", role: "search", "aria-label": "Filter" },
    make("label", { for: "search" }, "Search marks, words, files"), search,
    make("fieldset", {}, make("legend", {}, "Show"), ...labels), status);
  form.addEventListener("submit", (event) => event.preventDefault());
  form.addEventListener("input", filter);
  form.addEventListener("change", filter);
  side.prepend(form);
  filter();
  document.documentElement.dataset.ready = "yes";
})();
