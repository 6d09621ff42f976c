// The view for the loom: one line of one step at a time, large, with the place kept.

const loomOptions = { aloud: false, voice: "", pace: 1, every: 0 };
for (const [key, value] of Object.entries(stored("loom") ?? {})) if (typeof value === typeof loomOptions[key]) loomOptions[key] = value;

const loom = {
  version: 0,
  opened: undefined, // the source of a place that was opened from a file
  offered: undefined, // the place in that file
  source: undefined, // {path, files}: the draft and the settings beside it
  plan: undefined,
  steps: [],
  at: undefined, // the place: {key, path, time, step, at, reached, done, notes, days}
  last: -Infinity, // when the last step was made
  size: { key: "", size: 0 }, // of the type, and where it was chosen
};

const guardTime = 200; // milliseconds in which a second press doesn't count
const longestNote = 500;

const stepAt = () => loom.steps.findIndex((step) => step.key === loom.at.step);
const lineAt = (step) => Math.min(loom.at.at[step.key] ?? 0, step.count - 1);
const today = () => new Date().toLocaleDateString("en-CA"); // as 2026-11-26, in local time

// chosenSource returns the chosen draft with the settings that may apply to it.
function chosenSource() {
  const path = place.chosen;
  if (!library.files.has(path)) return undefined;
  return { path, files: new Map([...inputs()].filter(([name]) => name === path || isSettings(name))) };
}

// sameSource reports whether two sources give the same plan.
function sameSource(a, b) {
  const same = (x, y) => x === y || (x?.length === y?.length && x.every((byte, i) => byte === y[i]));
  return a !== undefined && b !== undefined && a.path === b.path && a.files.size === b.files.size && [...a.files].every(([path, bytes]) => same(bytes, b.files.get(path)));
}

// showLoom shows the place of the chosen draft, or the newest place if no draft is open.
const showLoom = guarded(async () => {
  if (document.body.dataset.view !== "loom") return leaveLoom();
  const version = ++loom.version;
  const current = () => version === loom.version && document.body.dataset.view === "loom";
  if (!byId("loom").contains(document.activeElement)) byId("loom").focus({ preventScroll: true });
  const kept = await allPlaces();
  let source = loom.opened ?? chosenSource();
  const newest = source === undefined ? kept[0] : undefined;
  if (newest) source = await sourceOf(newest.key);
  if (!current()) return;
  if (!source) {
    Object.assign(loom, { source: undefined, plan: undefined, steps: [], at: undefined });
    return loomWords("Open a draft first, or a place that you saved. Then this view takes you through dressing and weaving, line by line, and keeps your place.");
  }
  if (!loom.plan || !sameSource(source, loom.source)) {
    const done = await runProgram(["plan", "--format", "json", "--", source.path], source.files, "Working out the steps", current);
    if (!done || !current()) return;
    const plan = done.status === 0 ? JSON.parse(toText(done.stdout)) : undefined;
    if (!plan || plan.error) {
      Object.assign(loom, { source: undefined, plan: undefined, steps: [], at: undefined });
      return loomWords("No steps: " + (plan?.error?.message ?? plainErrors(done.stderr).join(" ")));
    }
    Object.assign(loom, { source, plan, steps: stepsOf(plan), at: undefined });
  }
  loomWords("");
  if (loom.at) return showLine();
  takePlace(kept);
});

// takePlace goes to the place that is kept for this plan. If the draft or the settings
// changed since a newer place, it asks.
function takePlace(kept) {
  const key = fingerprint(loom.plan);
  const offered = loom.offered;
  loom.offered = undefined;
  const mine = kept.find((x) => x.key === key);
  const other = offered ?? kept.find((x) => x.key !== key && x.path === loom.source.path);
  if (offered?.key === key && !(mine?.time > offered.time)) return startAt({ ...offered, path: loom.source.path });
  if (other && !(mine?.time >= other.time)) return askWhich(key, mine, other);
  startAt(mine ?? freshPlace(key));
}

const workName = () => loom.plan.title || baseName(loom.source.path);

const freshPlace = (key) => ({ key, path: loom.source.path, time: 0, step: "", at: {}, reached: {}, done: [], notes: [], days: {} });

// placeWords says where a place is.
function placeWords(x) {
  const step = loom.steps.find((s) => s.key === x.step);
  if (!step) return "the overview";
  const at = x.reached[step.key] ?? 0;
  return `"${step.title}", ${step.unit ? `${step.unit.toLowerCase()} ${Math.min(at + 1, step.most)}` : `line ${at + 1}`}`;
}

function askWhich(key, mine, other) {
  loom.at = freshPlace(key);
  const fromFile = other.key === key ? "This file has an older place than this browser." : "The draft or its settings changed since you were here.";
  const choice = (text, take) => element("button", { type: "button", textContent: text, onclick: () => { byId("loom-ask").hidden = true; take(); } });
  byId("loom-ask").replaceChildren(element("p", { textContent: `${fromFile} Which place do you want?` }), element("div", { className: "row tools" },
    choice(`Keep my place: ${placeWords(other)}`, () => startAt(adopted(key, other))),
    mine ? choice(`Go to the place of this plan: ${placeWords(mine)}`, () => startAt(mine)) : "",
    choice("Start at the beginning", () => startAt(freshPlace(key)))));
  byId("loom-ask").hidden = false;
  showOverview();
  byId("loom-ask").scrollIntoView({ block: "center" });
  say(`${fromFile} Choose a place.`);
}

// adopted moves a place to this plan: by ends and picks where steps count them.
function adopted(key, other) {
  const at = {};
  for (const step of loom.steps) if (step.key in other.at) at[step.key] = Math.min(step.after ? step.after(other.reached[step.key] ?? 0) : other.at[step.key], step.count - 1);
  return { ...freshPlace(key), step: loom.steps.some((s) => s.key === other.step) ? other.step : "", at, reached: other.reached, done: other.done, notes: other.notes, days: other.days };
}

function startAt(x) {
  loom.at = structuredClone(x);
  for (const step of loom.steps) if (step.key in loom.at.at) loom.at.at[step.key] = lineAt(step);
  keepSource(loom.at.key, loom.source);
  if (loom.at.time > 0 || loom.at.step !== "") keepPlaceNow();
  showLine();
}

// keepPlaceNow writes the place, and says if it can't.
async function keepPlaceNow() {
  const step = loom.steps[stepAt()];
  if (step) loom.at.reached[step.key] = step.reached?.(lineAt(step)) ?? lineAt(step);
  loom.at.time = Math.max(Date.now(), loom.at.time + 1);
  const time = loom.at.time;
  await keepLoomPlace(loom.at);
  showKeeping();
  if (!places.failed) byId("loom").dataset.kept = time;
}

// showKeeping says whether this browser keeps the place.
function showKeeping() {
  byId("loom-kept").textContent = places.failed ? `This browser doesn't keep your place (${places.failed}). Save it to a file.` : "";
  byId("loom-keeps").hidden = Boolean(places.failed);
}

function loomWords(text) {
  byId("loom-words").textContent = text;
  byId("loom-words").hidden = text === "";
  byId("loom-overview").hidden = true;
  byId("loom-stage").hidden = true;
  byId("loom-ask").hidden = true;
  if (text) {
    byId("loom").dataset.step = "overview";
    byId("now").replaceChildren();
    leaveLoom();
  }
}

function leaveLoom() {
  document.body.classList.remove("at-loom");
  keepScreenOn(false);
  voice.stop();
}

function showOverview() {
  byId("loom").dataset.step = "overview";
  byId("loom-stage").hidden = true;
  byId("loom-overview").hidden = false;
  document.body.classList.remove("at-loom");
  keepScreenOn(false);
  voice.stop();
  const asked = !byId("loom-ask").hidden;
  const begun = Object.keys(loom.at.at).length > 0;
  byId("loom-begin").disabled = asked;
  byId("loom-begin").textContent = begun ? "Go on" : "Begin";
  byId("loom-draft").textContent = `${workName()}: ${counted(loom.plan.warp.ends, "end")}${loom.plan.weft.picks > 0 ? `, ${counted(loom.plan.weft.picks, "pick")}` : ""}. Step with space, the arrows, Page Down and Page Up, or tap: the right half goes forward, the left half back.`;
  byId("loom-steps").replaceChildren(...loom.steps.map((step) => {
    const at = loom.at.at[step.key];
    const state = loom.at.done.includes(step.key) ? "done" : at === undefined ? "" : step.unit ? `at ${step.unit.toLowerCase()} ${Math.min(step.reached(lineAt(step)) + 1, step.most)} of ${step.most}` : `at line ${lineAt(step) + 1} of ${step.count}`;
    const button = element("button", { type: "button", className: "link", disabled: asked, onclick: () => goTo(step.key) }, step.title);
    const item = element("li", {}, button, " ", element("span", { className: "state", textContent: state === "done" ? "✓ done" : state }));
    item.dataset.of = step.key;
    return item;
  }));
  const notes = loom.at.notes;
  byId("loom-notes").replaceChildren(...notes.map((note, i) => element("li", {}, `${note.where}: ${note.text} `,
    element("button", { type: "button", className: "link", textContent: "Delete", "aria-label": `Delete the note at ${note.where}`, onclick: () => { notes.splice(i, 1); keepPlaceNow(); showOverview(); } }))));
  byId("loom-notes-title").hidden = notes.length === 0;
  byId("loom-today").textContent = todayWords();
  showKeeping();
  byId("now").textContent = begun ? `Go on with ${placeWords(loom.at)}.` : `Begin with "${loom.steps[0]?.title ?? ""}".`;
}

function todayWords() {
  const picks = loom.at.days[today()] ?? 0;
  return picks > 0 ? `${counted(picks, "pick")} woven today` : "";
}

// goTo shows a step at its own place.
function goTo(key, line) {
  const step = loom.steps.find((s) => s.key === key);
  if (!step) return;
  loom.at.step = key;
  loom.at.at[key] = Math.max(0, Math.min(line ?? lineAt(step), step.count - 1));
  if (line !== undefined && line < step.count - 1) loom.at.done = loom.at.done.filter((x) => x !== key);
  keepPlaceNow();
  showLine({ aloud: true });
}

// begin goes on where the work stopped.
function begin() {
  if (!byId("loom-ask").hidden) return;
  goTo((loom.steps[stepAt()] ?? loom.steps[0])?.key);
  byId("loom").focus({ preventScroll: true });
}

// move goes one line forward (1) or back (-1).
function move(by, time) {
  if (!loom.at || time - loom.last < guardTime) return;
  loom.last = time;
  if (byId("loom").dataset.step === "overview") {
    if (by > 0) begin();
    return;
  }
  const index = stepAt();
  const step = loom.steps[index];
  const line = lineAt(step);
  const next = line + by;
  if (step.isPick && next >= 0 && next < step.count && step.isPick(by > 0 ? line : next)) {
    const days = loom.at.days;
    days[today()] = Math.max(0, (days[today()] ?? 0) + by);
  }
  if (next >= 0 && next < step.count) {
    loom.at.at[step.key] = next;
    const all = step.isPick && next === step.count - 1;
    loom.at.done = loom.at.done.filter((key) => key !== step.key).concat(all ? [step.key] : []);
  } else {
    const other = loom.steps[index + by];
    if (by > 0) loom.at.done = [...new Set([...loom.at.done, step.key])];
    if (!other) {
      byId("loom-notice").textContent = by > 0 ? "This is the last line." : "This is the first line.";
      keepPlaceNow();
      return;
    }
    loom.at.step = other.key;
    loom.at.at[other.key] = lineAt(other);
    if (by < 0) loom.at.done = loom.at.done.filter((key) => key !== other.key);
  }
  keepPlaceNow();
  showLine({ aloud: true });
}

// numbersIn writes numbers with a gap after every few.
function numbersIn(numbers, apart) {
  const box = element("span", { className: numbers.every((n) => String(n).length <= 2) ? "numbers short" : "numbers" });
  for (let i = 0; i < numbers.length; i += apart) {
    box.append(element("span", { className: "some" }, ...numbers.slice(i, i + apart).flatMap((n) => [element("span", { textContent: n }), " "])));
  }
  return box;
}

// swatch shows a color beside its name.
function swatch(hex) {
  const box = element("span", { className: "swatch", "aria-hidden": "true" });
  if (hex) box.style.background = hex;
  return box;
}

// runsIn writes a color order, with repeats folded as on the sheet.
function runsIn(blocks) {
  const run = ({ ends, color }) => element("span", { className: "run" }, element("b", { textContent: ends }), " ", color.hex ? swatch(color.hex) : "", colorName(color));
  const listed = (runs) => runs.flatMap((r, i) => (i > 0 ? [", ", run(r)] : [run(r)]));
  const few = blocks.length === 1 && blocks[0].runs.length === 1;
  return element("span", { className: few ? "runs few" : "runs" }, ...blocks.flatMap(({ times, runs }, i) => [
    i > 0 ? ", then " : "", ...(times > 1 ? [element("b", { textContent: `${times} times` }), " (", ...listed(runs), ")"] : listed(runs))]));
}

// marksOf draws which shafts move: filled with their number, or empty.
function marksOf({ shafts, moved }) {
  const box = element("div", { className: shafts > 12 ? "marks many" : "marks", "aria-hidden": "true" });
  for (let shaft = 1; shaft <= shafts; shaft++) {
    const moves = moved.includes(shaft);
    box.append(element("span", { className: moves ? "moves" : "", textContent: moves ? shaft : "·" }));
  }
  return box;
}

// setLine sets the line in a size of type, and reports whether it fits.
function setLine(size) {
  const tap = byId("loom-tap");
  tap.style.fontSize = size + "px";
  const marks = byId("loom-marks").firstChild;
  if (marks) {
    const cell = 2.1 * parseFloat(getComputedStyle(marks).fontSize);
    const rows = Math.ceil((marks.childElementCount * cell) / Math.max(cell, byId("loom-marks").clientWidth));
    marks.style.gridTemplateColumns = `repeat(${Math.ceil(marks.childElementCount / rows)}, ${0.88 * cell}px)`;
  }
  return tap.scrollHeight <= tap.clientHeight && tap.scrollWidth <= tap.clientWidth;
}

const leastType = 13; // pixels
const mostType = 0.09; // of the shorter side of the window

// doneWords says how much of a step is done at a line, and how much is left.
function doneWords(step, at) {
  const before = (step.least ?? 1) - 1;
  const all = (step.most ?? step.count) - before;
  const done = (step.reached?.(at) ?? at) - before;
  return all > 1 ? `${done} of ${counted(all, (step.unit ?? step.each ?? "line").toLowerCase())} done, ${all - done} left` : "";
}

// showAround lists the lines before and after the current one, as many as there is room for,
// if the screen is wide.
function showAround() {
  const box = byId("loom-around");
  const list = byId("loom-lines");
  if (box.clientHeight === 0) return list.replaceChildren();
  const index = stepAt();
  const step = loom.steps[index];
  const at = lineAt(step);
  const room = Math.ceil(box.clientHeight / parseFloat(getComputedStyle(box).fontSize));
  const from = Math.max(0, at - 3);
  const rows = Array.from({ length: Math.min(step.count, at + room) - from }, (_, i) => {
    const [label, text] = step.brief(from + i);
    const row = element("li", { className: from + i > at ? "after" : "" }, element("span", { textContent: label }), " ", element("span", { textContent: text }));
    if (from + i === at) row.setAttribute("aria-current", "step");
    return row;
  });
  byId("loom-done").textContent = doneWords(step, at);
  byId("loom-then").textContent = loom.steps[index + 1] ? `Next step: ${loom.steps[index + 1].title}` : "";
  list.replaceChildren(...rows);
  let [first, last, current] = [0, rows.length - 1, at - from];
  while (box.scrollHeight > box.clientHeight && first < last) {
    const end = last > current + 2 || first === current;
    rows[end ? last-- : first++].remove();
  }
}

// fitLine sets the line as large as there is room. Lines of numbers keep the size of the
// smallest line of their step so far, so that they don't change from pick to pick.
function fitLine() {
  const tap = byId("loom-tap");
  byId("loom-stage").classList.remove("overlong");
  showAround();
  if (tap.clientWidth === 0) return;
  const key = byId("now").dataset.count ? `${loom.at.step} ${tap.clientWidth} ${tap.clientHeight}` : "";
  let high = Math.max(leastType, Math.round(mostType * Math.min(innerWidth, innerHeight)));
  if (loom.size.key === key && key) high = Math.min(high, loom.size.size);
  let low = leastType;
  if (!setLine(high)) {
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (setLine(middle)) low = middle;
      else high = middle;
    }
    high = low;
    // What doesn't fit in the smallest type makes the page longer.
    if (!setLine(low)) byId("loom-stage").classList.add("overlong");
  }
  loom.size = { key, size: high };
}

// showLine shows the current line of the current step.
function showLine({ aloud = false } = {}) {
  const index = stepAt();
  if (index < 0) return showOverview();
  const step = loom.steps[index];
  const at = lineAt(step);
  const line = step.line(at);
  const every = loomOptions.every;
  byId("loom").dataset.step = step.id;
  byId("loom-overview").hidden = true;
  byId("loom-stage").hidden = false;
  document.body.classList.add("at-loom");
  keepScreenOn(true);

  byId("loom-step").textContent = step.title;
  byId("loom-name").textContent = workName();
  byId("loom-count").textContent = step.isPick ? todayWords() : `${step.each ?? "line"} ${at + 1} of ${step.count}`;
  const progress = byId("loom-progress");
  progress.max = step.count;
  progress.value = step.isPick ? at : at + 1;
  byId("loom-where").textContent = line.where ?? "";
  const now = [line.label ? element("span", { className: "label", textContent: line.label + " " }) : ""];
  if (line.treadles) now.push(element("span", { className: "treadles" }, `${line.treadles.length > 1 ? "treadles" : "treadle"} `, element("b", { textContent: line.treadles.join(" + ") || "none" }), " "));
  if (line.numbers) {
    const numbers = numbersIn(line.numbers, line.apart);
    now.push(line.treadles ? element("span", { className: "lift" }, "shafts ", numbers) : numbers);
  } else if (line.blocks) {
    now.push(runsIn(line.blocks));
  } else {
    const rows = line.text.split("\n");
    const kind = rows.length > 1 && longestOf(rows) <= 24 ? " rows" : line.text.length > 90 ? " long" : "";
    now.push(element("span", { className: "words" + kind, textContent: line.text }));
  }
  byId("now").replaceChildren(...now.filter(Boolean));
  byId("now").className = line.treadles ? "pressing" : "";
  byId("now").dataset.count = line.numbers ? [4, 12, 24].find((most) => line.longest <= most) ?? "more" : "";
  byId("loom-marks").replaceChildren(...(line.marks ? [marksOf(line.marks)] : []));
  const color = byId("loom-color");
  color.hidden = !line.color;
  if (line.color) {
    const { row, verb } = line.color;
    color.replaceChildren(row?.hex ? swatch(row.hex) : "", `${verb} ${colorName(row)}`, isHex(row) ? element("span", { className: "hex", textContent: ` (${row.name})` }) : "");
  }
  byId("loom-more").replaceChildren(...(line.more ?? []).filter(Boolean).map((text) => element("p", { textContent: text })));
  byId("loom-next").textContent = line.next ? `Next: ${line.next}` : "";
  const mark = every > 0 && line.pickInPart > 0 && line.pickInPart % every === 0 ? `Mark here: ${line.pickInPart} picks.` : "";
  const here = loom.at.notes.filter((note) => note.step === step.key && note.line === at).map((note) => `Note: ${note.text}`);
  byId("loom-notice").textContent = [mark, ...here].filter(Boolean).join(" ");
  byId("loom-about-text").replaceChildren(...worded(step.about));
  byId("loom-about").hidden = Boolean(step.checklist);
  byId("loom-about").open = at === 0 && !step.checklist && innerHeight > 400; // if there is room
  byId("loom-note-open").textContent = step.ends ? "Mark a mistake" : "Write a note";
  fitLine();
  if (aloud) voice.say(mark ? `${line.say} ${mark}` : line.say);
}

// openNote asks for a note at this line; in the threading also for the end.
function openNote() {
  const step = loom.steps[stepAt()];
  const line = step.line(lineAt(step));
  byId("loom-note-end").hidden = !step.ends;
  if (step.ends) {
    const field = byId("loom-note-number");
    field.min = Math.min(line.from, line.to);
    field.max = Math.max(line.from, line.to);
    field.value = line.from;
  }
  byId("loom-note-title").textContent = step.ends ? "Mark a mistake" : `Note: ${line.place ?? ([step.title, line.label].filter(Boolean).join(", "))}`;
  byId("loom-note-text").value = "";
  byId("loom-note").showModal();
}

function takeNote() {
  const step = loom.steps[stepAt()];
  const at = lineAt(step);
  const line = step.line(at);
  const text = byId("loom-note-text").value.trim().slice(0, longestNote);
  if (text) {
    const where = step.ends ? `End ${byId("loom-note-number").value}` : line.pick ? `${line.place} (pick ${line.pick} of all)` : [step.title, line.label].filter(Boolean).join(", ");
    loom.at.notes.push({ step: step.key, line: at, where, text, time: Date.now() });
    keepPlaceNow();
  }
  byId("loom-note").close();
  showLine();
}

// openGo asks where to jump in this step.
function openGo() {
  const step = loom.steps[stepAt()];
  const most = step.most ?? step.count;
  const least = step.least ?? 1;
  byId("loom-go-label").firstChild.textContent = `${step.unit ?? "Line"}, ${least} to ${most} `;
  const field = byId("loom-go-number");
  Object.assign(field, { min: least, max: most, value: step.unit ? Math.min(step.reached(lineAt(step)) + 1, most) : lineAt(step) + 1 });
  const parts = step.parts?.filter((part) => part.picks > 0) ?? [];
  byId("loom-go-part").hidden = parts.length < 2;
  byId("loom-go-select").replaceChildren(...parts.map((part) => element("option", { value: part.pick, textContent: `${step.partName(part)}: from pick ${part.pick}` })));
  const here = parts.findLast((part) => part.pick <= Number(field.value));
  if (here) byId("loom-go-select").value = here.pick;
  byId("loom-go").showModal();
}

function takeGo() {
  const step = loom.steps[stepAt()];
  const n = Math.round(Number(byId("loom-go-number").value));
  byId("loom-go").close();
  if (n >= (step.least ?? 1) && n <= (step.most ?? step.count)) goTo(step.key, step.find ? step.find(n) : n - 1);
}

const keyMoves = { " ": 1, ArrowRight: 1, ArrowDown: 1, PageDown: 1, ArrowLeft: -1, ArrowUp: -1, PageUp: -1 };

function moveByKey(event) {
  const by = keyMoves[event.key];
  const reads = event.key.toLowerCase() === "r" && !byId("loom-stage").hidden;
  if ((by === undefined && !reads) || document.body.dataset.view !== "loom" || event.ctrlKey || event.altKey || event.metaKey || event.defaultPrevented) return;
  const focus = document.activeElement;
  if (reads) {
    if (!focus?.closest("#loom") || focus.closest("input, select, textarea, dialog") || event.repeat) return;
    event.preventDefault();
    return readAloud(!loomOptions.aloud);
  }
  const nothing = !focus || focus === document.body || focus === byId("loom") || focus.id === "main";
  if (!nothing && !(focus.closest("#loom-stage") && event.key !== " " && focus.matches("button, summary"))) return;
  event.preventDefault();
  if (!event.repeat) move(event.key === " " && event.shiftKey ? -1 : by, event.timeStamp);
}

// moveByTap moves back in the left half, forward in the right.
function moveByTap(event) {
  if (event.target.closest("button, summary, details, a, input, select, textarea, dialog") || getSelection()?.toString()) return;
  const box = byId("loom-stage").getBoundingClientRect();
  move(event.clientX < box.left + box.width / 2 ? -1 : 1, event.timeStamp);
}

// readAloud switches reading aloud on or off, and says so at the stage.
function readAloud(on) {
  const able = voice.local().length > 0;
  loomOptions.aloud = on && able;
  store("loom", loomOptions);
  voice.stop();
  showVoices();
  showLine({ aloud: true });
  const said = !able ? "This browser has no voice of its own here." : on ? "Reading aloud is on." : "Reading aloud is off.";
  byId("loom-notice").textContent = [said, byId("loom-notice").textContent].filter(Boolean).join(" ");
  fitLine();
}

function showVoices() {
  const own = voice.local();
  byId("loom-read").hidden = own.length === 0;
  byId("loom-read").ariaPressed = String(loomOptions.aloud);
  byId("loom-read").firstElementChild.textContent = loomOptions.aloud ? ": on" : ": off";
  byId("loom-aloud").disabled = own.length === 0;
  byId("loom-aloud").checked = loomOptions.aloud && own.length > 0;
  byId("loom-no-voice").hidden = own.length > 0;
  byId("loom-voice").replaceChildren(...own.map((v) => element("option", { value: v.name, textContent: `${v.name} (${v.lang})` })));
  byId("loom-voice").value = own.some((v) => v.name === loomOptions.voice) ? loomOptions.voice : own[0]?.name ?? "";
  byId("loom-voice-choice").hidden = own.length === 0;
  byId("loom-pace-choice").hidden = own.length === 0;
}

// notesOf returns the notes of a draft: the newest place that has some.
const notesOf = async (path) => (await allPlaces()).find((x) => x.path === path && x.notes.length > 0)?.notes ?? [];

// notesSection lists notes at the end of a sheet.
function notesSection(notes, inside) {
  const make = (name, ...children) => {
    const made = inside.createElement(name);
    made.append(...children);
    return made;
  };
  const section = make("section", make("h2", "As woven"), make("ul", ...notes.map((note) => make("li", `${note.where}: ${note.text}`))));
  section.id = "as-woven";
  return section;
}

// asWoven adds the notes of a draft to its sheet, so that they are printed with it.
async function asWoven(inside, path) {
  const notes = await notesOf(path);
  inside.getElementById("as-woven")?.remove();
  byId("sheet-notes").hidden = notes.length === 0;
  if (notes.length > 0) inside.body.append(notesSection(notes, inside));
}

// withNotes adds the notes of a draft to its sheet as a page, in front of the script.
async function withNotes(page, path) {
  const notes = await notesOf(path);
  if (notes.length === 0) return page;
  const text = toText(page);
  const at = text.lastIndexOf("<script>");
  return toBytes(text.slice(0, at) + notesSection(notes, document).outerHTML + "\n" + text.slice(at));
}

const openPlaceFile = guarded(async (event) => {
  const [file] = event.target.files;
  event.target.value = "";
  if (!file) return;
  const read = readPlaceFile(await file.text());
  Object.assign(loom, { opened: read.source, offered: read.place, plan: undefined });
  sayProblems([]);
  showLoom();
});

const startLoom = () => {
  viewShown.loom = showLoom;
  const chosen = () => {
    loom.opened = undefined;
    showLoom();
  };
  filesWatchers.push(chosen);
  chosenWatchers.push(chosen);
  document.addEventListener("keydown", moveByKey);
  new ResizeObserver(() => { if (loom.at && !byId("loom-stage").hidden) fitLine(); }).observe(byId("loom-tap"));
  for (const id of ["loom-tap", "loom-around"]) byId(id).addEventListener("click", moveByTap);
  for (const [id, by] of [["loom-back", -1], ["loom-forward", 1]]) {
    byId(id).addEventListener("click", (event) => {
      move(by, event.timeStamp);
      if (event.detail > 0) byId("loom").focus({ preventScroll: true }); // a tap; then the keys act
    });
  }
  byId("loom-begin").addEventListener("click", begin);
  byId("loom-to-overview").addEventListener("click", () => { loom.at && showOverview(); byId("loom").focus({ preventScroll: true }); });
  byId("loom-read").addEventListener("click", (event) => {
    readAloud(!loomOptions.aloud);
    if (event.detail > 0) byId("loom").focus({ preventScroll: true });
  });
  byId("loom-note-open").addEventListener("click", openNote);
  byId("loom-go-open").addEventListener("click", openGo);
  for (const [id, take] of [["loom-note", takeNote], ["loom-go", takeGo]]) {
    byId(id).querySelector("form").addEventListener("submit", (event) => {
      event.preventDefault();
      take();
    });
    byId(id).querySelector(".cancel").addEventListener("click", () => byId(id).close());
    byId(id).addEventListener("close", () => byId("loom").focus({ preventScroll: true }));
  }
  byId("loom-go-select").addEventListener("change", () => { byId("loom-go-number").value = byId("loom-go-select").value; });
  byId("loom-save").addEventListener("click", () => download(baseName(loom.source.path).replace(/\.[^.]*$/, "") + "-place.json", toBytes(placeFile(loom.at, loom.source)), "application/json"));
  byId("loom-open").addEventListener("change", openPlaceFile);
  byId("loom-restart").addEventListener("click", () => {
    if (!loom.at || !confirm("Start all steps at the beginning? Your notes stay.")) return;
    loom.at = { ...freshPlace(loom.at.key), notes: loom.at.notes, days: loom.at.days };
    keepPlaceNow();
    showOverview();
  });
  const options = () => {
    Object.assign(loomOptions, { aloud: byId("loom-aloud").checked, voice: byId("loom-voice").value, pace: Number(byId("loom-pace").value), every: Math.max(0, Math.round(Number(byId("loom-every").value) || 0)) });
    store("loom", loomOptions);
    if (!loomOptions.aloud) voice.stop();
    showVoices();
    if (loom.at && !byId("loom-stage").hidden) showLine();
  };
  byId("loom-pace").value = loomOptions.pace;
  byId("loom-every").value = loomOptions.every || "";
  showVoices();
  globalThis.speechSynthesis?.addEventListener?.("voiceschanged", showVoices);
  for (const id of ["loom-aloud", "loom-voice", "loom-pace", "loom-every"]) byId(id).addEventListener("change", options);
  document.addEventListener("visibilitychange", () => { if (screenOn.wanted) keepScreenOn(true); });
};
