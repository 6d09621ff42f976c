// Opening by choosing, dropping and pasting, and downloads.

// readFiles reads browser files, a list of [path, File].
async function readFiles(list) {
  const read = [];
  const failed = [];
  for (const [path, file] of list) {
    try {
      read.push([path, new Uint8Array(await file.arrayBuffer())]);
    } catch {
      failed.push(`${path} can't be read; check that it is still there, and that you may read it`);
    }
  }
  sayProblems(failed);
  return read;
}

// openChosen opens the files of an input element.
const openChosen = guarded(async (event) => {
  const input = event.target;
  const list = [...input.files].map((file) => [file.webkitRelativePath || file.name, file]);
  openFiles(await readFiles(list));
  input.value = ""; // the same file can be chosen again
});

// walk lists the files of a dropped file or folder.
async function walk(entry, prefix, list) {
  if (entry.isFile) {
    list.push([prefix + entry.name, await new Promise((resolve, reject) => entry.file(resolve, reject))]);
    return;
  }
  const reader = entry.createReader();
  for (;;) {
    const entries = await new Promise((resolve, reject) => reader.readEntries(resolve, reject));
    if (entries.length === 0) return;
    for (const child of entries) await walk(child, prefix + entry.name + "/", list);
  }
}

const openDropped = guarded(async (transfer) => {
  const entries = [...transfer.items].map((item) => item.webkitGetAsEntry?.()).filter(Boolean);
  const list = [];
  if (entries.length > 0) for (const entry of entries) await walk(entry, "", list);
  else for (const file of transfer.files) list.push([file.name, file]);
  if (list.length > 0) openFiles(await readFiles(list));
  else if (transfer.getData("text/plain")) openText(transfer.getData("text/plain"));
});

// openText opens pasted text as a draft with a free name.
function openText(text) {
  if (text.trim() === "") {
    sayProblems(["There is no text; copy the whole text of a draft, then paste it here."]);
    return;
  }
  const ending = text.trimStart().startsWith("{") ? ".json" : ".wif";
  let name = "pasted" + ending;
  for (let i = 2; library.files.has(name); i++) name = `pasted-${i}${ending}`;
  openFiles([[name, toBytes(text)]]);
}

function openExample(which) {
  const drafts = JSON.parse(byId("examples").textContent)[which];
  openFiles(Object.entries(drafts).map(([name, text]) => [name, toBytes(text)]), { example: true });
}

// download saves bytes as a file, and says so with what else is to say.
function download(name, bytes, type = "application/octet-stream", more = "") {
  const url = URL.createObjectURL(new Blob([bytes], { type }));
  const link = element("a", { href: url, download: baseName(name) });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60_000);
  sayHere(`${baseName(name)} is in your downloads.${more}`);
}

const crcTable = Uint32Array.from({ length: 256 }, (_, i) => {
  for (let bit = 0; bit < 8; bit++) i = i & 1 ? 0xedb88320 ^ (i >>> 1) : i >>> 1;
  return i;
});

function crc32(bytes) {
  let crc = 0xffffffff;
  for (const byte of bytes) crc = crcTable[(crc ^ byte) & 255] ^ (crc >>> 8);
  return ~crc >>> 0;
}

// zipName makes a path safe for every program that unpacks it.
const zipName = (path) => path.split(/[/\\]/).filter((part) => !/^\.*$/.test(part)).join("/").replace(/[\u0000-\u001f\u007f:*?"<>|]/g, "_");

// zip packs files, a Map from paths to bytes, without compression. The time in it is fixed,
// so the same files give the same bytes.
function zip(files) {
  const parts = [];
  const directory = [];
  let offset = 0;
  const time = 0x0021_0000; // 1 January 1980, the first that a ZIP can hold
  for (const [path, bytes] of files) {
    const name = toBytes(zipName(path));
    const fields = (signature, extra) => {
      const head = new DataView(new ArrayBuffer(signature === 0x02014b50 ? 46 : 30));
      let at = 0;
      const put = (size, value) => { head[size === 2 ? "setUint16" : "setUint32"](at, value, true); at += size; };
      put(4, signature);
      if (signature === 0x02014b50) put(2, 20); // made by
      put(2, 20); put(2, 0x0800); put(2, 0); put(4, time); put(4, crc32(bytes)); put(4, bytes.length); put(4, bytes.length); put(2, name.length); put(2, 0);
      for (const [size, value] of extra) put(size, value);
      return new Uint8Array(head.buffer);
    };
    parts.push(fields(0x04034b50, []), name, bytes);
    directory.push(fields(0x02014b50, [[2, 0], [2, 0], [2, 0], [4, 0], [4, offset]]), name);
    offset += 30 + name.length + bytes.length;
  }
  const size = directory.reduce((sum, part) => sum + part.length, 0);
  const end = new DataView(new ArrayBuffer(22));
  end.setUint32(0, 0x06054b50, true);
  end.setUint16(8, files.size, true);
  end.setUint16(10, files.size, true);
  end.setUint32(12, size, true);
  end.setUint32(16, offset, true);
  return new Blob([...parts, ...directory, end.buffer], { type: "application/zip" });
}

function downloadAll() {
  download("drafts.zip", zip(library.files), "application/zip");
  library.changed.clear();
  keepOpened();
}

function startFiles() {
  byId("open").addEventListener("change", openChosen);
  byId("open-folder").addEventListener("change", openChosen);
  byId("example-sound").addEventListener("click", () => openExample("sound"));
  byId("example-faulty").addEventListener("click", () => openExample("faulty"));
  byId("hint").hidden = stored("visited") === true;

  const form = byId("paste-form");
  const showForm = (shown) => {
    form.hidden = !shown;
    byId("paste").setAttribute("aria-expanded", shown);
  };
  byId("paste").addEventListener("click", () => {
    showForm(form.hidden);
    if (!form.hidden) byId("paste-text").focus();
  });
  filesWatchers.push(() => {
    if (byId("paste-text").value === "") showForm(false);
  });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    openText(byId("paste-text").value);
    byId("paste-text").value = "";
    showForm(false);
    byId("paste").focus();
  });
  document.addEventListener("paste", (event) => {
    if (event.target.closest("input, textarea, select")) return;
    event.preventDefault();
    if (event.clipboardData.files.length > 0) openDropped(event.clipboardData);
    else openText(event.clipboardData.getData("text/plain"));
  });

  document.addEventListener("dragover", (event) => {
    event.preventDefault();
    document.body.classList.add("dragging");
  });
  document.addEventListener("dragleave", (event) => { if (!event.relatedTarget) document.body.classList.remove("dragging"); });
  document.addEventListener("drop", (event) => {
    event.preventDefault();
    document.body.classList.remove("dragging");
    openDropped(event.dataTransfer);
  });

  byId("download").addEventListener("click", () => {
    const path = place.chosen;
    if (!library.files.has(path)) return;
    download(path, library.files.get(path));
    library.changed.delete(path);
    keepOpened();
  });
  byId("download-all").addEventListener("click", downloadAll);
  byId("close-all").addEventListener("click", () => {
    if (library.changed.size > 0 && !confirm(`Close all drafts? ${counted(library.changed.size, "draft")} with changes that you didn't download.`)) return;
    closeFiles();
    filesChanged();
    say("All drafts are closed.");
    byId("open").focus();
  });
}
