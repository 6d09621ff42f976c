// The program's messages name commands, flags and settings, as on a terminal. Here they become
// links to the button or the field that does the same.

// showControl shows a view and puts the focus on a control in it.
function showControl(view, control) {
  if (location.hash !== "#" + view) location.hash = "#" + view;
  showView(view);
  for (let closed = control?.closest("details:not([open])"); closed; closed = closed.parentElement.closest("details:not([open])")) closed.open = true;
  control?.focus();
  control?.scrollIntoView({ block: "center" });
}

// settingControl returns the form's control for a key of a section, or the nearest one: the
// button that adds the section, or the text.
function settingControl(section, name, key) {
  const fields = loomForm.controls.filter((control) => control.dataset.section === section && !control.dataset.box && (name === "" || control.dataset.name === name));
  return (key && fields.find((control) => control.dataset.key === key)) || fields[0] || byId("cards-" + section)?.querySelector(".add") || byId("settings");
}

const goToSetting = (section, name = "", key = "") => showControl("your-loom", settingControl(section, name, key));

// option returns the words for a choice of the Fit and convert view, and the way there.
function option(id, value) {
  const control = byId(id);
  const label = control.closest("label");
  const chosen = control.localName === "select" ? [...control.options].find((o) => o.value === value)?.textContent : value;
  const words = [...label.childNodes].filter((node) => node.nodeType === Node.TEXT_NODE).map((node) => node.data).join(" ").trim();
  return { words: `“${words}${chosen ? ": " + chosen : ""}”`, go() {
    showControl("fit-view", control);
    if (value === undefined) return;
    control.value = value;
    control.dispatchEvent(new Event("input"));
  } };
}

const underFit = ({ words, go }) => ({ words: words + " under Fit and convert", go });

const formatButton = (format) => ({ words: "Download as " + format.toUpperCase(), go() { showControl("fit-view", byId("convert-buttons").querySelector(`[data-format="${format}"]`)); } });

// riskyFix leads to the button for a risky fix of the finding that names it, or of its draft.
const riskyFix = { words: "the risky fix", go(link) {
  const near = [link.closest(".finding"), link.closest(".file"), document.querySelector("#findings .current")];
  showControl("drafts", near.map((item) => item?.querySelector(".risky .make")).find(Boolean) ?? byId("mend"));
} };

// sameHere returns what does the same on this page as a command with flags, a Map: the words
// for it and the way there.
function sameHere(command, flags) {
  const at = (flag) => flags.get(flag);
  switch (command) {
    case "clean":
      if (flags.has("--risky")) return riskyFix;
      if (flags.has("--canonical")) return formatButton("json");
      return { words: "this page" };
    case "fit":
      if (at("--at-once")) return { ...option("fit-at-once", at("--at-once")), words: `Fit and convert with ${at("--at-once")} treadles pressed at once` };
      return { words: "Fit and convert", go() { showControl("fit-view", byId("fit-take").disabled ? byId("fit-shafts") : byId("fit-take")); } };
    case "convert":
      for (const [flag, id] of [["--lifts", "convert-lifts"], ["--shed", "convert-shed"]]) if (flags.has(flag)) return underFit(option(id, at(flag)));
      for (const flag of ["--face-down", "--lift-rest", "--turn"]) if (flags.has(flag)) return underFit(option("convert-turn", flag));
      if (flags.has("--whole")) return option("convert-paper", "--whole");
      return at("--to") ? formatButton(at("--to")) : undefined;
    case "plan":
      return at("--format") === "wif" ? { words: "the button “Download every pick”", go() { showControl("sheet-view", byId("sheet-wif")); } } : undefined;
  }
  return flagHere([...flags.keys()][0], [...flags.values()][0]);
}

// flagHere returns what does the same as a flag that is named alone.
function flagHere(flag, value) {
  switch (flag) {
    case "--risky": return { words: "its own button" };
    case "--encoding": return { words: "a text editor" };
    case "--repeat": return option("convert-repeat");
    case "--page": return option("convert-page");
    case "--whole": case "--fit-page": return option("convert-paper", flag);
    case "--at-once": return option("fit-at-once", value);
    case "--face-down": case "--lift-rest": case "--turn": return option("convert-turn", flag);
  }
  return undefined;
}

const longestFirst = (names) => [...names].sort((a, b) => b.length - a.length).join("|");
const flagPattern = "--[a-z]+(?:-[a-z]+)*(?: (?:plan|tieup|rising|sinking|wif|svg|pdf|\\d+)(?![\\w/]))?";

// namedThings matches what a message names, but not what it quotes from a draft.
const namedThings = new RegExp([
  `(?<!')\\[(?<section>${longestFirst(facts.settings.map((s) => s.name).filter(Boolean))})(?: (?<name>[^\\]]*))?\\](?: (?<key>${longestFirst(facts.settings.flatMap((s) => s.keys.map((k) => k.name)))})(?![\\w-]))?`,
  "(?<within>[Ii]n )?(?<![\\w./])fettle\\.ini(?!:\\d|\\.?\\w)",
  `(?<run>[Rr]un )?fettle (?<command>clean|fit|convert|plan)(?<flags>(?: ${flagPattern})*)(?![\\w-])`,
  `(?<![\\w'-])(?<flag>${flagPattern})`,
].join("|"), "g");

const flagsIn = (text) => new Map([...text.matchAll(/(--[a-z-]+)(?: ([^\s-]\S*))?/g)].map(([, flag, value]) => [flag, value]));

// named returns the words for what a match of namedThings names, and the way there.
function named({ groups: { section, name = "", key, within, run, command, flags, flag } }) {
  if (section) return { words: key ? `${key} (${section}${name && " " + name})` : section + (name && " " + name), go() { goToSetting(section, name, key); } };
  if (command || flag) {
    const here = command ? sameHere(command, flagsIn(flags)) : flagHere(...[...flagsIn(flag)][0]);
    return here && { ...here, before: run ? (run === "Run " ? "Use " : "use ") : "" };
  }
  return { words: "Your loom", before: within ? (within === "In " ? "Under " : "under ") : "", go() { showControl("your-loom", byId("settings")); } };
}

// worded returns a text of the program as nodes, with links for what it names.
function worded(text, into = document) {
  const nodes = [];
  let from = 0;
  for (const match of text.matchAll(namedThings)) {
    const here = named(match);
    if (!here) continue;
    const { words, before = "", go } = here;
    const begins = before === "" && /(^|[.:] )$/.test(text.slice(0, match.index));
    nodes.push(text.slice(from, match.index) + before, go ? linkTo(begins ? sentenceCase(words) : words, go, into) : begins ? sentenceCase(words) : words);
    from = match.index + match[0].length;
  }
  nodes.push(text.slice(from));
  return nodes.filter((node) => node !== "");
}

// inWords returns a text of the program as plain text, in the words of this page.
const inWords = (text) => worded(text).map((node) => node.textContent ?? node).join("");

// wordedFor returns a text about a draft as worded does. Its links choose the draft first.
function wordedFor(path, text) {
  const nodes = worded(text);
  for (const node of nodes) node.addEventListener?.("click", () => choose(path), { capture: true });
  return nodes;
}

const sentenceCase = (words) => words.charAt(0).toUpperCase() + words.slice(1);

function linkTo(words, go, into = document) {
  const link = into.createElement("a");
  link.href = "#";
  link.textContent = words;
  link.addEventListener("click", (event) => {
    event.preventDefault();
    go(link);
  });
  return link;
}

// linkWords puts links into the texts of a document that the program wrote.
function linkWords(root, into) {
  const texts = [];
  const walk = into.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  while (walk.nextNode()) if (!walk.currentNode.parentElement.closest("h1, label, a, style, svg")) texts.push(walk.currentNode);
  for (const node of texts) {
    const nodes = worded(node.data, into);
    if (nodes.length > 1 || nodes[0] !== node.data) node.replaceWith(...nodes);
  }
}
