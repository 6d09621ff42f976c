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
  byId("fit-words").replaceChildren(...worded(sentence(first)));
  byId("fit-words").className = result?.fits ? "verdict" : "verdict cannot";
  const why = result?.why ?? [];
  byId("fit-why").replaceChildren(...why.map((reason) => element("li", {}, ...reasonWords(reason, result.treadles))));
  byId("fit-why").hidden = why.length === 0;
  byId("fit-tables").replaceChildren(...(result?.shafts ? [...fitTables(result), ...changeTables(result)] : []));
  byId("fit-report").textContent = rest.map((line) => line.replace(/^ {2}/, "")).join("\n");
  byId("fit-text").hidden = rest.length === 0;
  byId("fit-take").disabled = byId("fit-download").disabled = !able;
}

// mostListed is how many ends or picks a reason lists.
const mostListed = 12;

const listed = (numbers) => numbers.slice(0, mostListed).join(", ") + (numbers.length > mostListed ? ` and ${numbers.length - mostListed} more` : "");

const atOnce = (count) => count === 1 ? "pressing one at a time" : `pressing up to ${count} at once`;

// reasonWords says what the loom lacks, with the proof, and offers to press more treadles at
// once if that may help.
function reasonWords({ rule, needed, available, ends = [], lifts = [], shaft, more_at_once: moreAtOnce }, treadles) {
  switch (rule) {
    case "loom/too-many-shafts":
      return [`The cloth needs ${counted(needed, "shaft")} and your loom has ${available}. Ends ${listed(ends)} all weave differently.`];
    case "loom/too-many-treadles": {
      const words = treadles.at_least > available
        ? `The cloth needs ${counted(needed, "treadle")}, ${atOnce(treadles.at_once)}, and your loom has ${available}. The lifts of picks ${listed(lifts)} need that many.`
        : `The best tie-up that fettle found takes ${counted(treadles.fewest, "treadle")}, ${atOnce(treadles.at_once)}, and your loom has ${available}. There may be one with ${treadles.at_least}.`;
      return !moreAtOnce ? [words] : [words + " ", linkTo(`Try with ${treadles.at_once + 1} at once.`, option("fit-at-once", String(treadles.at_once + 1)).go)];
    }
  }
  return [`Shaft ${shaft} needs ${counted(needed, "heddle")} and has ${available}. Move spare heddles from other shafts, or add some.`];
}

// tableOf makes a table of texts; the first cell of a row is its heading.
function tableOf(caption, heads, rows) {
  return element("table", { className: "figures" }, element("caption", { textContent: caption }),
    element("thead", {}, element("tr", {}, ...heads.map((text) => element("th", { scope: "col", textContent: text })))),
    element("tbody", {}, ...rows.map(([head, ...cells]) => element("tr", {}, element("th", { scope: "row", textContent: head }), ...cells.map((text) => element("td", { textContent: text ?? "not stated" }))))));
}

const mostMoves = 40; // groups of ends in the table
const mostCells = 40; // shafts or treadles in a drawn tie-up

// movesTable lists the groups of ends that change shafts.
function movesTable({ groups, moves }) {
  const shown = moves.slice(0, mostMoves);
  const more = groups - shown.length;
  const on = (list) => list.join(" + ") || "none";
  const table = tableOf("Ends that change shafts", ["old shaft", "new shaft", "ends", "first end"], shown.map(({ from, to, ends, first }) => [on(from), on(to), ends, first]));
  return more > 0 ? [table, element("p", { className: "aside", textContent: `and ${more} more groups` })] : [table];
}

// tieupTable draws a tie-up: a column for each treadle, the highest shaft on top.
function tieupTable(caption, { treadles, shafts, down }) {
  const most = Math.max(0, ...[...shafts, ...(down ?? [])].map((row) => row.at(-1) ?? 0));
  if (treadles === 0) return [element("p", { textContent: `${caption}: none; the lifts come from a lift plan.` })];
  if (treadles > Math.min(mostCells, shafts.length) || most > mostCells) return [element("p", { textContent: `${caption}: ${counted(treadles, "treadle")}, too many to show here.` })];
  const cell = (shaft, i) => {
    const up = shafts[i].includes(shaft);
    return element("td", { className: up ? "tied" : "", textContent: up ? shaft : down?.[i].includes(shaft) ? "○" : "" });
  };
  const rows = Array.from({ length: most }, (_, i) => most - i);
  const table = element("table", { className: "figures ties" }, element("caption", { textContent: caption }),
    element("thead", {}, element("tr", {}, element("td"), ...shafts.map((_, i) => element("th", { scope: "col", "aria-label": `treadle ${i + 1}`, textContent: i + 1 })))),
    element("tbody", {}, ...rows.map((shaft) => element("tr", {}, element("th", { scope: "row", textContent: `shaft ${shaft}` }), ...shafts.map((_, i) => cell(shaft, i))))));
  return down ? [table, element("p", { className: "aside", textContent: "A number ties the shaft up, ○ ties it down." })] : [table];
}

// inBox makes a table with its words that scrolls if it is wide.
function inBox(parts) {
  const caption = parts[0].caption?.textContent;
  return element("div", caption ? { className: "wide", tabIndex: 0, role: "group", "aria-label": caption } : {}, ...parts);
}

// changeTables shows what fit changes in the threading and the tie-up.
function changeTables({ threading, tieup }) {
  return [...(tieup ? [tieupTable("Tie-up before", tieup.before), tieupTable("New tie-up", tieup.after)] : []), ...(threading ? [movesTable(threading)] : [])].map(inBox);
}

// fitTables compares what the draft uses, what the cloth needs and what the loom has.
function fitTables({ fits, shafts, treadles, heddles }) {
  const after = fits ? ["after fitting"] : [];
  const fewest = treadles.proved ? treadles.fewest : `${treadles.fewest}, perhaps ${treadles.at_least}`;
  const tables = [tableOf("Shafts and treadles", ["", "the draft uses", "the cloth needs", "your loom has", ...after], [
    ["shafts", shafts.used, shafts.fewest, shafts.available, ...after.map(() => shafts.result)],
    [`treadles, ${atOnce(treadles.at_once)}`, treadles.used || "a lift plan", fewest, treadles.available, ...after.map(() => treadles.result || "a lift plan")]])];
  if (heddles.some((h) => h.available !== null)) tables.push(tableOf("Heddles", ["shaft", fits ? "needed after fitting" : "needed", "on your loom"], heddles.map((h) => [h.shaft, h.needed, h.shaft > (shafts.available ?? Infinity) ? "no such shaft" : h.available])));
  return tables.map((table) => inBox([table]));
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

// offeredFormats returns the formats that convert writes, with the one that most weavers want first.
const offeredFormats = () => [...facts.formats, ...facts.drawings].sort((a, b) => (b === "wif") - (a === "wif"));

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
    if (byId("convert-paper").value) flags.push(byId("convert-paper").value);
  }
  return flags;
}

const convertTo = (format) => guarded(async () => {
  const path = place.chosen;
  const done = await runProgram(["convert", ...convertFlags(format), "--", path], inputsFor(path), `Writing ${format.toUpperCase()}`);
  const words = toText(done.stderr).split("\n").filter((line) => line !== "").map((line) => line.replace(/^fettle: /, ""));
  byId("convert-words").replaceChildren(...words.slice(0, 20).map((line) => element("p", {}, ...worded(line))));
  byId("convert-words").hidden = words.length === 0;
  if (done.status !== 0) return sayHere(`No ${format.toUpperCase()} was written.`, { done: false });
  download(`${nameWithout(path)}.${format}`, done.stdout, formatTypes[format], words.length > 0 ? " Read below what it leaves out." : "");
});

function startFit() {
  viewShown["fit-view"] = showFit;
  checkedWatchers.push(showFit);
  chosenWatchers.push(showFit);
  let timer;
  for (const id of Object.keys(overrides)) {
    byId(id).addEventListener("input", () => {
      clearTimeout(timer);
      timer = setTimeout(showFit, 200);
    });
  }
  byId("fit-take").addEventListener("click", takeFit);
  byId("fit-download").addEventListener("click", downloadFit);
  byId("convert-buttons").append(...offeredFormats().map((format) => {
    const button = element("button", { type: "button", onclick: convertTo(format) }, element("b", { textContent: format.toUpperCase() }), " ", element("span", { textContent: formatWords[format] ?? "" }));
    button.dataset.format = format;
    return button;
  }));
}
