"use strict";
// Run an operation's example, as it stands in the form, and show what the service answers.

const form = document.getElementById("ask");
const path = document.getElementById("path");
const body = document.getElementById("body");
const key = document.getElementById("key");
const answer = document.getElementById("answer");
// What is read out to those who do not see the answer: one line, not all of it.
const spoken = document.getElementById("status");

function make(tag, text, attributes = {}) {
  const element = document.createElement(tag);
  element.textContent = text;
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  return element;
}

function curl() {
  const quote = (text) => `'${text.replaceAll("'", "'\\''")}'`;
  const parts = ["curl", quote(location.origin + path.value)];
  if (key.value.trim()) parts.push("-H 'Authorization: Bearer …'");
  if (body) parts.push(`-H 'Content-Type: ${form.dataset.media}'`, "--data-binary", quote(body.value));
  return parts.join(" ");
}

function dataUrl(blob) {
  return new Promise((resolve) => {
    const reader = new FileReader();
    reader.addEventListener("load", () => resolve(reader.result));
    reader.readAsDataURL(blob);
  });
}

async function shown(response, type) {
  if (type.startsWith("image/")) {
    return make("img", "", { src: await dataUrl(await response.blob()), alt: "The picture that the service drew" });
  }
  const text = await response.text();
  const isJson = /[/+]json\b/.test(type);
  return make("pre", isJson ? JSON.stringify(JSON.parse(text), null, 2) : text, { tabindex: "0", "aria-label": "Body of the answer" });
}

async function run() {
  const headers = {};
  if (body) headers["Content-Type"] = form.dataset.media;
  if (key.value.trim()) headers.Authorization = `Bearer ${key.value.trim()}`;
  answer.setAttribute("aria-busy", "true");
  try {
    const begun = performance.now();
    const response = await fetch(path.value, { method: form.dataset.method, headers, body: body?.value });
    const type = response.headers.get("Content-Type") ?? "";
    const content = await shown(response, type);
    const took = Math.round(performance.now() - begun);
    spoken.textContent = `${response.ok ? "Answered" : "Refused"}: ${response.status}, ${took} ms`;
    answer.replaceChildren(
      make("h3", spoken.textContent, { class: response.ok ? "pass" : "fail" }),
      content,
      make("h3", "The same as a command"),
      make("pre", curl(), { tabindex: "0", "aria-label": "Command" }),
    );
  } catch {
    spoken.textContent = "There was no answer. Is the path right?";
    answer.replaceChildren(make("p", spoken.textContent, { class: "notice" }));
  } finally {
    answer.removeAttribute("aria-busy");
  }
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  run();
});
form.addEventListener("reset", () => answer.replaceChildren());
