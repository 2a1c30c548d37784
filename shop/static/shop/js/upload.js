// Photos from the phone: each file goes up by itself as soon as it is chosen, with its
// progress, and one that fails says why and can be sent again. The same file sent twice
// is one photo for the server. Without this module the form sends all files at once.
import { csrfToken } from "./csrf.js";

const WORDS = {
  0: "No connection. The file is still on this device: send it again when there is one.",
  401: "You are signed out. Sign in again in another tab, then send it again.",
  403: "You may not add this here, or you are signed out.",
  413: "The server takes no file of this size. Send it smaller.",
};
// What is wrong with the file itself, or with where it goes, sending again does not mend.
const FOR_GOOD = new Set([400, 404, 409, 413]);
const waiting = [];
let isSending = false;

export function uploadPhotos() {
  document.documentElement.classList.add("has-script");
  document.addEventListener("change", (event) => {
    const input = event.target;
    const form = input.closest?.("form[data-upload]");
    if (!form || input.type !== "file") {
      return;
    }
    for (const file of input.files) {
      line(form, file);
    }
    input.value = ""; // so that the same one can be chosen again
  });
  window.addEventListener("beforeunload", (event) => {
    if (isSending) {
      event.preventDefault();
    }
  });
}

function line(form, file) {
  const item = document.createElement("li");
  const name = document.createElement("span");
  const bar = document.createElement("progress");
  const said = document.createElement("span");
  const again = document.createElement("button");
  const clear = document.createElement("button");
  name.textContent = `${file.name} `;
  bar.max = 100;
  bar.setAttribute("aria-label", `Sending ${file.name}`);
  said.textContent = "waits";
  again.type = "button";
  again.className = "btn btn-small";
  again.textContent = "Send it again";
  again.hidden = true;
  again.addEventListener("click", () => enqueue(job));
  clear.type = "button";
  clear.className = "btn btn-small";
  clear.textContent = "Clear this line";
  clear.hidden = true;
  clear.addEventListener("click", () => {
    item.remove();
    form.querySelector("input[type=file]").focus();
  });
  item.append(name, said, bar, again, " ", clear);
  form.querySelector("[data-upload-list]").append(item);
  const job = { form, file, item, bar, said, again, clear };
  const most = Number(form.dataset.mostBytes);
  if (file.size > most) {
    const mega = 1024 * 1024;
    refuse(
      job,
      `It has ${Math.ceil(file.size / mega)} MB; ${Math.floor(most / mega)} MB is the most. Send it smaller.`,
      false,
    );
    return;
  }
  enqueue(job);
}

function enqueue(job) {
  job.said.textContent = "waits";
  job.said.className = "quiet";
  job.bar.hidden = false;
  job.bar.value = 0;
  job.again.hidden = true;
  job.clear.hidden = true;
  waiting.push(job);
  next();
}

// One at a time: on a slow line two halves are worth less than one whole.
function next() {
  if (isSending || waiting.length === 0) {
    return;
  }
  isSending = true;
  send(waiting.shift());
}

function send(job) {
  const body = new FormData();
  body.append("about", job.form.dataset.about);
  body.append("about_id", job.form.dataset.aboutId);
  body.append("file", job.file);
  const request = new XMLHttpRequest();
  request.open("POST", job.form.dataset.upload);
  request.setRequestHeader("X-CSRFToken", csrfToken());
  request.setRequestHeader("Accept", "application/json");
  request.upload.addEventListener("progress", (event) => {
    const part = event.lengthComputable ? (100 * event.loaded) / event.total : 0;
    job.bar.value = part;
    job.said.textContent = part < 100 ? `${Math.floor(part)} %` : "is being checked";
  });
  request.addEventListener("loadend", () => {
    isSending = false;
    if (request.status === 201) {
      job.item.remove();
      const told = job.form.querySelector("[data-upload-said]");
      told.textContent = `${job.file.name} is added.`;
      document
        .getElementById(job.form.dataset.grid)
        ?.dispatchEvent(new Event("files-added"));
    } else {
      refuse(job, reason(request), !FOR_GOOD.has(request.status));
    }
    next();
  });
  job.said.textContent = "0 %";
  request.send(body);
}

function reason(request) {
  try {
    const problem = JSON.parse(request.responseText);
    if (problem.detail) {
      return problem.detail;
    }
  } catch {
    // not ours: a proxy answered, or nobody
  }
  return WORDS[request.status] ?? "The server could not take it just now. Send it again.";
}

function refuse(job, words, mayTryAgain) {
  job.bar.hidden = true;
  job.said.textContent = `was not added. ${words}`;
  job.said.className = "upload-refused";
  job.again.hidden = !mayTryAgain;
  job.clear.hidden = false;
}
