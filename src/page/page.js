// Draws again while a person types. All that is read is read by the program: this sends the
// form and puts what came back in its place. Without it, "Draw again" does the same.
const form = document.querySelector("[data-live-form]");
let timer, asked = 0;

async function draw() {
  const own = ++asked;
  const query = new URLSearchParams(new FormData(form));
  let answer;
  try {
    answer = await fetch(form.action + "?" + query);
    if (!answer.ok) return;
    const text = await answer.text();
    if (own !== asked) return;
    const other = new DOMParser().parseFromString(text, "text/html");
    for (const part of document.querySelectorAll("[data-live]")) {
      const fresh = other.getElementById(part.id);
      // What cannot be drawn yet leaves the last good drawing, which says so.
      const isStale = part.matches("#drawing, #made") && !fresh?.querySelector("svg");
      part.toggleAttribute("data-stale", isStale && !!part.querySelector("svg"));
      if (part.hasAttribute("data-stale")) continue;
      if (fresh && fresh.innerHTML !== part.innerHTML) {
        const open = [...part.querySelectorAll("details[open]")].map((d) => d.id);
        const typed = [...part.querySelectorAll("input[id]")].filter((f) => f.value !== f.defaultValue);
        part.replaceChildren(...fresh.childNodes);
        for (const field of typed) document.getElementById(field.id).value = field.value;
        for (const id of open) if (id) document.getElementById(id)?.setAttribute("open", "");
      }
    }
    // What is measured, and where, may have changed too.
    for (const label of form.querySelectorAll("label[for]")) {
      const fresh = other.querySelector(`label[for="${CSS.escape(label.htmlFor)}"]`);
      if (!fresh) continue;
      if (label.innerHTML !== fresh.innerHTML) label.innerHTML = fresh.innerHTML;
      const [old, sketch] = [label, fresh].map((l) => l.closest(".field").querySelector(":scope > .sketch"));
      if (old && sketch) old.replaceWith(sketch);
    }
    for (const field of form.elements) {
      const fresh = field.id && other.getElementById(field.id);
      if (fresh) {
        field.classList.toggle("assumed", fresh.classList.contains("assumed"));
        if (fresh.hasAttribute("aria-invalid")) field.setAttribute("aria-invalid", "true");
        else field.removeAttribute("aria-invalid");
      }
    }
    for (const old of form.querySelectorAll("[name=said]")) old.remove();
    for (const said of other.querySelectorAll("[name=said]")) form.prepend(said);
    history.replaceState(null, "", answer.url);
    for (const part of document.querySelectorAll("#save, #next, #steps")) part.inert = false;
  } catch {
    // The program was ended: the last drawing stays.
  }
}

form?.addEventListener("input", () => {
  // What is saved or printed waits for the answer: until then it is of the values before.
  for (const part of document.querySelectorAll("#save, #next, #steps")) part.inert = true;
  clearTimeout(timer);
  timer = setTimeout(draw, 120);
});
