// The bench page on a poor line: a tap that did not arrive says so and can be repeated.
// Each form carries its own key, so the same tap sent twice is one finding.
const trouble = document.querySelector("#bench-trouble");

function say(text) {
  trouble.textContent = text;
  trouble.hidden = false;
  trouble.scrollIntoView({ block: "nearest" });
}

document.addEventListener("htmx:sendError", () => {
  say("Not sent: no connection to the shop. The reading is still here; tap again.");
});

document.addEventListener("htmx:timeout", () => {
  say("No answer yet. Tap again: the same reading is taken down only once.");
});

document.addEventListener("htmx:responseError", (event) => {
  const status = event.detail.xhr.status;
  say(`That was not possible now (${status}). Load the page again to see how the case stands.`);
});

document.addEventListener("htmx:beforeSwap", (event) => {
  const answered = new URL(event.detail.xhr.responseURL || location.href, location.href);
  if (!answered.pathname.startsWith("/bench/")) {
    // Signed out meanwhile: the sign-in page must not land inside the bench.
    event.detail.shouldSwap = false;
    location.reload();
  }
});

document.addEventListener("htmx:afterSwap", () => {
  trouble.hidden = true;
});
