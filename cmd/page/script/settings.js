// The settings: a fettle.ini that the browser keeps. A form may follow and change the text
// through settings.take and settings.watchers.

const settings = {
  text: typeof stored("settings") === "string" ? stored("settings") : "",
  watchers: [], // called when the text has changed, with the source of the change

  // take replaces the text. The source is the element that the reader changed.
  take(text, source) {
    settings.text = text;
    if (source !== byId("settings")) byId("settings").value = text;
    const kept = store("settings", text);
    byId("settings-note").textContent = kept ? "" : "This browser keeps nothing for this page. Save your settings as a file, and open it next time.";
    for (const watch of settings.watchers) watch(source);
    clearTimeout(settings.timer);
    settings.timer = setTimeout(filesChanged, 150);
  },

  errors: [], // {line, column, text} of the last check
};

// settingsError reads a complaint about the settings, or gives undefined.
function settingsError(text) {
  const found = /^fettle\.ini:(\d+):(\d+): (.*)$/.exec(text);
  return found ? { line: Number(found[1]), column: Number(found[2]), text: found[3] } : undefined;
}

const isSettingsError = (text) => settingsError(text) !== undefined;

// showSettingsErrors shows at the top that a run found the settings wrong, and its other
// complaints.
function showSettingsErrors(done) {
  const all = plainErrors(done.stderr);
  const errors = all.map(settingsError).filter(Boolean);
  const missed = findings.missed.map((m) => `${m.path}: ${m.reason}`);
  const others = all.filter((text) => !isSettingsError(text) && !missed.includes(text));
  const [first] = errors;
  if (first) others.unshift(`Your settings have ${counted(errors.length, "mistake")}, so the drafts were not checked; see Your loom. Line ${first.line}: ${first.text}`);
  sayProblems(others, { ofSettings: first !== undefined && others.length === 1 });
}

// listSettingsErrors lists the mistakes in the settings below the text.
function listSettingsErrors(errors) {
  settings.errors = errors;
  byId("settings-errors").replaceChildren(...errors.map((error) => element("p", { className: "notice" },
    element("button", { type: "button", className: "link", textContent: `Line ${error.line}`, onclick: () => selectLine(byId("settings"), error.line) }), ": " + error.text)));
  byId("settings").setAttribute("aria-invalid", errors.length > 0);
}

function selectLine(area, line) {
  const before = area.value.split("\n").slice(0, line - 1).join("\n");
  const start = line > 1 ? before.length + 1 : 0;
  const end = area.value.indexOf("\n", start);
  area.focus();
  area.setSelectionRange(start, end < 0 ? area.value.length : end);
}

// ownSettings returns the settings files that opened drafts have beside them: a fettle.ini for
// all drafts in its folder, which is used instead of the text here, and files for one draft.
function ownSettings() {
  const paths = [...library.files.keys()].filter(isSettings);
  const stem = (path) => path.replace(/\.[^./]*$/, "");
  const drafts = new Set([...library.files.keys()].filter((path) => !isSettings(path)).map(stem));
  return { folders: paths.filter((path) => path.endsWith("/fettle.ini")), drafts: paths.filter((path) => drafts.has(stem(path))) };
}

// showOwnSettings says which opened drafts aren't checked against the text here.
function showOwnSettings() {
  const own = ownSettings();
  const box = byId("own-settings");
  const others = own.folders.length + own.drafts.length;
  box.hidden = others === 0 || (settings.text.trim() === "" && document.body.dataset.view !== "your-loom");
  if (box.hidden) return;
  const few = (paths) => paths.slice(0, 3).join(", ") + (paths.length > 3 ? ` and ${paths.length - 3} more` : "");
  const words = [];
  if (own.folders.length > 0) words.push(`The folder has settings of its own: ${few(own.folders)}. Drafts there are checked against them, not against what you state here under Your loom.`);
  if (own.drafts.length > 0) words.push(`${few(own.drafts)} ${own.drafts.length === 1 ? "belongs to one draft" : "belong to one draft each"}. What they state counts before what you state under Your loom.`);
  const without = (text) => {
    for (const path of [...own.folders, ...own.drafts]) library.files.delete(path);
    if (text === undefined) filesChanged();
    else settings.take(text);
  };
  const [only] = own.folders;
  box.replaceChildren(...words.map((text) => element("p", { textContent: text })), element("div", { className: "row" },
    element("button", { type: "button", textContent: "Use only mine", onclick: () => {
      without();
      say("All drafts are now checked against what you state under Your loom.");
    } }),
    others === 1 && only ? element("button", { type: "button", textContent: "Put theirs under Your loom", onclick: () => {
      if (settings.text.trim() !== "" && !confirm("Replace your settings with those of the folder?")) return;
      without(toText(library.files.get(only)));
      say("The folder's settings are now under Your loom.");
    } }) : undefined));
}

function startSettings() {
  filesWatchers.push(showOwnSettings);
  const area = byId("settings");
  area.value = settings.text;
  window.addEventListener("beforeprint", () => { byId("settings-paper").textContent = settings.text; });
  for (const kind of ["input", "change"]) area.addEventListener(kind, () => { if (area.value !== settings.text) settings.take(area.value, area); });
  byId("settings-open").addEventListener("change", guarded(async (event) => {
    const [file] = event.target.files;
    if (file) settings.take(toText(new Uint8Array(await file.arrayBuffer())));
    event.target.value = "";
  }));
  byId("settings-save").addEventListener("click", () => download("fettle.ini", toBytes(settings.text), "text/plain"));
  byId("settings-start").addEventListener("click", guarded(async () => {
    if (settings.text.trim() !== "" && !confirm("Replace your settings with an explained list?")) return;
    const done = await runProgram(["init", "--output", "-"], new Map(), "Writing the list");
    if (done.status !== 0) throw new Error(plainErrors(done.stderr).join(" "));
    settings.take(toText(done.stdout));
  }));
}
