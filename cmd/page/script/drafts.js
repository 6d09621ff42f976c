// The opened drafts: their bytes now, what commands name, and how to undo.

const library = {
  files: new Map(), // path to bytes: drafts, and settings that lie beside them
  roots: [], // the paths of files and folders that commands name
  undo: [], // {label, before: Map from path to bytes, diff}
  example: false, // the opened draft is an example
  changed: new Set(), // paths with changes that are not downloaded
};

const baseName = (path) => path.slice(path.lastIndexOf("/") + 1);
const isSettings = (path) => /\.ini$/i.test(path);

let justOpened; // the draft that comes into view when its findings are there

// openFiles adds files, a list of [path, bytes]. A file with the path of an opened one
// replaces it. A fettle.ini that was opened by itself becomes the settings.
function openFiles(list, { example = false } = {}) {
  if (list.length === 0) return;
  if (example || library.example) closeFiles();
  clearSaid();
  library.example = example;
  let first;
  for (const [path, bytes] of [...list].sort(([a], [b]) => a < b ? -1 : 1)) {
    if (path.toLowerCase() === "fettle.ini" && !example) {
      settings.take(toText(bytes));
      say("fettle.ini is now the text under Your loom.");
      continue;
    }
    library.files.set(path, bytes);
    library.changed.delete(path);
    const root = path.split("/")[0];
    if (path.includes("/")) {
      if (!library.roots.includes(root)) library.roots.push(root);
    } else if (!isSettings(path) && !library.roots.includes(path)) {
      library.roots.push(path);
    }
    if (!isSettings(path)) first ??= path;
  }
  library.undo = library.undo.filter((step) => ![...step.before.keys()].some((path) => list.some(([opened]) => opened === path)));
  if (first !== undefined) choose(first, { quietly: true });
  justOpened = first;
  byId("hint").hidden = true;
  store("visited", true);
  filesChanged();
}

function closeFiles() {
  library.files.clear();
  library.roots = [];
  library.undo = [];
  library.changed.clear();
  library.example = false;
}

const filesWatchers = []; // called after the files or the settings have changed

function filesChanged() {
  keepOpened();
  for (const watch of filesWatchers) watch();
}

// mostKept is the most bytes that are kept for a reload.
const mostKept = 2_000_000;

// keepOpened keeps the opened drafts for a reload. If they are too large for that, it keeps
// those with changes that are not downloaded.
function keepOpened() {
  const small = (list) => list.reduce((sum, [, bytes]) => sum + bytes.length, 0) <= mostKept && list.length > 0;
  const letters = (bytes) => Array.from(bytes, (byte) => String.fromCharCode(byte)).join("");
  const all = [...library.files];
  const kept = [all, all.filter(([path]) => library.changed.has(path))].find(small);
  keep("opened", kept && { example: library.example, changed: [...library.changed], files: kept.map(([path, bytes]) => [path, btoa(letters(bytes))]) });
}

// openRestored opens the drafts again after a reload.
function openRestored() {
  const { files, changed = [], example = false } = restored("opened") ?? {};
  const { chosen } = place;
  if (!Array.isArray(files) || files.length === 0) return;
  openFiles(files.map(([path, text]) => [String(path), fromBase64(String(text))]), { example });
  for (const path of changed) if (library.files.has(path)) library.changed.add(path);
  if (library.files.has(chosen)) choose(chosen, { quietly: true });
  keepOpened();
  if (library.changed.size > 0) mended = "Your changed drafts are back after the reload";
}

// inputs returns the files of a run: the opened ones and the settings.
function inputs() {
  const files = new Map(library.files);
  if (settings.text.trim() !== "") files.set("fettle.ini", toBytes(settings.text));
  return files;
}

// change replaces files and remembers how to undo it.
function change(label, written, diff) {
  const before = new Map();
  for (const [path, bytes] of written) {
    if (!library.files.has(path)) continue;
    before.set(path, library.files.get(path));
    library.files.set(path, bytes);
    library.changed.add(path);
  }
  if (before.size === 0) return;
  library.undo.push({ label, before, diff });
  filesChanged();
}

function undoChange() {
  const step = library.undo.pop();
  if (!step) return;
  for (const [path, bytes] of step.before) library.files.set(path, bytes);
  for (const path of step.before.keys()) if (!library.undo.some((s) => s.before.has(path))) library.changed.delete(path);
  mended = `Undone: ${step.label}`;
  filesChanged();
}

// choose makes a draft the one that is drawn and printed.
function choose(path, { quietly = false } = {}) {
  keepPlace({ chosen: path });
  if (!quietly) for (const watch of chosenWatchers) watch();
}

const chosenWatchers = [];
