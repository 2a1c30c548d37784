// The one search box: "/" goes to it, hits come while one types, arrows choose, Enter
// opens. Without this module the form asks the server and shows its own page.
const WAIT_MS = 150;

export function findAnything() {
  const form = document.querySelector("form[data-find]");
  if (form === null) {
    return;
  }
  const box = form.elements.q;
  const list = form.querySelector("[role=listbox]");
  const said = form.querySelector("[data-find-said]");
  let timer = 0;
  let asking = null;

  box.setAttribute("role", "combobox");
  box.setAttribute("aria-autocomplete", "list");
  box.setAttribute("aria-controls", list.id);
  box.setAttribute("aria-expanded", "false");

  const hits = () => [...list.querySelectorAll("[role=option]")];
  const chosen = () => list.querySelector("[aria-selected=true]");

  function choose(hit) {
    chosen()?.setAttribute("aria-selected", "false");
    if (hit) {
      hit.setAttribute("aria-selected", "true");
      hit.scrollIntoView({ block: "nearest" });
      box.setAttribute("aria-activedescendant", hit.id);
    } else {
      box.removeAttribute("aria-activedescendant");
    }
  }

  function show(isShown) {
    list.hidden = !isShown;
    box.setAttribute("aria-expanded", String(isShown));
    if (!isShown) {
      choose(null);
    }
  }

  async function ask() {
    asking?.abort();
    const text = box.value.trim();
    if (text === "") {
      show(false);
      return;
    }
    asking = new AbortController();
    const address = `${form.dataset.findHits}?${new URLSearchParams({ q: text })}`;
    let answer;
    try {
      answer = await fetch(address, { signal: asking.signal });
    } catch (error) {
      if (error.name !== "AbortError") {
        show(false); // no line to the server: Enter asks for the page and says so
      }
      return;
    }
    if (!answer.ok || answer.redirected) {
      show(false);
      return;
    }
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (box.value.trim() !== text) {
      return;
    }
    list.replaceChildren(...page.body.childNodes);
    const count = list.querySelectorAll("[role=option]:not(.find-all)").length;
    said.textContent = count === 0 ? "Nothing found" : `${count} found`;
    show(document.activeElement === box);
    choose(list.querySelector("[data-exact]"));
  }

  function step(by) {
    const all = hits();
    if (list.hidden || all.length === 0) {
      ask();
      return;
    }
    const at = all.indexOf(chosen());
    const from = at === -1 && by < 0 ? 0 : at;
    choose(all[(from + by + all.length) % all.length]);
  }

  box.addEventListener("input", () => {
    clearTimeout(timer);
    choose(null);
    timer = setTimeout(ask, WAIT_MS);
  });
  box.addEventListener("focus", () => {
    if (hits().length > 0 && box.value.trim() !== "") {
      show(true);
    }
  });
  box.addEventListener("keydown", (event) => {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      step(event.key === "ArrowDown" ? 1 : -1);
    } else if (event.key === "Enter" && !list.hidden && chosen()) {
      event.preventDefault();
      chosen().click();
    } else if (event.key === "Escape" && !list.hidden) {
      event.preventDefault(); // the first Escape shuts the list, the next clears
      show(false);
    }
  });
  form.addEventListener("focusout", (event) => {
    if (!form.contains(event.relatedTarget)) {
      show(false);
    }
  });
  list.addEventListener("pointerdown", (event) => event.preventDefault());
  document.addEventListener("keydown", (event) => {
    const isTyping = event.target.closest?.("input, textarea, select, [contenteditable]");
    if (event.key === "/" && !isTyping && !event.ctrlKey && !event.metaKey && !event.altKey) {
      event.preventDefault();
      box.focus();
      box.select();
    }
  });
}
