// What every page needs. Other modules import from the single files, not from here.
import { keepClocksGoing } from "./clock.js";
import { signHtmxRequests } from "./csrf.js";
import { findAnything } from "./find.js";
import { focusFirstError } from "./focus.js";
import { switchThemeInPlace } from "./theme.js";
import { submitOnce } from "./submit.js";
import { uploadPhotos } from "./upload.js";

signHtmxRequests();
switchThemeInPlace();
submitOnce();
findAnything();
keepClocksGoing();
uploadPhotos();
focusFirstError(document);
document.addEventListener("htmx:afterSwap", (event) => focusFirstError(event.detail.elt));
