// Corrections by hand: the line of a finding becomes a field.

const longestEdited = 10_000; // letters in a line that can be edited here

// lineOf returns the text of a draft and where a line begins and ends in it. It returns
// undefined for a draft that isn't in UTF-8, because writing it would change other lines.
function lineOf(path, number) {
  let text;
  try {
    text = new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(library.files.get(path));
  } catch {
    return undefined;
  }
  const breaks = /\r\n|\n|\r/g;
  let from = 0;
  for (let n = 1; n < number; n++) {
    if (!breaks.exec(text)) return undefined;
    from = breaks.lastIndex;
  }
  const end = breaks.exec(text);
  return { text, from, to: end ? end.index : text.length, after: end ? breaks.lastIndex : text.length, lineBreak: end?.[0] ?? "\n" };
}

// replaceLine puts lines in the place of one, or deletes it if there are none.
function replaceLine(path, number, lines) {
  const { text, from, to, after, lineBreak } = lineOf(path, number);
  const old = text.slice(from, to);
  if (lines.length === 1 && lines[0] === old) return;
  const changed = lines.length > 0 ? text.slice(0, from) + lines.join(lineBreak) + text.slice(to) : text.slice(0, from) + text.slice(after);
  const diff = [`--- ${path}`, `+++ ${path}`, `@@ -${number},1 +${number},${lines.length} @@`, "-" + old, ...lines.map((line) => "+" + line)];
  mended = lines.length > 0 ? `Line ${number} changed` : `Line ${number} deleted`;
  change(`change of line ${number} in ${baseName(path)}`, new Map([[path, toBytes(changed)]]), diff.join("\n"));
}

// editForm makes the form that edits a line; close closes it.
function editForm(path, line, text, close) {
  const field = element("textarea", { rows: 2, spellcheck: false, autocomplete: "off", wrap: "off", value: text });
  return element("form", {
    onsubmit: (event) => {
      event.preventDefault();
      replaceLine(path, line, field.value.split("\n"));
    },
    onkeydown: (event) => { if (event.key === "Escape") close(); },
  }, element("label", {}, `Line ${line}. You can write more than one.`, field),
    element("span", { className: "row" }, element("button", { type: "submit", textContent: "Change it" }),
      element("button", { type: "button", className: "delete", textContent: "Delete the line", onclick: () => replaceLine(path, line, []) }),
      element("button", { type: "button", textContent: "Cancel", onclick: close })));
}

// editTools makes the button for editing the line of a finding.
function editTools({ path }, { line, text }) {
  if (!text || text.length > longestEdited) return [];
  const toggle = (show) => {
    const at = show ? lineOf(path, line) : undefined;
    if (show && !at) return sayHere("This draft isn't in UTF-8, so it can't be edited here. Make its safe fixes first.", { done: false });
    open.setAttribute("aria-expanded", String(show));
    open.nextElementSibling?.remove();
    if (show) open.after(editForm(path, line, at.text.slice(at.from, at.to), () => toggle(false)));
    (show ? open.nextElementSibling.querySelector("textarea") : open).focus();
  };
  const open = element("button", { type: "button", textContent: `Edit line ${line}`, "aria-expanded": "false",
    onclick: () => toggle(open.getAttribute("aria-expanded") === "false") });
  return [element("div", { className: "edit" }, open)];
}
