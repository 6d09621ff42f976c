// A diff as a table: each line with its number, before and after.

// diffView shows the diff of one or more files. Added and deleted lines have a sign, so color
// isn't needed.
function diffView(diff) {
  const view = element("div", { className: "diff", tabIndex: 0, role: "group", "aria-label": "Changes" });
  let rows;
  let before = 0;
  let after = 0;
  const row = (kind, sign, text) => rows.append(element("tr", { className: kind },
    element("td", { className: "at", textContent: kind === "added" ? "" : before }), element("td", { className: "at", textContent: kind === "deleted" ? "" : after }),
    element("td", { className: "sign", textContent: sign }), element("td", {}, element("code", { textContent: text }))));
  const lines = diff.replace(/\n$/, "").split("\n");
  for (let i = 0; i < lines.length; i++) {
    const line = lines[i];
    const hunk = /^@@ -(\d+)(?:,\d+)? \+(\d+)(?:,\d+)? @@ ?(.*)$/.exec(line);
    if (line.startsWith("--- ") && lines[i + 1]?.startsWith("+++ ") && (lines[i + 2] ?? "").startsWith("@@ ")) {
      view.append(element("p", { className: "changed", textContent: line.slice(4).split("\t")[0] }));
      i++;
    } else if (hunk) {
      [before, after] = [Number(hunk[1]), Number(hunk[2])];
      rows = element("tbody");
      view.append(element("table", {}, element("caption", { textContent: hunk[3] }),
        element("thead", {}, element("tr", {}, ...["before", "after", "", "line"].map((text) => element("th", { scope: "col", textContent: text })))), rows));
    } else if (!rows || line.startsWith("\\")) {
      view.append(element("p", { className: "aside", textContent: line.replace(/^\\ /, "") }));
    } else {
      const kind = line.startsWith("+") ? "added" : line.startsWith("-") ? "deleted" : "same";
      row(kind, { added: "+", deleted: "−", same: "" }[kind], line.slice(1).replace(/\r$/, ""));
      if (kind !== "added") before++;
      if (kind !== "deleted") after++;
    }
  }
  return view;
}
