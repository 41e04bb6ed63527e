"use strict";
// The form works without this. Only a key needs a script: it goes into a header, not an address.

const main = document.getElementById("main");

function replace(text) {
  const page = new DOMParser().parseFromString(text, "text/html");
  const key = document.getElementById("key");
  document.title = page.title;
  main.replaceChildren(...page.getElementById("main").childNodes);
  // The key stays for the next question; the page that answers has no place for it.
  const field = document.getElementById("key")?.parentElement;
  if (field) field.replaceWith(key.parentElement);
  else document.querySelector("#ask .buttons").before(key.parentElement);
  document.getElementById("status").textContent = page.title;
  (main.querySelector("[aria-invalid]") ?? main).focus();
  if (!main.querySelector("[aria-invalid]")) scrollTo(0, 0);
}

main.addEventListener("submit", async (event) => {
  const key = document.getElementById("key")?.value.trim();
  if (!key) return;
  event.preventDefault();
  const asked = `/?${new URLSearchParams(new FormData(event.target))}`;
  main.setAttribute("aria-busy", "true");
  try {
    const response = await fetch(asked, { headers: { Authorization: `Bearer ${key}` } });
    replace(await response.text());
    history.replaceState(null, "", asked);
  } catch {
    document.getElementById("status").textContent = "The service did not answer. Try again.";
  } finally {
    main.removeAttribute("aria-busy");
  }
});
