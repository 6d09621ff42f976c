// What lint finds in the opened drafts.

const mostDrafts = 10; // with more, only the chosen draft's findings are on the page

const severities = ["error", "warning", "note"];
const findings = { files: [], missed: [], count: 0, version: 0 };

// plainErrors returns the program's complaints, without its name before each.
function plainErrors(stderr) {
  return toText(stderr).split("\n").filter((line) => line.startsWith("fettle: ")).map((line) => line.slice("fettle: ".length));
}

const reportPath = "/findings.html";

// check lints the opened drafts and shows what it finds.
const check = guarded(async () => {
  const version = ++findings.version;
  const current = () => version === findings.version;
  if (library.roots.length === 0) {
    findings.files = [];
    findings.missed = [];
    sayProblems([]);
    showFindings();
    return;
  }
  const args = ["lint", "--format", "json"];
  const drafts = [...library.files.keys()].filter((path) => !isSettings(path)).length;
  if (drafts <= mostDrafts) args.push("--report", "html=" + reportPath);
  const done = await runProgram([...args, "--", ...library.roots], inputs(), `Checking ${counted(drafts, "draft")}`, current);
  if (!done || !current()) return;
  let report;
  try {
    report = JSON.parse(toText(done.stdout));
  } catch {
    throw new Error(plainErrors(done.stderr).join(" ") || "fettle gave no result; try again");
  }
  let pages = done.written.get(reportPath);
  if (!pages && report.files?.length <= mostDrafts) { // a folder with few drafts among many other files
    const again = await runProgram(["lint", "--format", "html", "--", ...library.roots], inputs(), "Drawing", current);
    if (!again || !current()) return;
    pages = again.stdout;
  }
  findings.files = report.files ?? [];
  findings.missed = report.not_looked_at ?? [];
  if (pages) addReport(findings.files, toText(pages));
  showSettingsErrors(done);
  const summary = toText(done.stderr).split("\n").find((line) => /^\d+ files?: /.test(line));
  if (findings.files.length > 0) sayLasting(summary ?? `${counted(findings.files.length, "draft")}: nothing is wrong` + (settings.text.trim() === "" && !library.example ? " in itself. Describe your loom under Your loom, and fettle checks it against that." : "."));
  else sayLasting("");
  showFindings();
});

// mostSevereFirst returns the findings of a file in the order in which the page lists them.
function mostSevereFirst(list) {
  return [...list].sort((a, b) => severities.indexOf(a.severity) - severities.indexOf(b.severity) || a.line - b.line);
}

// addReport adds to each file what only the HTML report has: the drawing with its marks,
// the text of each line, and which findings are marked. The report numbers findings as they
// come in the file; the page numbers the marked ones as it lists them, in the drawing too.
function addReport(files, text) {
  const sections = [...new DOMParser().parseFromString(text, "text/html").querySelectorAll("section")].filter((s) => s.querySelector("ol"));
  const faulty = files.filter((file) => file.findings.length > 0);
  for (const [i, file] of faulty.entries()) {
    const section = sections[i];
    if (!section) continue;
    file.drawing = [...section.querySelector(".drawing").children].map((part) => (part.localName === "svg" ? part : part.textContent));
    const items = section.querySelectorAll("ol > li");
    const reported = new Map(); // the finding of each number in the report
    for (const [j, finding] of file.findings.entries()) {
      const item = items[j];
      if (!item) continue;
      reported.set(String(j + 1), finding);
      finding.drawn = item.classList.contains("drawn");
      finding.text = item.querySelector("code")?.textContent ?? "";
    }
    for (const [j, finding] of mostSevereFirst(file.findings.filter((f) => f.drawn)).entries()) finding.number = j + 1;
    for (const svg of file.drawing.filter((part) => part.localName === "svg")) {
      for (const label of numbersOfMarks(svg)) label.textContent = reported.get(label.textContent.trim())?.number ?? label.textContent;
    }
  }
}

// markedLine shows the text of a finding's line, with the place marked if it is known.
function markedLine(path, finding) {
  if (!finding.text) return undefined;
  const line = element("code", { className: "line" });
  let whole = "";
  try {
    whole = new TextDecoder("utf-8", { fatal: true }).decode(library.files.get(path)).split(/\r\n|\n|\r/)[finding.line - 1] ?? "";
  } catch {
    whole = ""; // another encoding; the report's text is right, but its columns are unknown
  }
  if (whole.trim() !== finding.text) {
    line.append(finding.text);
    return line;
  }
  const letters = [...whole];
  const from = finding.column - 1;
  const to = finding.end_line === finding.line ? Math.max(finding.end_column - 1, from + 1) : letters.length;
  const marked = letters.slice(from, to).join("");
  line.append(letters.slice(0, from).join("").trimStart());
  if (marked.trim() !== "") line.append(element("mark", { textContent: marked }));
  line.append(letters.slice(to).join("").trimEnd());
  return line;
}

// findingItem makes the element of a finding.
function findingItem(file, finding) {
  const item = element("li", { className: "finding " + finding.severity });
  Object.assign(item.dataset, { rule: finding.rule, path: file.path, line: finding.line, severity: finding.severity });
  const place = element("p", { className: "place" },
    element("span", { className: "severity", textContent: finding.severity }), " ",
    element("span", { textContent: `line ${finding.line}, column ${finding.column}` }));
  if (finding.drawn) {
    place.append(" ", element("button", { type: "button", className: "number", textContent: finding.number, title: "Show it in the drawing",
      "aria-label": `Number ${finding.number} in the drawing: show it`,
      onclick: () => { chooseAnd(file.path, () => { if (pointOut(finding.number)) say(`Number ${finding.number} is ringed in the drawing.`); }); } }));
  }
  const why = element("details", { className: "why" }, element("summary", {}, "Why: ", element("span", { className: "rule", textContent: finding.rule })));
  const page = element("div", { className: "rule-page" });
  why.append(page);
  why.addEventListener("toggle", guarded(async () => {
    if (why.open && page.childElementCount === 0) await fillRulePage(finding.rule, page);
  }));
  item.append(place, element("p", { className: "message" }, ...wordedFor(file.path, finding.message)));
  const line = markedLine(file.path, finding);
  if (line) item.append(line);
  item.append(fixTools(file, finding), ...editTools(file, finding), ...alsoHere(file, finding), why);
  return item;
}

// fitting lists the rules whose findings the Fit and convert view may resolve.
const fitting = new Set(["loom/too-many-shafts", "loom/too-many-treadles", "loom/missing-heddles", "loom/shed-mismatch", "loom/unbalanced-lift"]);

// alsoHere returns links to the other views where a finding can be resolved.
function alsoHere(file, finding) {
  const links = [];
  if (fitting.has(finding.rule)) {
    links.push(linkTo("Fit it to your loom", () => {
      choose(file.path);
      showControl("fit-view", byId("fit-title"));
    }));
  }
  if (/^(loom|reed|yarn)\//.test(finding.rule)) links.push(linkTo("See what you stated under Your loom", () => showControl("your-loom", byId("loom-title"))));
  return links.length > 0 ? [element("p", { className: "row also" }, ...links)] : [];
}

function countsOf(list) {
  const counts = { error: 0, warning: 0, note: 0 };
  for (const finding of list) counts[finding.severity]++;
  return counts;
}

const countWords = (counts) => severities.filter((s) => counts[s] > 0).map((s) => counted(counts[s], s)).join(", ") || "nothing is wrong";

// fileArticle makes the element of a draft with its findings, the most severe first.
function fileArticle(file) {
  const title = element("h3", {}, element("button", { type: "button", className: "link", textContent: file.path, title: "Draw this draft", onclick: () => choose(file.path) }));
  const sorted = mostSevereFirst(file.findings);
  const article = element("article", { className: "file" }, title, element("p", { className: "aside", textContent: countWords(countsOf(file.findings)) }));
  article.dataset.file = file.path;
  if (sorted.length > 0) article.append(element("ol", { className: "findings" }, ...sorted.map((finding) => findingItem(file, finding))));
  if (file.suppressed?.length > 0) article.append(ignoredList(file.suppressed));
  return article;
}

// ignoredList lists the findings that a comment in the draft ignores, with its reason.
function ignoredList(list) {
  return element("details", { className: "ignored" }, element("summary", { textContent: `${counted(list.length, "finding")} ignored, because a comment in the draft says so` }),
    element("ul", {}, ...list.map(({ rule, line, reason }) => element("li", {}, element("span", { className: "rule", textContent: rule }), ` in line ${line}: ${reason || "the comment gives no reason"}`))));
}

// shownFiles returns the files whose findings are on the page.
function shownFiles() {
  if (findings.files.length <= mostDrafts) return findings.files;
  return findings.files.filter((file) => file.path === place.chosen);
}

// findingsOfDrafts makes the elements of the shown drafts. If those are not all, it says where
// the others are.
function findingsOfDrafts() {
  const shown = shownFiles();
  const more = shown.length === findings.files.length ? [] : [element("p", { className: "aside also" }, `This is one of ${findings.files.length} drafts. `,
    linkTo("All drafts", () => showControl("all-drafts", byId("all-title"))), " lists every one.")];
  return [...more, ...shown.map(fileArticle)];
}

function showFindings() {
  const files = findings.files;
  const any = library.roots.length > 0;
  byId("nothing-open").hidden = any;
  byId("opened").hidden = !any;
  if (files.length > 0 && !files.some((file) => file.path === place.chosen)) keepPlace({ chosen: files[0].path });
  byId("chosen").replaceChildren(...files.map((file) => element("option", { value: file.path, textContent: `${file.path}: ${countWords(countsOf(file.findings))}` })));
  byId("chosen").value = place.chosen;
  byId("choose-draft").hidden = files.length === 0;

  const focus = focusInFindings();
  const open = new Set([...document.querySelectorAll("#findings details[open]")].map(detailKey));
  byId("findings").replaceChildren(...findingsOfDrafts(),
    ...findings.missed.filter((m) => !isSettingsError(m.reason)).map((m) => element("p", { className: "notice" }, ...worded(`${m.path}: ${m.reason}`))));
  for (const details of document.querySelectorAll("#findings details")) if (open.has(detailKey(details))) details.open = true;
  focus?.();

  const counts = countsOf(files.flatMap((file) => file.findings));
  for (const label of byId("severities").querySelectorAll("label")) label.querySelector(".count").textContent = counts[label.querySelector("input").value];
  filterFindings();
  showMending();
  drawChosen();
  for (const watch of checkedWatchers) watch();
  const shown = shownFiles();
  if (shown.length > 1 && justOpened !== shown[0].path && justOpened === place.chosen && document.body.dataset.view === "drafts") scrollToFile(justOpened);
  justOpened = undefined;
}

const checkedWatchers = []; // called when the findings of the opened drafts are new

// focusInFindings returns a function that puts the focus back after the findings are made
// again: on the same control, otherwise on the finding that took its place.
function focusInFindings() {
  const item = document.activeElement?.closest("#findings .finding");
  if (!item) return undefined;
  const controls = (of) => [...of.querySelectorAll("button, summary")];
  const same = (other) => ["rule", "path", "line"].every((key) => other.dataset[key] === item.dataset[key]);
  const at = [...document.querySelectorAll("#findings .finding")].indexOf(item);
  const control = controls(item).indexOf(document.activeElement);
  return () => {
    const items = [...document.querySelectorAll("#findings .finding")];
    const kept = items.find(same);
    const target = kept ? controls(kept)[control] : items[Math.min(at, items.length - 1)]?.querySelector("summary");
    (target ?? byId("mend")).focus();
  };
}

const detailKey = (details) => {
  const { path, rule, line, file } = details.closest(".finding, .file").dataset;
  return [path ?? file, rule, line, details.className].join("\n");
};

// filterFindings hides findings of the severities that are not ticked.
function filterFindings() {
  for (const box of byId("severities").querySelectorAll("input")) byId("findings").classList.toggle("without-" + box.value, !box.checked);
}

// drawChosen draws the chosen draft.
const drawChosen = guarded(async () => {
  const version = findings.version;
  const path = place.chosen;
  const wanted = () => version === findings.version && path === place.chosen;
  const file = findings.files.find((f) => f.path === path);
  for (const article of document.querySelectorAll("#findings .file")) article.classList.toggle("current", article.dataset.file === path);
  if (!file) return showDrawing([]);
  if (file.findings.length === 0) return drawSound(path, wanted);
  if (file.drawing === undefined) { // many drafts: the report of this one
    const done = await runProgram(["lint", "--format", "html", "--", path], inputs(), "Drawing " + baseName(path), wanted);
    if (!done || !wanted()) return;
    addReport([file], toText(done.stdout));
    file.drawing ??= [];
    byId("findings").replaceChildren(...findingsOfDrafts());
    filterFindings();
  }
  showDrawing(file.drawing);
});

// chooseAnd draws a draft and then does something with the drawing.
async function chooseAnd(path, then) {
  if (place.chosen !== path) {
    choose(path, { quietly: true });
    byId("chosen").value = path;
    await drawChosen();
  }
  then();
}

// scrollToFile brings the findings of a draft into view.
function scrollToFile(path) {
  requestAnimationFrame(() => [...document.querySelectorAll("#findings .file")].find((article) => article.dataset.file === path)?.scrollIntoView());
}

function startFindings() {
  for (const box of byId("severities").querySelectorAll("input")) {
    box.checked = !place.hidden.includes(box.value);
    box.addEventListener("change", () => {
      keepPlace({ hidden: [...byId("severities").querySelectorAll("input:not(:checked)")].map((b) => b.value) });
      filterFindings();
    });
  }
  byId("chosen").addEventListener("change", () => {
    choose(byId("chosen").value);
    scrollToFile(place.chosen);
  });
  chosenWatchers.push(() => {
    byId("chosen").value = place.chosen;
    if (findings.files.length > mostDrafts) byId("findings").replaceChildren(...findingsOfDrafts());
    filterFindings();
    showMending();
    drawChosen();
  });
  filesWatchers.push(check);
}
