// Switches the theme without leaving the page, so that nothing half-typed is lost.
// Without this module the same form posts to the server.
const YEAR_S = 365 * 24 * 3600;

export function switchThemeInPlace() {
  const form = document.querySelector("form[data-theme-switch]");
  form?.addEventListener("submit", (event) => {
    event.preventDefault();
    const chosen = form.elements.theme.value;
    const other = chosen === "dark" ? "light" : "dark";
    const secure = location.protocol === "https:" ? "; Secure" : "";
    document.documentElement.dataset.theme = chosen;
    document.cookie = `loom_theme=${chosen}; Path=/; Max-Age=${YEAR_S}; SameSite=Lax${secure}`;
    form.elements.theme.value = other;
    form.querySelector("button").textContent = other === "dark" ? "Dark theme" : "Light theme";
  });
}
