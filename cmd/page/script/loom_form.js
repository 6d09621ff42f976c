// The form for the settings. It shows what the text states and changes only the lines of the
// fields that the reader edits. The keys, their meanings and examples are the program's.

const facts = JSON.parse(byId("facts").textContent);
const knownSection = (name) => facts.settings.find((section) => section.name === name);

const loomForm = {
  lines: [], // of the text
  controls: [], // the fields
  cards: "", // the named sections, to see when they change
  box: 1, // the shaft whose heddles are counted
  removed: undefined, // the text before a section was removed
};

// shownFirst lists the keys of the project that most weavers state. The others are one
// click away.
const shownFirst = ["reed", "sett", "picks", "finished length", "finished width", "items", "hem", "repeats", "loom waste", "take-up", "weft take-up", "shrinkage"];

const mostBoxes = 40; // shafts with a box for their heddles

const unitOf = {
  "a length": { cm: " cm", in: " in" },
  "a density": { cm: "/cm", in: "/in" },
  "a percentage, or two lengths with -> between": { cm: " %", in: " %" },
};

let statedUnit; // by the switch

function chosenUnit() {
  const kept = statedUnit ?? stored("unit");
  if (kept === "cm" || kept === "in") return kept;
  const stated = /\d\s*(?:(cm|mm|m)|(in|ft|yd))\b|\/(?:(cm|10cm)|(in))\b/.exec(settings.text);
  if (stated) return stated[1] || stated[3] ? "cm" : "in";
  return navigator.language === "en-US" ? "in" : "cm";
}

const bareNumber = /^\d+([.,]\d+)?( \d+\/\d+)?$|^\d+\/\d+$/;

// withUnit adds the weaver's unit to a bare number.
function withUnit(type, value) {
  const trimmed = value.trim();
  return bareNumber.test(trimmed) && unitOf[type] ? trimmed + unitOf[type][chosenUnit()] : trimmed;
}

// meaningOf returns what a key means, without the choices that its field offers.
function meaningOf(key) {
  const choices = (key.choices ?? []).join(" | ");
  if (key.meaning === choices) return "choose one";
  return choices && key.meaning.startsWith(choices + ": ") ? key.meaning.slice(choices.length + 2) : key.meaning;
}

const sentence = (text) => text.charAt(0).toUpperCase() + text.slice(1) + (/[.!?]$/.test(text) ? "" : ".");

// setKey puts the value of a field into the text.
function setKey(control, value) {
  const { section, name, key } = control.dataset;
  const keys = knownSection(section).keys;
  const text = setValue(settings.text, section, name, key, value, keys.map((k) => k.name), keys.find((k) => k.name === key)?.example);
  if (text !== settings.text) settings.take(text, control);
}

let fieldNumber = 0;

// keyField makes the field of a key: its label, the control, what it means and how to find
// the value, and room for an error.
function keyField(section, name, key) {
  const id = "key-" + ++fieldNumber;
  const of = { id, "aria-describedby": `${id}-hint ${id}-error` };
  const isReed = section === "project" && key.name === "reed";
  const control = key.choices || isReed
    ? element("select", of)
    : element("input", { ...of, type: "text", autocomplete: "off", spellcheck: false });
  if (key.type === "a whole number") control.inputMode = "numeric";
  Object.assign(control.dataset, { section, name, key: key.name });
  control.dataset.type = key.type;
  control.dataset.example = key.example;
  loomForm.controls.push(control);
  const unit = unitOf[key.type] ? element("span", { className: "unit", "aria-hidden": "true" }) : undefined;
  control.addEventListener("input", () => {
    setKey(control, withUnit(key.type, control.value));
    showUnit(control);
  });
  control.addEventListener("change", () => fillField(control));
  const extra = key.type === "colors" ? colorTools(control) : undefined;
  return element("div", { className: "field" },
    element("label", { htmlFor: id, textContent: key.name }),
    element("div", { className: "control" }, control, unit, extra),
    element("p", { id: id + "-error", className: "mistake", hidden: true }),
    element("p", { id: id + "-hint", className: "hint" }, ...worded(sentence(meaningOf(key)))),
    key.advice ? element("details", { className: "advice" }, element("summary", { textContent: "How to find it" }), element("p", { textContent: sentence(key.advice) })) : undefined);
}

// colorTools shows the colors of a yarn and adds one.
function colorTools(control) {
  const picker = element("input", { type: "color", "aria-label": "Add a color", title: "Add a color", value: "#f2ead8" });
  picker.addEventListener("change", () => {
    control.value = control.value.trim() === "" ? picker.value : control.value.replace(/[\s,]*$/, ", ") + picker.value;
    setKey(control, control.value);
    fillField(control);
  });
  return element("span", { className: "colors" }, element("span", { className: "swatches", "aria-hidden": "true" }), picker);
}

// usualExamples are for keys whose own example is their default, 0.
const usualExamples = { treadles: "6", balance: "3", hem: "5 cm", fringe: "20 cm", sample: "30 cm", "draw-in": "5 %" };

// exampleFor returns an example for a field, as a number in the weaver's unit where the unit is
// shown beside it.
function exampleFor({ dataset: { key, type, example } }) {
  example = usualExamples[key] ?? example;
  const stated = /^([\d.]+) ?(cm|m|\/in|%)$/.exec(example);
  if (!unitOf[type] || !stated) return example;
  const inInches = chosenUnit() === "in";
  const number = Number(stated[1]);
  switch (stated[2]) {
    case "cm": return String(inInches ? Math.round(number / 2.54) : number);
    case "m": return String(inInches ? Math.round(100 * number / 2.54) : 100 * number);
    case "/in": return String(inInches ? number : Math.round(number / 2.54));
  }
  return stated[1];
}

function showUnit(control) {
  if (control.localName === "input") control.placeholder = "such as " + exampleFor(control);
  for (const button of document.querySelectorAll("#unit input")) button.checked = button.value === chosenUnit();
  const unit = control.parentElement.querySelector(".unit");
  if (unit) unit.textContent = control.value.trim() === "" || bareNumber.test(control.value.trim()) ? unitOf[control.dataset.type][chosenUnit()].trim() : "";
  const swatches = control.parentElement.querySelector(".swatches");
  swatches?.replaceChildren(...control.value.split(",").map((color) => color.trim()).filter((color) => /^#[0-9a-f]{6}$/i.test(color)).slice(0, 40).map((color) => {
    const swatch = element("span");
    swatch.style.backgroundColor = color;
    return swatch;
  }));
}

// fillField shows what the text states for a field.
function fillField(control) {
  const { section, name, key } = control.dataset;
  const value = valueIn(loomForm.lines, section, name, key);
  if (control.localName === "select") {
    const known = knownSection(section).keys.find((k) => k.name === key);
    const choices = known.choices ?? sectionsOf(loomForm.lines, "reed").filter((reed) => reed !== "");
    const same = choices.find((choice) => folded(choice) === folded(value));
    const all = ["", ...choices, ...(value !== "" && same === undefined ? [value] : [])];
    control.replaceChildren(...all.map((choice) => element("option", { value: choice, textContent: choice || "not stated" })));
    control.value = same ?? value;
  } else {
    control.value = value;
  }
  showUnit(control);
}

// sectionFields makes the fields of a section, those that few weavers need behind a click.
function sectionFields(section, name, first) {
  const fields = (keys) => keys.map((key) => keyField(section, name, key));
  const keys = knownSection(section).keys.filter((key) => !/^[A-Z]+$/.test(key.name));
  const shown = first ? keys.filter((key) => first.includes(key.name)) : keys;
  const others = keys.filter((key) => !shown.includes(key));
  return [element("div", { className: "fields" }, ...fields(shown)),
    others.length > 0 ? element("details", { className: "more" }, element("summary", { textContent: "More about the " + section }), element("div", { className: "fields" }, ...fields(others))) : undefined];
}

function sectionBox(section, title, ...content) {
  const box = element("fieldset", { className: "section" }, element("legend", { textContent: title }), element("p", { className: "mistake", hidden: true }), ...content);
  box.dataset.section = section;
  return box;
}

// card makes the fields of a section with a name, such as a yarn.
function card(section, name) {
  const id = "key-" + ++fieldNumber;
  const called = element("input", { id, type: "text", value: name, autocomplete: "off", spellcheck: false, "aria-describedby": id + "-error" });
  const mistake = element("p", { id: id + "-error", className: "mistake", hidden: true });
  called.addEventListener("change", () => {
    const to = called.value.replace(/[[\]\s]+/g, " ").trim();
    const taken = sectionsOf(loomForm.lines, section).some((other) => other.toLowerCase() === to.toLowerCase() && other.toLowerCase() !== name.toLowerCase());
    mistake.textContent = taken ? `Another ${section} has this name; choose a different one.` : "";
    mistake.hidden = !taken;
    called.setAttribute("aria-invalid", taken);
    if (taken || to === name) return;
    let text = renameSection(settings.text, section, name, to);
    if (section === "reed" && folded(valueIn(loomForm.lines, "project", "", "reed")) === folded(name) && name !== "") {
      text = setValue(text, "project", "", "reed", to, knownSection("project").keys.map((k) => k.name));
    }
    settings.take(text);
  });
  const remove = element("button", { type: "button", className: "remove", textContent: "Remove", "aria-label": `Remove the ${section} ${name}`.trim(), onclick: () => {
    loomForm.removed = settings.text;
    settings.take(removeSection(settings.text, section, name));
    byId("put-back").hidden = false;
    byId("put-back").focus();
    say(`Removed the ${section} ${name}`.trim() + ". You can put it back.");
  } });
  const box = element("fieldset", { className: "card" }, element("legend", { textContent: `${section} ${name}`.trim() }), element("p", { className: "mistake", hidden: true }),
    element("div", { className: "field" }, element("label", { htmlFor: id, textContent: "name" }), element("div", { className: "control" }, called), mistake),
    ...sectionFields(section, name), remove);
  Object.assign(box.dataset, { section, name });
  return box;
}

function cards(section) {
  const known = knownSection(section);
  const words = section === "reed" ? "Your reed. If you own several, add each and give it a name." : sentence(known.meaning);
  return [element("p", { className: "hint" }, ...worded(words)),
    ...sectionsOf(loomForm.lines, section).map((name) => card(section, name)),
    element("button", { type: "button", className: "add", textContent: `Add a ${section}`, onclick: () => addCard(section) })];
}

// addCard adds a section with a free name. A reed needs none if there is only one.
function addCard(section) {
  const names = sectionsOf(loomForm.lines, section).map((name) => name.toLowerCase());
  let name = section === "reed" && names.length === 0 ? "" : "1";
  for (let i = 2; names.includes(name); i++) name = String(i);
  settings.take(addSection(settings.text, section, name));
  const made = [...byId("loom-form").querySelectorAll(".card")].find((c) => c.dataset.section === section && c.dataset.name === name);
  made?.querySelector("input, select").focus();
  made?.scrollIntoView({ block: "nearest" });
}

// heddleBoxes makes a row of boxes, one for each shaft, and buttons to count with.
function heddleBoxes() {
  const row = element("div", { id: "heddle-boxes", role: "group", "aria-label": "Heddles on each shaft" });
  const count = (by) => {
    const box = row.querySelector(`[data-key="${loomForm.box}"]`);
    if (!box) return;
    box.value = Math.max(0, (Number(box.value) || 0) + by);
    setHeddles(box);
    fillBoxes();
  };
  const buttons = [["+10", 10], ["+1", 1], ["−1", -1]].map(([text, by]) => element("button", { type: "button", textContent: text,
    "aria-label": by > 0 ? `Add ${by}` : "Take away 1", onclick: () => count(by) }));
  const next = element("button", { type: "button", textContent: "Next shaft", onclick: () => {
    loomForm.box = loomForm.box % Math.max(1, row.childElementCount) + 1;
    fillBoxes();
  } });
  return element("div", { id: "heddle-counter" },
    element("p", { className: "hint", id: "heddle-hint" }), row,
    element("div", { className: "row", id: "heddle-buttons" }, element("span", { id: "heddle-now", "aria-live": "polite" }), ...buttons, next));
}

// heddlesOn returns what the text states for a shaft without a line of its own.
function heddlesOn(shaft) {
  let count = valueIn(loomForm.lines, "heddles", "", "each");
  for (const line of loomForm.lines) {
    const range = line.section === "heddles" && line.key !== undefined && /^(\d+) (\d+)$/.exec(line.key);
    if (range && Number(range[1]) <= shaft && shaft <= Number(range[2])) count = line.value;
  }
  return count;
}

// setHeddles puts the count of a box into the text. A shaft with as many heddles as the
// lines for all shafts or a range give it needs no line.
function setHeddles(box) {
  setKey(box, box.value.trim() === heddlesOn(Number(box.dataset.key)) ? "" : box.value);
}

function fillBoxes(source) {
  const row = byId("heddle-boxes");
  const shafts = Number(valueIn(loomForm.lines, "loom", "", "shafts"));
  const boxes = Number.isInteger(shafts) && shafts > 0 ? Math.min(shafts, mostBoxes) : 0;
  while (row.childElementCount > boxes) {
    loomForm.controls = loomForm.controls.filter((control) => control !== row.lastChild.firstElementChild.nextElementSibling);
    row.lastChild.remove();
  }
  while (row.childElementCount < boxes) row.append(heddleBox(row.childElementCount + 1));
  loomForm.box = Math.min(loomForm.box, Math.max(1, boxes));
  for (const box of row.querySelectorAll("input")) {
    const shaft = Number(box.dataset.key);
    box.placeholder = heddlesOn(shaft);
    if (box !== source) box.value = valueIn(loomForm.lines, "heddles", "", String(shaft));
    box.parentElement.classList.toggle("counting", shaft === loomForm.box);
  }
  byId("heddle-hint").textContent = boxes === 0 ? "State how many shafts the loom has, and each gets a box here for its heddles."
    : "One box for each shaft. Type how many heddles it has, or count at the loom: press a button for each heddle, or each ten. A gray number comes from another line of the text." +
      (shafts > boxes ? ` Shafts above ${mostBoxes} are in the text only.` : "");
  byId("heddle-buttons").hidden = boxes === 0;
  const now = row.querySelector(".counting input");
  byId("heddle-now").textContent = now ? `Shaft ${loomForm.box}: ${now.value || now.placeholder || 0}` : "";
}

function heddleBox(shaft) {
  const box = element("input", { type: "text", inputMode: "numeric", autocomplete: "off", "aria-describedby": "heddle-mistake" });
  Object.assign(box.dataset, { section: "heddles", name: "", key: String(shaft), box: "true" });
  loomForm.controls.push(box);
  box.addEventListener("focus", () => { loomForm.box = shaft; fillBoxes(box); });
  box.addEventListener("input", () => { setHeddles(box); fillBoxes(box); });
  return element("label", { className: "box" }, element("span", { textContent: shaft }), box);
}

// showForm makes the form follow the text. It leaves the field that the reader is in.
function showForm(source) {
  loomForm.lines = readIni(settings.text);
  const named = JSON.stringify(facts.settings.filter((s) => s.named).map((s) => sectionsOf(loomForm.lines, s.name)));
  if (named !== loomForm.cards) {
    loomForm.cards = named;
    for (const section of ["reed", "yarn", "warp"]) {
      const list = byId("cards-" + section);
      loomForm.controls = loomForm.controls.filter((control) => !list.contains(control));
      list.replaceChildren(...cards(section));
    }
  }
  for (const control of loomForm.controls) if (control !== source && !control.dataset.box) fillField(control);
  fillBoxes(source);
  numberLines();
}

// numberLines numbers the lines of the text and marks those with errors.
function numberLines() {
  const wrong = new Set(settings.errors.map((error) => error.line));
  const count = byId("settings").value.split("\n").length;
  const key = count + " " + [...wrong].join();
  const numbers = byId("settings-lines");
  if (numbers.dataset.key === key) return;
  numbers.dataset.key = key;
  const parts = [];
  let plain = "";
  for (let i = 1; i <= count; i++) {
    if (!wrong.has(i)) {
      plain += i + "\n";
      continue;
    }
    parts.push(plain, element("b", { textContent: i }), "\n");
    plain = "";
  }
  numbers.replaceChildren(...parts.filter((part) => part !== ""), plain);
}

// showFieldErrors shows each error at the field of its line.
function showFieldErrors() {
  const form = byId("loom-form");
  for (const mistake of form.querySelectorAll(".section > .mistake, .card > .mistake, .field > .mistake")) {
    mistake.hidden = true;
    mistake.textContent = "";
  }
  for (const control of loomForm.controls) control.removeAttribute("aria-invalid");
  for (const error of settings.errors) {
    const line = loomForm.lines[error.line - 1];
    if (!line) continue;
    const control = line.key !== undefined && loomForm.controls.find((c) => c.dataset.section === line.section && c.dataset.name.toLowerCase() === line.name.toLowerCase() && folded(c.dataset.key) === line.key);
    const boxes = [...form.querySelectorAll(".card, .section")].filter((box) => box.dataset.section === line.section && (box.dataset.name ?? "").toLowerCase() === (line.name ?? "").toLowerCase());
    const mistake = control && !control.dataset.box ? byId(control.id + "-error") : boxes[0]?.querySelector(":scope > .mistake");
    if (control) control.setAttribute("aria-invalid", "true");
    if (!mistake) continue;
    mistake.textContent += (mistake.textContent ? " " : "") + sentence(error.text.replace(/^\[[^\]]*\] [^:]+: /, ""));
    mistake.hidden = false;
    const hidden = mistake.closest("details:not([open])");
    if (hidden) hidden.open = true;
  }
  numberLines();
}

let settingsVersion = 0;

// checkSettings asks the program what is wrong with the text.
const checkSettings = guarded(async () => {
  const version = ++settingsVersion;
  const files = new Map([...inputs()].filter(([path]) => isSettings(path)));
  const done = await runProgram(["settings", "--format", "json"], files, "Checking your settings", () => version === settingsVersion);
  if (!done || version !== settingsVersion) return;
  listSettingsErrors(plainErrors(done.stderr).map(settingsError).filter(Boolean));
  showFieldErrors();
});

function startLoomForm() {
  const unit = element("fieldset", { id: "unit" }, element("legend", { textContent: "A number without a unit is in" }),
    ...["cm", "in"].map((name) => element("label", {}, element("input", { type: "radio", name: "unit", value: name, checked: chosenUnit() === name, onchange: () => {
      statedUnit = name;
      store("unit", name);
      loomForm.controls.filter((control) => !control.dataset.box).forEach(showUnit);
    } }), " " + (name === "in" ? "inches" : "centimetres"))));
  const putBack = element("button", { type: "button", id: "put-back", textContent: "Put it back", hidden: true, onclick: () => {
    settings.take(loomForm.removed);
    putBack.hidden = true;
    say("");
  } });
  const list = (section) => element("div", { id: "cards-" + section });
  byId("loom-form").append(element("div", { className: "row tools" }, unit, putBack),
    sectionBox("loom", "Loom", ...sectionFields("loom", "")),
    sectionBox("heddles", "Heddles", ...sectionFields("heddles", ""), heddleBoxes()),
    sectionBox("reeds", "Reeds", list("reed")),
    sectionBox("yarns", "Yarn", list("yarn")),
    sectionBox("project", "Project", ...sectionFields("project", "", shownFirst)),
    sectionBox("warps", "A second warp", list("warp")),
    element("p", { className: "aside", textContent: "The text can also change how severe a rule is, skip files and include other settings. The explained list has every setting." }));
  byId("loom-form").addEventListener("submit", (event) => event.preventDefault());
  const area = byId("settings");
  area.addEventListener("scroll", () => { byId("settings-lines").scrollTop = area.scrollTop; });
  showForm();
  let timer;
  settings.watchers.push((source) => {
    showForm(source);
    if (!byId("put-back").hidden && settings.text === loomForm.removed) byId("put-back").hidden = true;
    clearTimeout(timer);
    timer = setTimeout(checkSettings, 200);
  });
  filesWatchers.push(() => { if (/^\s*include/im.test(settings.text)) checkSettings(); });
  if (settings.text.trim() !== "") checkSettings();
}
