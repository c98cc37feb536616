// Shows the place that the slider is set to. Every text lies in the page; nothing is worked out here.
"use strict";
for (const box of document.querySelectorAll("[data-roll]")) {
  const data = JSON.parse(box.querySelector("script").textContent);
  const slider = box.querySelector("input");
  const shown = box.querySelector("output");
  const pointer = box.querySelector(".pointer");
  const moving = box.querySelectorAll(`[data-moves-with="${CSS.escape(data.moves)}"]`);
  const cells = new Map();
  for (const cell of box.querySelectorAll("[data-reading]")) cells.set(Number(cell.dataset.reading), cell);
  const show = () => {
    const at = Number(slider.value);
    shown.textContent = data.places[at];
    slider.setAttribute("aria-valuetext", data.places[at]);
    if (pointer) pointer.setAttribute("transform", `translate(${data.strip[at]} 0)`);
    for (const part of moving) part.setAttribute("transform", `translate(${data.shift[at]} 0)`);
    const inside = new Set(data.zones[at]);
    for (const zone of box.querySelectorAll("[data-zone]")) zone.classList.toggle("here", inside.has(Number(zone.dataset.zone)));
    data.readings.forEach((reading, number) => {
      const code = reading.at[at];
      const cell = cells.get(number);
      cell.querySelector("dd").textContent = reading.texts[code >> 1];
      cell.classList.toggle("lit", (code & 1) === 1);
      if (reading.of) for (const part of box.querySelectorAll(`[data-of="${CSS.escape(reading.of)}"]`)) part.classList.toggle("lit", (code & 1) === 1);
    });
  };
  slider.addEventListener("input", show);
  for (const button of box.querySelectorAll("[data-place]"))
    button.addEventListener("click", () => { slider.value = button.dataset.place; show(); });
  show();
}
// Printed, everything that can be folded is unfolded, but for what fills most pages and was left folded.
let opened = [];
addEventListener("beforeprint", () => {
  opened = [...document.querySelectorAll("details:not([open]):not(.part)")];
  for (const part of opened) part.open = true;
});
addEventListener("afterprint", () => { for (const part of opened) part.open = false; });
// A link to a folded value unfolds it.
const unfold = () => {
  const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const folded = target && target.closest("details:not([open])");
  if (folded) { folded.open = true; target.scrollIntoView(); }
};
addEventListener("hashchange", unfold);
unfold();
