"use strict";
/* The review page: lays out the parts, filters them, and ties findings to their places.
   Texts only ever become text nodes and attributes; nothing is read as markup. */
(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const KINDS = ["error", "warning", "note", "waived"];
  const LETTERS = { error: "E", warning: "W", note: "N", waived: "A" };
  const BALLOON = 20;
  const index = JSON.parse(document.getElementById("index").textContent);
  const home = document.getElementById("parts");
  const side = document.getElementById("side");
  const parts = index.parts.map((entry, at) => ({ ...entry, at, id: `part-${at}`, drawn: false }));
  if (index.rest.length) {
    parts.unshift({
      mark: "About the files", title: "not about one part", line: "", words: "", held: null,
      issues: index.rest, at: -1, id: "files-found", drawn: false,
    });
  }

  function make(name, attributes = {}, ...children) {
    return fill(document.createElement(name), attributes, children);
  }

  function draw(name, attributes = {}, ...children) {
    return fill(document.createElementNS(SVG, name), attributes, children);
  }

  function fill(element, attributes, children) {
    for (const [key, value] of Object.entries(attributes)) {
      if (value === true) element.setAttribute(key, "");
      else if (value !== false && value !== null) element.setAttribute(key, String(value));
    }
    element.append(...children.filter((child) => child !== null));
    return element;
  }

  const many = (number, thing) => `${number} ${thing}${number === 1 ? "" : "s"}`;

  /* The picture: the same kinds of marks that the SVG writer of the program knows. */
  function picture(it) {
    const box = { viewBox: `0 0 ${it.width} ${it.height}`, width: it.width, height: it.height };
    return draw("svg", { class: "picture", role: "img", "aria-label": it.title, ...box },
      ...it.items.map(item));
  }

  const ITEMS = {
    s: ([kind, path, tag]) => draw("path", { class: kind, d: path, ...tagged(kind, tag) }),
    d: ([kind, cx, cy, r, tag]) => draw("circle", { class: kind, cx, cy, r, ...tagged(kind, tag) }),
    w: ([kind, x, y, text, anchor, size, turn]) => draw("text", {
      class: kind, x, y, "text-anchor": anchor, "font-size": size,
      transform: turn ? `rotate(${turn} ${x} ${y})` : null,
    }, text),
    b: ([kind, x, y, width, text, toX, toY, tag]) => draw("g", { "data-tag": tag },
      draw("path", { class: "leader", d: `M${x} ${y}L${toX} ${toY}` }),
      draw("circle", { class: "foot", cx: toX, cy: toY, r: 2 }),
      draw("rect", {
        class: kind, x: x - width / 2, y: y - BALLOON / 2, width, height: BALLOON,
        rx: kind.endsWith("error") ? 2 : BALLOON / 2,
      }),
      draw("text", { class: `${kind}-text`, x, y: y + 4.2, "font-size": 12, "text-anchor": "middle" }, text)),
    p: ([x, y, width, height, left, top, items]) => draw("svg",
      { x, y, width, height, viewBox: `${left} ${top} ${width} ${height}` }, ...items.map(item)),
  };

  function item([letter, ...fields]) {
    return ITEMS[letter](fields);
  }

  function tagged(kind, tag) {
    if (!tag) return {};
    return kind.startsWith("ring") ? { "data-tag": tag } : { "data-feature": tag };
  }

  /* One part */
  function shell(part) {
    const tally = tallied(part.issues);
    const state = part.held === null ? null : make("span",
      { class: `state ${part.held ? "is-held" : "is-free"}` },
      part.held ? "held back" : "may be handed on");
    part.article = make("article", { id: part.id, class: "part is-shell", "aria-labelledby": `${part.id}-head`, tabindex: -1 },
      make("header", {},
        make("h3", { id: `${part.id}-head` }, make("bdi", {}, part.mark),
          part.title ? make("bdi", { class: "title" }, part.title) : null),
        state),
      make("p", { class: "line" }, [part.line, tally].filter(Boolean).join("; ")));
    part.tally = tally;
    part.link = make("a", { href: `#${part.id}` },
      make("span", { class: "mark" }, part.mark), make("span", { class: "tally" }, short(part.issues)));
    part.row = make("li", {}, part.link);
    part.text = [part.mark, part.title, part.line, part.words].join("\n").toLowerCase();
    for (const issue of part.issues) {
      issue.id = `${part.id}-${issue.n}`;
      issue.text_lower = [part.text, issue.rule, issue.text, issue.place, issue.waived || ""].join("\n").toLowerCase();
    }
  }

  function counts(issues) {
    const found = Object.fromEntries(KINDS.map((kind) => [kind, 0]));
    for (const issue of issues) found[issue.kind] += issue.count;
    return found;
  }

  function tallied(issues) {
    const found = counts(issues);
    const words = KINDS.filter((kind) => found[kind])
      .map((kind) => (kind === "waived" ? `${found[kind]} waived` : many(found[kind], kind)));
    return words.join(", ") || "no findings";
  }

  function short(issues) {
    const found = counts(issues);
    const words = KINDS.filter((kind) => found[kind]).map((kind) => `${found[kind]}\u00a0${LETTERS[kind]}`);
    return words.join(" ") || "\u2013";
  }

  function lay(part) {
    if (part.drawn) return;
    part.drawn = true;
    part.article.classList.remove("is-shell");
    const data = part.at < 0 ? null : JSON.parse(document.getElementById(`data-${part.at}`).textContent);
    part.article.querySelector(".line").textContent = part.tally;
    if (data) part.article.append(...sheet(part, data));
    part.article.append(...found(part));
    if (data) part.article.append(...below(data));
    part.article.append(make("p", { class: "caution only-print" }, index.caution));
  }

  function sheet(part, data) {
    const facts = make("dl", { class: "facts" }, ...data.facts.map(([name, value, numbers]) => make("div", {},
      make("dt", {}, name), make("dd", {}, make("bdi", {}, value), ...numbers.map((n) => chip(part, n))))));
    const why = data.refused ? make("p", { class: "what" }, `Held back: ${data.refused}.`) : null;
    const legs = data.legs.map((leg) => make("figure", { class: leg.picture.height > 420 ? "tall" : null },
      make("figcaption", {}, leg.caption), named(picture(leg.picture), leg)));
    return [why, facts, ...legs].filter(Boolean);
  }

  function chip(part, n) {
    const issue = part.issues.find((one) => one.n === n);
    return make("span", { class: `chip small ${issue.kind}` }, `${issue.kind} ${n}`);
  }

  /* A hole says what it is under the pointer. */
  function named(svg, leg) {
    const rows = new Map(leg.rows.map((row) => [row[0], row]));
    for (const shape of svg.querySelectorAll("[data-feature]")) {
      const row = rows.get(shape.dataset.feature);
      if (row) shape.append(draw("title", {}, `${row[0]}: ${row[1]} ${row[5]}; x ${row[2]}${row[3] ? `, ${row[3]} across` : ""}`));
    }
    return svg;
  }

  function found(part) {
    const head = make("h4", {}, "Findings");
    if (!part.issues.length) return [head, make("p", { class: "none" }, "The rules that were applied found nothing.")];
    part.list = make("ol", { class: "findings" }, ...part.issues.map((issue) => finding(part, issue)));
    return [head, part.list];
  }

  function finding(part, issue) {
    const rule = index.rules[issue.rule];
    const word = issue.kind === "waived" ? "Waived" : issue.kind[0].toUpperCase() + issue.kind.slice(1);
    const source = rule ? `${rule.title} \u2014 ${rule.reference}` : "a fault of reading, no rule of practice";
    issue.element_ = make("li", { class: "finding", id: issue.id, tabindex: -1, hidden: issue.hidden === true },
      make("span", { class: `chip ${issue.kind}` }, `${word} ${issue.n}`),
      make("p", { class: "what" }, make("bdi", {}, issue.text)),
      issue.waived === undefined ? null : make("p", { class: "waiver" },
        `Waived (${issue.severity}): `, make("bdi", {}, issue.waived),
        issue.waived_at ? ` \u2014 ${issue.waived_at}` : ""),
      issue.line ? make("pre", { tabindex: 0, "aria-label": "Source line" }, `${issue.line}\n${issue.marks}`) : null,
      make("p", { class: "where" }, make("bdi", {}, issue.place), ` \u00b7 ${issue.rule} \u00b7 `, make("bdi", {}, source)),
      ...(issue.related || []).map((text) => make("p", { class: "where" }, "see ", make("bdi", {}, text))),
      issue.more ? make("p", { class: "where" }, `and ${many(issue.more, "more place")}`) : null,
      actions(part, issue, rule));
    return issue.element_;
  }

  function actions(part, issue, rule) {
    const box = make("div", {});
    if (pointed(part, issue).length) {
      const show = make("button", { type: "button" }, "Show on the picture");
      show.addEventListener("click", () => showOnPicture(part, issue));
      box.append(show, " ");
    }
    if (rule) {
      box.append(make("details", {}, make("summary", {}, "Why, and what to do"), make("div", { class: "why" }, rule.text)));
    }
    return box.childNodes.length ? box : null;
  }

  function below(data) {
    const nodes = [];
    if (data.waivers.length) {
      nodes.push(make("h4", {}, "Waivers of this part"), make("ul", {}, ...data.waivers.map((text) => make("li", {}, make("bdi", {}, text)))));
    }
    if (data.fits.length) nodes.push(make("h4", {}, "Machines"), grid("Machines", ["Machine", "Verdict", "Why, or what is left to do"], data.fits));
    const rows = data.legs.flatMap((leg) => leg.rows.map((row) => [row[0], leg.name, ...row.slice(1)]));
    if (rows.length) {
      nodes.push(make("details", {}, make("summary", {}, `${many(rows.length, "feature")} as read`),
        grid("Features", ["Id", "Leg", "Kind", "x", ...data.edges, "Size"], rows)));
    }
    return nodes;
  }

  function grid(label, head, rows) {
    return make("div", { class: "wide", tabindex: 0, role: "group", "aria-label": label }, make("table", {},
      make("thead", {}, make("tr", {}, ...head.map((name) => make("th", { scope: "col" }, name)))),
      make("tbody", {}, ...rows.map((row) => make("tr", {},
        make("th", { scope: "row" }, row[0]), ...row.slice(1).map((cell) => make("td", {}, cell)))))));
  }

  /* Ties between findings and places */
  function pointed(part, issue) {
    return [...part.article.querySelectorAll("[data-tag]")]
      .filter((shape) => shape.dataset.tag.split(" ").includes(String(issue.n)));
  }

  let current = null;
  function choose(part, issue) {
    if (current) {
      current.issue.element_.classList.remove("on");
      for (const shape of pointed(current.part, current.issue)) shape.classList.remove("on");
    }
    current = { part, issue };
    issue.element_.classList.add("on");
    for (const shape of pointed(part, issue)) shape.classList.add("on");
    mark(part);
  }

  function showOnPicture(part, issue) {
    choose(part, issue);
    const place = pointed(part, issue)[0];
    if (place) place.closest("figure").scrollIntoView({ block: "center" });
  }

  function mark(part) {
    for (const link of side.querySelectorAll("[aria-current]")) link.removeAttribute("aria-current");
    part.link.setAttribute("aria-current", "true");
    part.row.scrollIntoView({ block: "nearest" });
  }

  function go(part, issue) {
    lay(part);
    if (issue) choose(part, issue);
    else mark(part);
    const target = issue ? issue.element_ : part.article;
    target.focus({ preventScroll: true });
    target.scrollIntoView({ block: issue ? "center" : "start" });
  }

  /* The filter */
  const search = make("input", { type: "search", id: "search", autocomplete: "off", spellcheck: "false" });
  const rule = make("select", { id: "rule" });
  const only = make("select", { id: "only" });
  const boxes = Object.fromEntries([...KINDS, "clean"].map((kind) => [kind,
    make("input", { type: "checkbox", id: `show-${kind}`, checked: true })]));
  const status = make("p", { role: "status", id: "status" });

  function controls() {
    const names = [...new Set(parts.flatMap((part) => part.issues.map((issue) => issue.rule)))].sort();
    rule.append(make("option", { value: "" }, "any"), ...names.map((name) => make("option", { value: name }, name)));
    only.append(make("option", { value: "" }, "all"), ...parts.map((part) => make("option", { value: part.id }, part.mark)));
    const words = { error: "errors (E)", warning: "warnings (W)", note: "notes (N)", waived: "waived (A)", clean: "parts without findings" };
    const labels = [...KINDS, "clean"].map((kind) => make("label", {}, boxes[kind], words[kind]));
    const keys = make("button", { type: "button" }, "Keys");
    const reset = make("button", { type: "button" }, "Show all");
    keys.addEventListener("click", () => help.showModal());
    reset.addEventListener("click", clear);
    const form = make("form", { class: "filter", role: "search", "aria-label": "Filter" },
      make("label", { for: "search" }, "Search marks, words, files"), search,
      make("fieldset", {}, make("legend", {}, "Show findings"), ...labels),
      make("label", { for: "rule" }, "Fault"), rule,
      make("label", { for: "only" }, "Part"), only,
      make("p", {}, reset, " ", keys), status);
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("input", filter);
    form.addEventListener("change", filter);
    side.append(form, make("ul", { class: "list", id: "list", role: "list", "aria-label": "Parts" }, ...parts.map((part) => part.row)));
  }

  function clear() {
    search.value = "";
    rule.value = "";
    only.value = "";
    for (const box of Object.values(boxes)) box.checked = true;
    filter();
  }

  function filter() {
    const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    let shownParts = 0;
    let shownFindings = 0;
    for (const part of parts) {
      let own = 0;
      for (const issue of part.issues) {
        issue.hidden = !(boxes[issue.kind].checked && (!rule.value || issue.rule === rule.value)
          && words.every((word) => issue.text_lower.includes(word)));
        if (!issue.hidden) own += issue.count;
        if (issue.element_) issue.element_.hidden = issue.hidden;
      }
      const isClean = !part.issues.length && boxes.clean.checked && !rule.value
        && words.every((word) => part.text.includes(word));
      part.hidden = !((own || isClean) && (!only.value || only.value === part.id));
      if (part.article.hidden !== part.hidden) part.article.hidden = part.row.hidden = part.hidden;
      if (!part.hidden) {
        shownParts += part.at < 0 ? 0 : 1;
        shownFindings += own;
      }
    }
    status.textContent = `${many(shownFindings, "finding")} in ${many(shownParts, "part")} shown`;
  }

  /* Keys */
  const off = make("input", { type: "checkbox", id: "keys-off" });
  const help = make("dialog", { "aria-labelledby": "help-head" },
    make("h2", { id: "help-head" }, "Keys"),
    make("dl", {}, ...[["/", "search"], ["n", "next finding"], ["p", "previous finding"], ["j", "next part"],
      ["k", "previous part"], ["s", "show the finding on the picture"], ["Esc", "empty the search"], ["?", "these keys"]]
      .flatMap(([key, text]) => [make("dt", {}, make("kbd", {}, key)), make("dd", {}, text)])),
    make("p", {}, make("label", {}, off, " no single-key commands")),
    make("form", { method: "dialog" }, make("button", {}, "Close")));

  function step(list, at, by) {
    return list[Math.min(Math.max(at + by, 0), list.length - 1)];
  }

  function nextFinding(by) {
    const list = parts.filter((part) => !part.hidden)
      .flatMap((part) => part.issues.filter((issue) => !issue.hidden).map((issue) => ({ part, issue })));
    if (!list.length) return;
    const at = current ? list.findIndex((one) => one.issue === current.issue) : -1;
    const { part, issue } = at < 0 ? list[by > 0 ? 0 : list.length - 1] : step(list, at, by);
    go(part, issue);
  }

  function nextPart(by) {
    const list = parts.filter((part) => !part.hidden);
    if (!list.length) return;
    const at = list.findIndex((part) => part.link.hasAttribute("aria-current"));
    go(at < 0 ? list[by > 0 ? 0 : list.length - 1] : step(list, at, by), null);
  }

  const KEYS = {
    "/": () => search.focus(),
    n: () => nextFinding(1),
    p: () => nextFinding(-1),
    j: () => nextPart(1),
    k: () => nextPart(-1),
    s: () => current && showOnPicture(current.part, current.issue),
    "?": () => help.showModal(),
  };

  function pressed(event) {
    if (event.ctrlKey || event.altKey || event.metaKey || help.open) return;
    const isTyping = event.target.closest("input, select, textarea");
    if (event.key === "Escape" && event.target === search) {
      search.value = "";
      search.blur();
      filter();
    } else if (!isTyping && !off.checked && KEYS[event.key]) {
      event.preventDefault();
      KEYS[event.key]();
    }
  }

  function clicked(event) {
    const article = event.target.closest("article.part");
    const part = article && parts.find((one) => one.article === article);
    const shape = event.target.closest("[data-tag]");
    if (part && shape) {
      const numbers = shape.dataset.tag.split(" ").map(Number);
      const issue = part.issues.find((one) => numbers.includes(one.n) && !one.hidden);
      if (issue) go(part, issue);
      return;
    }
    const row = event.target.closest(".finding");
    const issue = part && row && part.issues.find((one) => one.element_ === row);
    if (issue && !event.target.closest("button, summary, a, pre")) choose(part, issue);
  }

  function toHash() {
    const id = location.hash.slice(1);
    for (const part of parts) {
      if (part.id === id) return go(part, null);
      const issue = part.issues.find((one) => one.id === id);
      if (issue) return go(part, issue);
    }
    return undefined;
  }

  /* Drawing what comes into view, and all that is shown before it is printed */
  function all() {
    for (const part of parts) if (!part.hidden) lay(part);
    for (const folded of document.querySelectorAll("main > section > details")) folded.open = true;
  }

  for (const part of parts) shell(part);
  controls();
  home.append(...parts.map((part) => part.article));
  document.body.append(help);
  filter();
  const byArticle = new Map(parts.map((part) => [part.article, part]));
  const watcher = new IntersectionObserver((entries) => {
    for (const entry of entries) {
      if (entry.isIntersecting) {
        lay(byArticle.get(entry.target));
        watcher.unobserve(entry.target);
      }
    }
  }, { rootMargin: "800px" });
  for (const part of parts) watcher.observe(part.article);
  document.addEventListener("keydown", pressed);
  document.addEventListener("click", clicked);
  window.addEventListener("hashchange", toHash);
  window.addEventListener("beforeprint", all);
  window.matchMedia("print").addEventListener("change", (event) => { if (event.matches) all(); });
  if (location.hash) toHash();
  document.documentElement.dataset.ready = "yes";
})();
