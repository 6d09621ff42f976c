// Fixes: all safe ones, those of one rule, and risky ones, each with its changes and undo.

const certainFixes = (finding) => (finding.fixes ?? []).filter((fix) => !fix.risky);
const riskyFixes = (finding) => (finding.fixes ?? []).filter((fix) => fix.risky);

// clean runs the command and returns its result. With write it changes the opened drafts.
async function clean(label, flags, paths, write) {
  const done = await runProgram(["clean", "--diff", ...(write ? ["--write"] : ["--check"]), ...flags, "--", ...paths], inputs(), label);
  const errors = plainErrors(done.stderr);
  sayProblems(errors);
  const diff = toText(done.stdout);
  if (write) {
    change(label, done.written, diff);
    if (done.written.size === 0 && errors.length === 0) sayHere("Nothing was changed" + (flags.length > 0 ? "." : ": no finding has a safe fix. Each says what to do."), { done: false });
    else mended = cleanWords(done.stderr);
  }
  return diff;
}

// cleanWords returns what clean says about its fixes, without advice for a terminal and
// without what remains, which the page shows.
function cleanWords(stderr) {
  return toText(stderr).split("\n").filter((line) => line !== "" && !/^fettle: | more with --risky|run `fettle/.test(line)).join("; ");
}

let mended = ""; // what the last fix said; shown when the findings are there

// fixTools makes the buttons of a finding: see the change, make it, and make all of its rule.
function fixTools(file, finding) {
  const tools = element("div", { className: "fixes" });
  const same = file.findings.filter((f) => f.rule === finding.rule);
  const offer = (fixes, risky, all) => {
    if (fixes.length === 0) return;
    const rule = ["--only", finding.rule, ...(risky ? ["--risky"] : [])];
    const one = [...rule, "--line", String(finding.line)];
    const kind = risky ? "risky fix" : "fix";
    const label = `${kind} for ${finding.rule} in line ${finding.line} of ${baseName(file.path)}`;
    const shown = element("div");
    const button = (text, action, of = {}) => element("button", { type: "button", textContent: text, onclick: guarded(action), ...of });
    tools.append(element("div", { className: risky ? "fix risky" : "fix" },
      element("span", { className: "aside", textContent: (risky ? "Risky fix: " : "Fix: ") + fixes[0].title + "." }),
      button("See the change", async (event) => {
        const open = shown.childElementCount > 0;
        event.currentTarget.setAttribute("aria-expanded", String(!open));
        if (open) return shown.replaceChildren();
        const diff = await clean(label, one, [file.path], false);
        shown.replaceChildren(diff ? diffView(diff) : element("p", { className: "aside", textContent: "fettle would change nothing now." }));
      }, { "aria-expanded": "false" }),
      button(risky ? "Make this risky fix" : "Fix this one", () => clean(label, one, [file.path], true), { className: "make" }),
      all.length > 1 ? button(risky ? `Make all ${all.length} risky fixes of this rule` : `Fix all ${all.length} of this rule`,
        () => clean(`${kind} for ${finding.rule} in ${baseName(file.path)}`, rule, [file.path], true)) : undefined), shown);
  };
  offer(certainFixes(finding), false, same.filter((f) => certainFixes(f).length > 0));
  offer(riskyFixes(finding), true, same.filter((f) => riskyFixes(f).length > 0));
  return tools;
}

const mendWords = (count) => count > 0 ? `Make all safe fixes (${count})` : "Make all safe fixes";

// showMending sets the buttons for fixes and downloads, and the list of changes.
function showMending() {
  const all = findings.files.flatMap((file) => file.findings);
  const certain = all.filter((finding) => certainFixes(finding).length > 0).length;
  byId("mend").textContent = mendWords(certain);
  byId("undo").disabled = library.undo.length === 0;
  byId("undo").textContent = library.undo.length > 0 ? `Undo the ${library.undo.at(-1).label}` : "Undo";
  byId("download").disabled = !library.files.has(place.chosen);
  byId("download").textContent = place.chosen ? `Download ${baseName(place.chosen)}` : "Download this draft";
  byId("download-all").disabled = library.files.size < 2;
  byId("changes").hidden = library.undo.length === 0;
  byId("change-list").replaceChildren(...library.undo.map((step) => element("section", {}, element("h4", { textContent: step.label }), diffView(step.diff))));
  if (mended) {
    sayHere(mended + ".", { all: mended + ". " + byId("status").textContent });
    mended = "";
  }
}

function startMending() {
  byId("mend").addEventListener("click", guarded(() => clean("safe fixes", [], library.roots, true)));
  byId("undo").addEventListener("click", undoChange);
}
