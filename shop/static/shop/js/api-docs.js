// Shows the OpenAPI description; requests that write carry the session's token.
import { csrfToken } from "./csrf.js";

const place = document.querySelector("#api-docs");

window.SwaggerUIBundle({
  url: place.dataset.schemaUrl,
  domNode: place,
  deepLinking: true,
  requestInterceptor(request) {
    if (!["GET", "HEAD", undefined].includes(request.method)) {
      request.headers["X-CSRFToken"] = csrfToken();
    }
    return request;
  },
});
