// The dressing sheet of the chosen draft, as the command plan writes it.

const sheet = { key: "", version: 0 };

const sheetPath = "/sheet.html";

const showSheet = guarded(async () => {
  if (document.body.dataset.view !== "sheet-view") return;
  const version = ++sheet.version;
  const path = place.chosen;
  const there = library.files.has(path);
  byId("sheet-notes").hidden = true;
  byId("sheet-page").value = stored("paper") ?? (chosenUnit() === "in" ? "letter" : "a4");
  for (const id of ["sheet-print", "sheet-pdf", "sheet-html", "sheet-wif", "sheet-clear"]) byId(id).disabled = !there;
  byId("sheet-ticks").hidden = true;
  if (!there) {
    byId("sheet").replaceChildren();
    byId("sheet-words").textContent = "Open a draft first. Its sheet takes you through dressing the loom, step by step.";
    return;
  }
  const done = await runProgram(["plan", "--output", sheetPath, "--", path], inputs(), "Working out the sheet", () => version === sheet.version);
  if (!done || version !== sheet.version) return;
  const page = done.written.get(sheetPath);
  byId("sheet-words").replaceChildren(...worded((page ? "" : "No sheet: ") + plainErrors(done.stderr).join(" ")));
  if (!page) return byId("sheet").replaceChildren();
  const frame = element("iframe", { title: "Sheet for " + baseName(path) });
  frame.setAttribute("sandbox", "allow-same-origin allow-modals"); // no scripts: the page keeps the ticks
  frame.addEventListener("load", () => fitSheet(frame));
  frame.srcdoc = withoutScripts(toText(page));
  byId("sheet").replaceChildren(frame);
});

// sheetStyle is what a sheet within this page has besides its own style: long tables scroll in
// their box on a small screen, and links are for the screen.
const sheetStyle = `
a { color: inherit; }
@media print { a { text-decoration: none; } }
@media screen and (max-width: 40rem) {
  .wide { max-height: 32rem; overflow: auto; }
  .wide thead th { position: sticky; top: 0; background: var(--paper); }
}`;

// withoutScripts returns a page without its scripts, which the frame would block, and
// without the button that needs them.
function withoutScripts(text) {
  const page = new DOMParser().parseFromString(text, "text/html");
  for (const node of page.querySelectorAll("script, button")) node.remove();
  page.head.append(element("style", { textContent: sheetStyle }));
  for (const table of page.querySelectorAll(".wide")) table.tabIndex = 0; // the keys scroll it
  return "<!DOCTYPE html>\n" + page.documentElement.outerHTML;
}

// fitSheet shows the whole sheet, with the ticks that the browser keeps.
function fitSheet(frame) {
  const inside = frame.contentDocument;
  if (!inside?.body) return;
  sheet.key = "ticks/" + inside.body.dataset.key;
  const ticked = stored(sheet.key) ?? [];
  for (const box of inside.querySelectorAll("input")) box.checked = ticked.includes(box.id);
  inside.addEventListener("change", () => keepTicks(inside));
  linkWords(inside.body, inside);
  sayTicks(place.chosen);
  asWoven(inside, place.chosen);
  const fit = () => { frame.style.height = inside.documentElement.scrollHeight + 24 + "px"; };
  fit();
  new ResizeObserver(fit).observe(inside.body);
}

// sayTicks says that the ticks and the place at the loom don't follow each other.
async function sayTicks(path) {
  const there = (await allPlaces()).some((x) => x.path === path && x.step !== "");
  byId("sheet-ticks").replaceChildren("The ticks are for this sheet alone. ", linkTo("At the loom", () => showControl("loom", byId("loom"))),
    there ? " keeps another place, where you have already begun this draft." : " keeps a place of its own, line by line.");
  byId("sheet-ticks").hidden = false;
}

function keepTicks(inside) {
  const ticked = [...inside.querySelectorAll("input:checked")].map((box) => box.id);
  if (!store(sheet.key, ticked.length > 0 ? ticked : undefined)) say("This browser keeps nothing for this page, so the ticks are lost when you close it.");
}

// putOnPaper copies the sheet into the page while the page is printed, since a frame isn't
// split into pages well. The copy has the sheet's own style.
function putOnPaper() {
  const inside = sheetFrame()?.contentDocument;
  const paper = byId("sheet-paper");
  const root = paper.shadowRoot ?? paper.attachShadow({ mode: "open" });
  root.replaceChildren();
  if (!inside?.body || document.body.dataset.view !== "sheet-view") return;
  const style = [...inside.querySelectorAll("style")].map((node) => node.textContent).join("\n").replace(/\bbody \{/g, ":host {");
  root.append(element("style", { textContent: style }), ...[...inside.body.childNodes].map((node) => document.importNode(node, true)));
  for (const box of inside.querySelectorAll("input:checked")) root.getElementById(box.id).checked = true;
}

const sheetFrame = () => byId("sheet").querySelector("iframe");

// saveSheet downloads the sheet in the format of an extension; as a WIF, all ends and picks of
// the whole work.
const saveSheet = (extension, type) => guarded(async () => {
  const path = place.chosen;
  const out = "/sheet." + extension;
  const page = extension === "wif" ? [] : ["--page", byId("sheet-page").value];
  const done = await runProgram(["plan", ...page, "--output", out, "--", path], inputs(), "Writing the sheet");
  if (!done.written.has(out)) throw new Error(plainErrors(done.stderr).join(" "));
  const bytes = extension === "html" ? await withNotes(done.written.get(out), path) : done.written.get(out);
  download(`${nameWithout(path)}-${extension === "wif" ? "every-pick" : "sheet"}.${extension}`, bytes, type);
});

function startSheet() {
  window.addEventListener("beforeprint", putOnPaper);
  window.addEventListener("afterprint", () => byId("sheet-paper").shadowRoot?.replaceChildren());
  viewShown["sheet-view"] = showSheet;
  filesWatchers.push(showSheet);
  chosenWatchers.push(showSheet);
  byId("sheet-print").addEventListener("click", () => sheetFrame()?.contentWindow.print());
  byId("sheet-pdf").addEventListener("click", saveSheet("pdf", "application/pdf"));
  byId("sheet-html").addEventListener("click", saveSheet("html", "text/html"));
  byId("sheet-wif").addEventListener("click", saveSheet("wif", "text/plain"));
  byId("sheet-page").addEventListener("change", () => store("paper", byId("sheet-page").value));
  byId("sheet-clear").addEventListener("click", () => {
    const inside = sheetFrame()?.contentDocument;
    if (!inside || !confirm("Clear all ticks on this sheet?")) return;
    for (const box of inside.querySelectorAll("input")) box.checked = false;
    keepTicks(inside);
  });
}
