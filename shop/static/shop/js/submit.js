// A second tap on a slow line must not send a form twice.
export function submitOnce() {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented || form.method !== "post") {
      return;
    }
    if (form.dataset.sent === "yes") {
      event.preventDefault();
      return;
    }
    form.dataset.sent = "yes";
    form.setAttribute("aria-busy", "true");
  });
  window.addEventListener("pageshow", () => {
    for (const form of document.querySelectorAll('form[data-sent="yes"]')) {
      delete form.dataset.sent;
      form.removeAttribute("aria-busy");
    }
  });
  document.addEventListener("htmx:afterRequest", (event) => {
    delete event.detail.elt.dataset.sent;
    event.detail.elt.removeAttribute("aria-busy");
  });
}
