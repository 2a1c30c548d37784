// Keeps the time in the clock bar going while the page stays open.
const A_MINUTE_MS = 60000;

function inWords(minutes) {
  const hours = Math.floor(minutes / 60);
  const rest = minutes % 60;
  if (!hours) return `${rest} min`;
  return rest ? `${hours} h ${rest} min` : `${hours} h`;
}

function show(place) {
  const since = Date.parse(place.dataset.since);
  const minutes = Math.floor((Date.now() - since) / A_MINUTE_MS);
  // A phone whose clock is behind ours must not show a time before the beginning.
  if (minutes >= 0) place.textContent = inWords(minutes);
}

export function keepClocksGoing() {
  const places = document.querySelectorAll("[data-since]");
  if (!places.length) return;
  setInterval(() => places.forEach(show), A_MINUTE_MS / 4);
}
