
"use strict";
(() => {
  const key = document.body.dataset.key;
  const boxes = [...document.querySelectorAll("input")];
  const clear = document.querySelector("button");
  const stored = (use) => { try { return use(localStorage); } catch { return null; } }; // it may be denied
  const show = () => {
    const ticked = stored((s) => JSON.parse(s.getItem(key))) ?? [];
    for (const b of boxes) b.checked = ticked.includes(b.id);
  };
  const keep = () => stored((s) => s.setItem(key, JSON.stringify(boxes.filter((b) => b.checked).map((b) => b.id))));
  if (stored((s) => s.getItem(key))) show();
  document.addEventListener("change", keep);
  clear.hidden = boxes.length === 0;
  clear.addEventListener("click", () => {
    if (!confirm("Clear all ticks on this sheet?")) return;
    for (const b of boxes) b.checked = false;
    keep();
  });
})();
