// The drawing of the chosen draft, with the threads of its findings marked by number.

const drawn = new Set(["svg", "title", "desc", "g", "defs", "rect", "path", "line", "polyline", "polygon", "circle", "ellipse", "text", "tspan", "use", "clipPath", "pattern", "symbol"]);

// safely copies a drawing: only shapes and text, without scripts, styles or links to
// anything outside itself.
function safely(node, into = document) {
  if (node.nodeType === Node.TEXT_NODE) return into.createTextNode(node.data);
  if (node.nodeType !== Node.ELEMENT_NODE || node.namespaceURI !== "http://www.w3.org/2000/svg" || !drawn.has(node.localName)) return undefined;
  const copy = into.createElementNS(node.namespaceURI, node.localName);
  for (const { name, namespaceURI, value } of node.attributes) {
    if (/^on|^style$/i.test(name)) continue;
    if (/href$/i.test(name)) {
      if (value.startsWith("#")) copy.setAttributeNS(namespaceURI, name, value);
      continue;
    }
    if (/url\((?!#)/i.test(value) || name.startsWith("xmlns")) continue;
    copy.setAttributeNS(namespaceURI, name, value);
  }
  for (const child of node.childNodes) {
    const made = safely(child, into);
    if (made) copy.append(made);
  }
  return copy;
}

// showDrawing shows the parts of a drawing: svg elements, and words beside or instead of
// them.
function showDrawing(parts) {
  const shown = parts.map((part) => (part.nodeType ? safely(part) : element("p", { className: "aside" }, ...worded(part)))).filter(Boolean);
  const drawings = shown.filter((part) => part.localName === "svg");
  byId("drawing").replaceChildren(...shown);
  byId("drawing").hidden = shown.length === 0;
  byId("drawing-size").parentElement.hidden = drawings.length === 0;
  byId("drawing-title").textContent = place.chosen ? "Drawing of " + baseName(place.chosen) : "Drawing";
  for (const svg of drawings) {
    svg.removeAttribute("width");
    svg.removeAttribute("height");
  }
  sizeDrawing();
}

// cellSizes are the widths of a cell that the drawing can have, in pixels. At 0, the whole
// drawing is as wide as its box.
const cellSizes = [0, 8, 14, 22, 36, 56];

let cellSize = 0; // chosen by the reader

// nextSize returns the next size of cells, up or down, that differs from that of the whole
// drawing.
function nextSize(up) {
  const svg = byId("drawing").querySelector("svg");
  if (!svg) return undefined;
  const whole = byId("drawing").clientWidth / svg.viewBox.baseVal.width;
  const sizes = cellSizes.filter((size) => size === 0 || size > whole * 1.1);
  return up ? sizes.find((size) => size > cellSize) : sizes.findLast((size) => size < cellSize);
}

// sizeDrawing gives the drawing the chosen size. What was at its centre stays there.
function sizeDrawing() {
  const box = byId("drawing");
  const at = (size, all, from) => all > 0 ? (from + size / 2) / all : 0;
  const [x, y] = [at(box.clientWidth, box.scrollWidth, box.scrollLeft), at(box.clientHeight, box.scrollHeight, box.scrollTop)];
  box.classList.toggle("larger", cellSize > 0);
  for (const svg of box.querySelectorAll("svg")) svg.style.width = cellSize > 0 ? `max(100%, ${svg.viewBox.baseVal.width * cellSize}px)` : "";
  box.scrollLeft = x * box.scrollWidth - box.clientWidth / 2;
  box.scrollTop = y * box.scrollHeight - box.clientHeight / 2;
  byId("drawing-smaller").disabled = nextSize(false) === undefined;
  byId("drawing-size").disabled = nextSize(true) === undefined;
}

// drawSound draws a draft without findings, which the report doesn't show.
async function drawSound(path, wanted) {
  const done = await runProgram(["convert", "--to", "svg", "--", path], inputs(), "Drawing " + baseName(path), wanted);
  if (!done || !wanted()) return;
  if (done.status !== 0) return showDrawing(["No drawing: " + plainErrors(done.stderr).join(" ")]);
  const svg = new DOMParser().parseFromString(toText(done.stdout), "image/svg+xml").documentElement;
  showDrawing([svg]);
}

// numbersOfMarks returns the texts with the numbers of marks in a drawing. Only they are in the
// color of marks; palette numbers are bold too.
const numbersOfMarks = (svg) => svg.querySelectorAll('text[font-weight=bold][fill="#c02a1d"]');

// pointOut rings the number of a finding in the drawing and brings it into view. It reports
// whether the drawing has the number.
function pointOut(number) {
  for (const ring of byId("drawing").querySelectorAll(".ring")) ring.remove();
  const labels = [...byId("drawing").querySelectorAll("svg")].flatMap((svg) => [...numbersOfMarks(svg)]).filter((text) => text.textContent.trim() === String(number));
  for (const label of labels) {
    const box = label.getBBox();
    const ring = document.createElementNS(label.namespaceURI, "rect");
    const room = box.height * 0.25; // at the sides; above and below may be another number
    for (const [name, value] of Object.entries({ x: box.x - room, y: box.y, width: box.width + 2 * room, height: box.height, rx: room, class: "ring" })) ring.setAttribute(name, value);
    label.before(ring);
  }
  labels[0]?.scrollIntoView({ block: "nearest", inline: "center" });
  return labels.length > 0;
}

function startDrawing() {
  for (const [id, up] of [["drawing-size", true], ["drawing-smaller", false]]) {
    byId(id).addEventListener("click", () => {
      cellSize = nextSize(up) ?? cellSize;
      sizeDrawing();
    });
  }
}
