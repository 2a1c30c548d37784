// What every page needs. Other modules import from the single files, not from here.
import { signHtmxRequests } from "./csrf.js";
import { findAnything } from "./find.js";
import { focusFirstError } from "./focus.js";
import { switchThemeInPlace } from "./theme.js";
import { submitOnce } from "./submit.js";

signHtmxRequests();
switchThemeInPlace();
submitOnce();
findAnything();
focusFirstError(document);
document.addEventListener("htmx:afterSwap", (event) => focusFirstError(event.detail.elt));
