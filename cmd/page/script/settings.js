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

function startSettings() {
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
