// The chosen draft on the weaver's loom, as fit says, and in every format that convert writes.

const fit = { version: 0, result: undefined };

const overrides = { "fit-shafts": "--shafts", "fit-treadles": "--treadles", "fit-at-once": "--at-once" };

// inputsFor returns the files of a run over one draft: it and all settings.
const inputsFor = (path) => new Map([...inputs()].filter(([other]) => other === path || isSettings(other)));

const nameWithout = (path) => baseName(path).replace(/\.[^.]*$/, "");

function fitFlags() {
  return Object.entries(overrides).flatMap(([id, flag]) => byId(id).value.trim() === "" ? [] : [flag, byId(id).value.trim()]);
}

const showFit = guarded(async () => {
  if (document.body.dataset.view !== "fit-view") return;
  const version = ++fit.version;
  const wanted = () => version === fit.version;
  const path = place.chosen;
  const there = library.files.has(path);
  byId("fit-nothing").hidden = there;
  byId("fit-content").hidden = !there;
  if (!there) return;
  byId("fit-chosen").replaceChildren(...findings.files.map((file) => element("option", { value: file.path, textContent: file.path })));
  byId("fit-chosen").value = path;
  fit.result = undefined;
  const files = inputsFor(path);
  const done = await runProgram(["fit", ...fitFlags(), "--format", "json", "--", path], files, "Fitting " + baseName(path), wanted);
  if (!done || !wanted()) return;
  let result;
  try {
    [result] = JSON.parse(toText(done.stdout));
  } catch {
    result = undefined;
  }
  if (!result?.shafts) return showFitWords(result, ["No result: " + (plainErrors(done.stderr).join(" ") || "this draft can't be fitted.")]);
  const report = await runProgram(["fit", ...fitFlags(), "--", path], files, "Fitting " + baseName(path), wanted);
  if (!report || !wanted()) return;
  const lines = toText(report.stdout).trimEnd().split("\n");
  const prefix = path + ": ";
  if (lines[0].startsWith(prefix)) lines[0] = lines[0].slice(prefix.length);
  showFitWords(result, lines);
});

function showFitWords(result, [first, ...rest]) {
  fit.result = result;
  const able = Boolean(result?.fits && result.changed.length > 0);
  byId("fit-unknown").hidden = !result?.shafts || result.shafts.available !== null || result.treadles.available !== null;
  byId("fit-words").textContent = sentence(first);
  byId("fit-words").className = result?.fits ? "verdict" : "verdict cannot";
  byId("fit-report").textContent = rest.map((line) => line.replace(/^ {2}/, "")).join("\n");
  byId("fit-report").hidden = rest.length === 0;
  byId("fit-take").disabled = byId("fit-download").disabled = !able;
}

// fitted returns the draft that fit writes.
async function fitted(path) {
  const out = "/fitted";
  const done = await runProgram(["fit", ...fitFlags(), "--output", out, "--", path], inputsFor(path), "Fitting " + baseName(path));
  if (!done.written.has(out)) throw new Error(plainErrors(done.stderr).join(" ") || "fettle wrote no draft.");
  return done.written.get(out);
}

const takeFit = guarded(async () => {
  const path = place.chosen;
  const words = [byId("fit-words").textContent, byId("fit-report").textContent].join("\n");
  const bytes = await fitted(path);
  mended = `${baseName(path)} is now the draft that fits your loom; you can undo this under What is wrong`;
  change(`fit of ${baseName(path)}`, new Map([[path, bytes]]), words);
});

const downloadFit = guarded(async () => {
  const path = place.chosen;
  const ending = /\.[^.]*$/.exec(baseName(path))?.[0] ?? "";
  download(`${nameWithout(path)}-fitted${ending}`, await fitted(path));
});

const formatWords = {
  wif: "for other weaving programs", json: "for programs", svg: "drawing, sharp at any size", png: "picture", pdf: "drawing to print", txt: "drawing in letters",
};

const formatTypes = { wif: "text/plain", json: "application/json", svg: "image/svg+xml", png: "image/png", pdf: "application/pdf", txt: "text/plain" };

// convertFlags returns the flags of the chosen options for a format.
function convertFlags(format) {
  const flags = ["--to", format];
  for (const [id, flag] of [["convert-lifts", "--lifts"], ["convert-shed", "--shed"]]) if (byId(id).value) flags.push(flag, byId(id).value);
  if (byId("convert-turn").value) flags.push(byId("convert-turn").value);
  if (facts.drawings.includes(format)) {
    if (format !== "txt") flags.push("--show", byId("convert-show").value);
    if (byId("convert-repeat").checked) flags.push("--repeat");
  }
  if (format === "pdf") {
    flags.push("--page", byId("convert-page").value);
    if (byId("convert-whole").checked) flags.push("--fit-page");
  }
  return flags;
}

const convertTo = (format) => guarded(async () => {
  const path = place.chosen;
  const done = await runProgram(["convert", ...convertFlags(format), "--", path], inputsFor(path), `Writing ${format.toUpperCase()}`);
  const words = toText(done.stderr).split("\n").filter((line) => line !== "").map((line) => line.replace(/^fettle: /, ""));
  byId("convert-words").replaceChildren(...words.slice(0, 20).map((line) => element("p", { textContent: line })));
  byId("convert-words").hidden = words.length === 0;
  if (done.status !== 0) return say(`No ${format.toUpperCase()} was written.`);
  const name = `${nameWithout(path)}.${format}`;
  download(name, done.stdout, formatTypes[format]);
  say(`${name} is in your downloads.` + (words.length > 0 ? " It can't hold all of the draft." : ""));
});

function startFit() {
  viewShown["fit-view"] = showFit;
  checkedWatchers.push(showFit);
  chosenWatchers.push(showFit);
  byId("fit-chosen").addEventListener("change", () => choose(byId("fit-chosen").value));
  let timer;
  for (const id of Object.keys(overrides)) {
    byId(id).addEventListener("input", () => {
      clearTimeout(timer);
      timer = setTimeout(showFit, 200);
    });
  }
  byId("fit-take").addEventListener("click", takeFit);
  byId("fit-download").addEventListener("click", downloadFit);
  byId("convert-buttons").append(...[...facts.formats, ...facts.drawings].map((format) => {
    const button = element("button", { type: "button", onclick: convertTo(format) }, element("b", { textContent: format.toUpperCase() }), " ", element("span", { textContent: formatWords[format] ?? "" }));
    button.dataset.format = format;
    return button;
  }));
}
