// The table of all opened drafts, and what is done to all of them at once.

const rowsShown = 50; // rows of a page of the table

const largestDrawn = 1_000_000; // bytes of a draft, or of its drawing, for the table

const table = { sort: "errors", descending: true, text: "", with: "", rule: "", page: 0 };

for (const [key, value] of Object.entries(stored("table") ?? {})) if (typeof value === typeof table[key]) table[key] = value;

// tableRows returns a row for each draft, and for each that was not read.
function tableRows() {
  const rows = findings.files.map((file) => {
    const counts = countsOf(file.findings);
    const worst = severities.map((severity) => file.findings.find((f) => f.severity === severity)).find(Boolean);
    return { path: file.path, errors: counts.error, warnings: counts.warning, notes: counts.note, rules: new Set(file.findings.map((f) => f.rule)),
      fixes: file.findings.filter((f) => certainFixes(f).length > 0).length, worst };
  });
  const missed = findings.missed.filter((m) => !isSettingsError(m.reason))
    .map((m) => ({ path: m.path, errors: 0, warnings: 0, notes: 0, fixes: 0, rules: new Set(), reason: m.reason }));
  return [...rows, ...missed];
}

const withKind = {
  "": () => true,
  errors: (row) => row.errors > 0,
  warnings: (row) => row.warnings > 0,
  notes: (row) => row.notes > 0,
  fixes: (row) => row.fixes > 0,
  sound: (row) => row.reason === undefined && row.errors + row.warnings + row.notes === 0,
  missed: (row) => row.reason !== undefined,
};

// chosenRows returns the rows that the filters leave, sorted.
function chosenRows() {
  const text = table.text.trim().toLowerCase();
  const rows = table.rows.filter((row) => (withKind[table.with] ?? withKind[""])(row) && (table.rule === "" || row.rules.has(table.rule)) && row.path.toLowerCase().includes(text));
  const byPath = (a, b) => a.path < b.path ? -1 : a.path > b.path ? 1 : 0;
  const order = { errors: ["errors", "warnings", "notes"], warnings: ["warnings", "errors", "notes"], notes: ["notes", "errors", "warnings"], fixes: ["fixes"], path: [] }[table.sort] ?? [];
  const sign = table.descending ? -1 : 1;
  return rows.sort((a, b) => {
    for (const key of order) if (a[key] !== b[key]) return sign * (a[key] - b[key]);
    return table.sort === "path" ? sign * byPath(a, b) : byPath(a, b);
  });
}

function keepTable(change) {
  Object.assign(table, change);
  store("table", { sort: table.sort, descending: table.descending, text: table.text, with: table.with, rule: table.rule, page: table.page });
  showTable();
}

function tableRow(row) {
  const draft = element("th", { scope: "row" },
    row.reason === undefined
      ? element("button", { type: "button", className: "link", textContent: row.path, title: "See what is wrong with it", onclick: () => {
        choose(row.path);
        location.hash = "#drafts";
        scrollToFile(row.path);
      } })
      : element("span", { textContent: row.path }),
    element("span", { className: "worst" }, ...wordedFor(row.path, row.reason ?? row.worst?.message ?? "Nothing is wrong.")));
  const number = (count, kind) => element("td", { className: count > 0 ? "count-of " + kind : "count-of none", textContent: count });
  const made = element("tr", {}, element("td", { className: "thumb" }), draft, number(row.errors, "error"), number(row.warnings, "warning"), number(row.notes, "note"), number(row.fixes, "some"));
  made.dataset.file = row.path;
  return made;
}

function showTable() {
  if (document.body.dataset.view !== "all-drafts") return;
  const any = library.roots.length > 0;
  byId("all-nothing").hidden = any;
  byId("all-content").hidden = !any;
  if (!any) return;
  if (table.source !== findings.files) {
    table.source = findings.files;
    table.rows = tableRows();
    const rules = new Map();
    for (const row of table.rows) for (const rule of row.rules) rules.set(rule, (rules.get(rule) ?? 0) + 1);
    byId("table-rule").replaceChildren(element("option", { value: "", textContent: "any rule" }),
      ...[...rules].sort(([a], [b]) => a < b ? -1 : 1).map(([rule, count]) => element("option", { value: rule, textContent: `${rule} (${counted(count, "draft")})` })));
    if (!rules.has(table.rule)) table.rule = "";
    byId("all-mend").textContent = mendWords(table.rows.reduce((sum, row) => sum + row.fixes, 0));
  }
  byId("table-text").value = table.text;
  byId("table-with").value = table.with;
  byId("table-rule").value = table.rule;
  for (const heading of document.querySelectorAll("#table th[data-sort]")) {
    if (heading.dataset.sort === table.sort) heading.setAttribute("aria-sort", table.descending ? "descending" : "ascending");
    else heading.removeAttribute("aria-sort");
  }
  const rows = chosenRows();
  table.page = Math.max(0, Math.min(table.page, Math.ceil(rows.length / rowsShown) - 1));
  const from = table.page * rowsShown;
  const shown = rows.slice(from, from + rowsShown);
  thumbs.forget();
  byId("table").tBodies[0].replaceChildren(...shown.map(tableRow));
  for (const [i, made] of [...byId("table").tBodies[0].rows].entries()) if (shown[i].reason === undefined) thumbs.watch(made);
  byId("table-words").textContent = rows.length === 0 ? "No draft is like that."
    : `${from + 1}–${from + shown.length} of ${counted(rows.length, "draft")}` + (rows.length < table.rows.length ? `, ${table.rows.length} in all` : "");
  byId("table-before").disabled = table.page === 0;
  byId("table-after").disabled = from + shown.length >= rows.length;
  byId("all-undo").disabled = library.undo.length === 0;
}

// pictureOf makes an element that shows a drawing as a picture, in which nothing can run.
function pictureOf(url, words) {
  const picture = element("span", { className: "picture", role: "img", "aria-label": words });
  picture.style.backgroundImage = `url("${url}")`;
  return picture;
}

// thumbs are the drawings of one repeat. Each is made when its row comes into view, one at a
// time, and kept until the draft changes.
const thumbs = {
  made: new Map(), // path to {bytes, url}; url is undefined if the draft can't be drawn
  visible: new Map(), // path to its row
  busy: false,
  observer: new IntersectionObserver((entries) => {
    for (const { target, isIntersecting } of entries) {
      if (isIntersecting) thumbs.visible.set(target.dataset.file, target);
      else thumbs.visible.delete(target.dataset.file);
    }
    thumbs.draw();
  }, { rootMargin: "100px" }),

  watch(row) {
    if (!thumbs.show(row)) thumbs.observer.observe(row);
  },

  forget() {
    thumbs.observer.disconnect();
    thumbs.visible.clear();
  },

  // show puts a drawing that is there into its row, and reports whether there is one.
  show(row) {
    const path = row.dataset.file;
    const there = thumbs.made.get(path);
    if (!there || there.bytes !== library.files.get(path)) return false;
    row.querySelector(".thumb").replaceChildren(there.url
      ? pictureOf(there.url, `One repeat of ${baseName(path)}`)
      : element("span", { className: "aside", textContent: there.words }));
    return true;
  },

  async draw() {
    if (thumbs.busy) return;
    thumbs.busy = true;
    try {
      for (;;) {
        const [path, row] = [...thumbs.visible].find(([, row]) => !thumbs.show(row)) ?? [];
        if (path === undefined) break;
        const bytes = library.files.get(path);
        if (!bytes) {
          thumbs.visible.delete(path);
          continue;
        }
        const drawing = bytes.length > largestDrawn ? undefined
          : await runProgram(["convert", "--to", "svg", "--repeat", "--", path], new Map([[path, bytes]]), "Drawing " + baseName(path), () => thumbs.visible.get(path) === row);
        if (drawing === undefined && bytes.length <= largestDrawn) continue; // the row is out of sight
        thumbs.keep(path, bytes, drawing);
      }
    } catch (error) {
      thumbs.visible.clear();
      if (!(error instanceof Stopped)) sayProblems([error.message]);
    } finally {
      thumbs.busy = false;
    }
  },

  keep(path, bytes, drawing) {
    const old = thumbs.made.get(path);
    if (old?.url) URL.revokeObjectURL(old.url);
    const large = !drawing || drawing.stdout.length > largestDrawn;
    const able = !large && drawing.status === 0 && drawing.stdout.length > 0;
    thumbs.made.set(path, { bytes, words: large ? "too large" : "no drawing", url: able ? URL.createObjectURL(new Blob([drawing.stdout], { type: "image/svg+xml" })) : undefined });
  },
};

const reportEndings = { text: "txt", json: "json", sarif: "sarif", junit: "xml", annotations: "txt", quality: "json", html: "html" };

const reportWords = {
  text: "text, to read", html: "HTML, to read", "html-folder": "HTML, a page for each draft (ZIP)", json: "JSON, for programs", sarif: "SARIF", junit: "JUnit", annotations: "annotations, for CI services", quality: "code quality, for CI services",
};

const downloadReport = guarded(async () => {
  const form = byId("report-form").value;
  if (form === "html-folder") {
    const done = await runProgram(["lint", "--quiet", "--report", "html=/report/", "--", ...library.roots], inputs(), "Writing the report");
    const files = within("/report/", done);
    return download("fettle-report.zip", zip(files), "application/zip");
  }
  const done = await runProgram(["lint", "--format", form, "--", ...library.roots], inputs(), "Writing the report");
  download(`fettle-report.${reportEndings[form] ?? "txt"}`, done.stdout);
});

// within returns the files that a run wrote below a folder, with paths from there.
function within(folder, done) {
  const files = new Map([...done.written].filter(([path]) => path.startsWith(folder)).map(([path, bytes]) => [path.slice(folder.length), bytes]));
  if (files.size === 0) throw new Error(plainErrors(done.stderr).join(" ") || "fettle wrote nothing.");
  return files;
}

const convertAll = guarded(async () => {
  const format = byId("all-format").value;
  const done = await runProgram(["convert", "--to", format, "--out-dir", "/converted", "--", ...library.roots], inputs(), `Writing ${format.toUpperCase()}`);
  sayProblems(plainErrors(done.stderr));
  const files = within("/converted/", done);
  download(`drafts-${format}.zip`, zip(files), "application/zip", ` It has ${counted(files.size, "file")}.`);
});

function startAllDrafts() {
  viewShown["all-drafts"] = showTable;
  checkedWatchers.push(showTable);
  byId("table-text").addEventListener("input", () => keepTable({ text: byId("table-text").value, page: 0 }));
  byId("table-with").addEventListener("change", () => keepTable({ with: byId("table-with").value, page: 0 }));
  byId("table-rule").addEventListener("change", () => keepTable({ rule: byId("table-rule").value, page: 0 }));
  byId("table-before").addEventListener("click", () => keepTable({ page: table.page - 1 }));
  byId("table-after").addEventListener("click", () => keepTable({ page: table.page + 1 }));
  for (const heading of document.querySelectorAll("#table th[data-sort]")) {
    const { sort } = heading.dataset;
    heading.querySelector("button").addEventListener("click", () => keepTable({ sort, page: 0, descending: table.sort === sort ? !table.descending : sort !== "path" }));
  }
  byId("all-mend").addEventListener("click", guarded(() => clean("safe fixes", [], library.roots, true)));
  byId("all-undo").addEventListener("click", undoChange);
  byId("all-download").addEventListener("click", downloadAll);
  const forms = facts.reports.flatMap((form) => form === "html" ? ["html", "html-folder"] : [form]);
  byId("report-form").replaceChildren(...forms.map((form) => element("option", { value: form, textContent: reportWords[form] ?? form })));
  byId("report-download").addEventListener("click", downloadReport);
  byId("all-format").replaceChildren(...offeredFormats().map((format) => element("option", { value: format, textContent: format.toUpperCase() })));
  byId("all-convert").addEventListener("click", convertAll);
}
