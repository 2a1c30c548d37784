// After a page or part has arrived, put the focus on what needs attention:
// [data-focus] is set by the server on an error summary or the next thing to do.
export function focusFirstError(root) {
  const target = root.matches?.("[data-focus]") ? root : root.querySelector("[data-focus]");
  if (target !== null) {
    target.focus();
  }
}
