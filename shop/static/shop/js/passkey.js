// Says in words why a passkey did not work; the library only tells the console.
const REASONS = {
  NotAllowedError: "It was called off, or took too long. Try once more.",
  InvalidStateError: "This device is on your list already.",
  NotSupportedError: "This device has no passkeys that fit. Use a code from your phone.",
  SecurityError:
    "Passkeys need the shop's own name with https in the address line, not a bare number.",
};
const OTHERWISE = "This browser cannot do it here. Use a code from your phone instead.";

document.addEventListener("allauth.error", (event) => {
  event.preventDefault();
  const place = document.querySelector("[data-passkey-trouble]");
  if (place !== null) {
    place.textContent = REASONS[event.detail.exception?.name] ?? OTHERWISE;
    place.hidden = false;
  }
});
