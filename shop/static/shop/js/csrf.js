// The token that Django wants with every write.
export function csrfToken() {
  const meta = document.querySelector('meta[name="csrf-token"]');
  return meta === null ? "" : meta.content;
}

export function signHtmxRequests() {
  document.addEventListener("htmx:configRequest", (event) => {
    if (event.detail.verb !== "get") {
      event.detail.headers["X-CSRFToken"] = csrfToken();
    }
  });
}
