// The views, the status line, and small helpers for elements.

const byId = (id) => document.getElementById(id);

// element makes an element. Texts from drafts go only into text nodes and attributes.
function element(name, properties = {}, ...children) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(properties)) {
    if (key.startsWith("on")) made.addEventListener(key.slice(2), value);
    else if (key in made && !key.startsWith("aria")) made[key] = value;
    else if (value !== undefined && value !== false) made.setAttribute(key, value);
  }
  made.append(...children.filter((child) => child !== undefined && child !== ""));
  return made;
}

const counted = (count, one, many = one + "s") => `${count} ${count === 1 ? one : many}`;

let lasting = ""; // what the status line says when nothing else has just happened

function sayLasting(text) {
  lasting = text;
  say(text);
}

// say tells the reader what happened, also through a screen reader.
function say(text) {
  byId("status").textContent = text;
}

let pressed; // the button that was pressed last

function clearSaid() {
  for (const said of document.querySelectorAll(".said")) said.remove();
}

// sayHere says what a button did, also beside the button, since the status line may be out of
// sight. It marks what was done with a tick.
function sayHere(text, { all = text, done = true } = {}) {
  say(all);
  clearSaid();
  if (!pressed?.isConnected || !pressed.offsetParent) return;
  const said = element("span", { className: done ? "said done" : "said", "aria-hidden": "true", textContent: text });
  pressed.after(said);
  said.scrollIntoView({ block: "nearest" });
}

// sayProblems shows what went wrong, line by line; none hides the box.
function sayProblems(lines, { ofSettings = false } = {}) {
  const box = byId("problems");
  box.classList.toggle("of-settings", ofSettings); // their view shows them beside the text
  box.replaceChildren(...lines.slice(0, 20).map((line) => element("p", {}, ...worded(line))));
  if (lines.length > 20) box.append(element("p", { textContent: `and ${lines.length - 20} more` }));
  box.hidden = lines.length === 0;
}

// guarded makes an action that shows its errors.
const guarded = (action) => async (...args) => {
  try {
    await action(...args);
  } catch (error) {
    if (error instanceof Stopped) say("Stopped. Nothing was changed.");
    else {
      sayProblems([error.message]);
      byId("problems").scrollIntoView({ block: "nearest" });
    }
  }
};

// place is where the reader is; it survives a reload and a crash.
const place = { view: "drafts", chosen: "", hidden: [], time: 0 };

// takeKept takes the values of a place that was kept, if they have the right types.
function takeKept(kept) {
  for (const [key, value] of Object.entries(kept ?? {})) {
    if (typeof value === typeof place[key] && Array.isArray(value) === Array.isArray(place[key])) place[key] = value;
  }
}
takeKept(stored("place"));

// keepPlace keeps changes of the place. The browser may write the first copy seconds later,
// so the database keeps a second one.
function keepPlace(change) {
  Object.assign(place, change, { time: Date.now() });
  store("place", place);
  inPlaces("readwrite", (_, __, views) => views.put({ key: "last", ...place })).catch(() => {});
}

// openLast opens the view that was open last, if the browser lost it in a crash.
async function openLast(time) {
  const shown = place.view;
  const kept = await inPlaces("readonly", (_, __, views) => views.get("last")).catch(() => undefined);
  if (!(kept?.time > time) || place.view !== shown || location.hash.length > 1) return;
  takeKept(kept);
  showView(knownView(place.view));
}

const knownView = (id) => (byId(id)?.classList.contains("view") ? id : "drafts");

const viewShown = {}; // by id of the view: what to do when it is shown

function showView(id) {
  if (document.body.dataset.view !== id) {
    clearSaid();
    if (lasting) say(lasting);
  }
  for (const view of document.querySelectorAll(".view")) view.hidden = view.id !== id;
  if (id !== "loom") leaveLoom();
  for (const link of document.querySelectorAll("#views a")) {
    if (link.hash === "#" + id) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  document.body.dataset.view = id;
  keepPlace({ view: id });
  showOwnSettings();
  viewShown[id]?.();
}

function followHash() {
  const target = location.hash.length > 1 ? byId(decodeURIComponent(location.hash.slice(1))) : undefined;
  const view = target?.closest(".view");
  if (view) showView(view.id);
}

function startViews() {
  document.addEventListener("click", (event) => {
    const button = event.target.closest?.("button");
    if (button?.offsetParent) pressed = button; // not one that another button presses
  }, true);
  byId("no-script").remove();
  window.addEventListener("hashchange", followHash);
  openLast(place.time);
  showView(knownView(place.view));
  followHash();
  let timer;
  program.watchers.push((label) => {
    clearTimeout(timer);
    if (label === "") byId("progress").hidden = true;
    else timer = setTimeout(() => {
      byId("progress-label").textContent = label + " …";
      byId("progress").hidden = false;
    }, 500);
  });
  byId("stop").addEventListener("click", stopProgram);
}
