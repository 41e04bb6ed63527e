"use strict";
// One circuit from the form to the service, and its answer in words. No arithmetic but feet.

const form = document.getElementById("circuit");
const result = document.getElementById("result");
// What is read out to those who do not see the answer: one line, not all of it.
const spoken = document.getElementById("status");
const METRES_PER_FOOT = 0.3048;
const FUSE_OHM = 0.003; // a blade fuse in its holder, common practice
const WORDS = {
  pass: "passes", marginal: "just passes", unknown: "not judged", undecided: "not decided", fail: "fails",
};
const WORST_FIRST = ["fail", "undecided", "unknown", "marginal", "pass"];
const WAYS = {
  as_is: "as it is", battery: "with a sound battery", mend: "mended", battery_and_mend: "with a sound battery, mended",
  relay: "with the relay", mend_then_relay: "mended, with the relay", all_of_these: "with all of these",
};
const HEADLINES = {
  pass: "It works: every check passes.",
  marginal: "It works, with little to spare.",
  unknown: "Not everything could be judged.",
  undecided: "Not decided: something must be measured first.",
  fail: "Not enough: the voltage that it needs does not arrive.",
};
// An invented vehicle: the mobile-library coach of Lindwater County.
const COACH = {
  supply: "12.3", inside: "0.006", "length-unit": "m",
  size: "12 AWG", length: "21.5", insulation: "GXL", "wires-ambient": "60", "main-fuse": "30", switch: "0.03", rating: "40",
  return: "body", ground: "0.0003",
  load: "solenoid", "pull-in": "7", coil: "0.41", "load-ambient": "115", "circuit-kind": "starter_control",
  relay: "fit", "relay-nominal": "12", "relay-coil": "90", "pick-up": "6.9", "drop-out": "1.2", "relay-contact": "0.002",
  "relay-rating": "40", "relay-highest": "125", "relay-fuse": "0.002", "fuse-rating": "40", "feed-size": "8 AWG", "feed-length": "0.9",
};

function make(tag, text = "", attributes = {}, ...children) {
  const element = document.createElement(tag);
  element.textContent = text;
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, value);
  element.append(...children);
  return element;
}

const list = (texts, tag = "ul") => make(tag, "", {}, ...texts.map((text) => make("li", text)));

// Decimals of each unit, as the service writes them in its sentences.
const DECIMALS = JSON.parse(document.currentScript.dataset.decimals);
// Below these two digits count, as far as a meter has them.
const FINER = JSON.parse(document.currentScript.dataset.finer);

function decimals(value, unit) {
  if (!value || !(Math.abs(value) < FINER.below[unit])) return DECIMALS[unit];
  return Math.min(1 - Math.floor(Math.log10(Math.abs(value))), FINER.decimals);
}

function rounded(value, unit) {
  if (unit in DECIMALS) return Number(value.toFixed(decimals(value, unit)));
  return Math.abs(value) < 1000 ? Number(value.toPrecision(3)) : Math.round(value);
}

function amount(value, unit) {
  if (value === null || value === undefined) return "–";
  const digits = rounded(value, unit);
  return digits === 0 && value !== 0 && DECIMALS[unit] > 0
    ? `less than ${10 ** -decimals(value, unit)} ${unit}` : `${digits} ${unit}`;
}

// ---- the form: show what fits the choices, build the request

function follow() {
  for (const part of form.querySelectorAll("[data-when]")) {
    const [name, values] = part.dataset.when.split("=");
    part.disabled = part.hidden = !values.split(",").includes(form.elements[name].value);
  }
  for (const unit of form.querySelectorAll(".length-unit")) unit.textContent = form.elements["length-unit"].value;
}

function skeleton(back, load, fitsRelay) {
  const returns = { nodes: ["load out", "ground"], zone: "wires" };
  const request = {
    circuit: {
      source: { plus: "battery post" },
      branches: [
        { name: "wire to the load", kind: "wire", nodes: ["fuse out", "switch in"], zone: "wires" },
        { name: "switch", kind: "contact", part: "switch", nodes: ["switch in", "load in"] },
        back === "wire"
          ? { name: "wire back", kind: "wire", ...returns }
          : { name: "ground joints", kind: "contact", part: "ground", ...returns },
        { name: "fuse", kind: "contact", part: "fuse", nodes: ["battery post", "fuse out"], resistance_ohm: FUSE_OHM },
      ],
      loads: [{ name: load === "solenoid" ? "solenoid" : "load", kind: load, nodes: ["load in", "load out"], zone: "load" }],
    },
    cases: [{ name: "this circuit", zone_ambients_c: {} }],
  };
  if (!fitsRelay) return request;
  const feed = [
    { name: "relay fuse", kind: "contact", part: "fuse", zone: "wires" },
    { name: "relay feed", kind: "wire", zone: "wires" },
  ];
  const proposal = { relay: { name: "relay", zone: "load" }, feed_node: "battery post", feed };
  return { ...request, load: request.circuit.loads[0].name, switch: "switch", proposal };
}

function valueOf(input) {
  const text = input.value.trim();
  if (input.tagName === "SELECT" || input.dataset.kind === "size") return text;
  if (!/^[-+]?(\d+[.,]?\d*|[.,]\d+)$/.test(text)) return text; // the service says what it must be
  const number = Number(text.replace(",", "."));
  const isFeet = input.dataset.kind === "length" && form.elements["length-unit"].value === "ft";
  return isFeet ? number * METRES_PER_FOOT : number;
}

function put(request, pointer, value) {
  const keys = pointer.slice(1).split("/");
  const last = keys.pop();
  keys.reduce((inner, key) => (inner[key] ??= {}), request)[last] = value;
}

function question() {
  const fitsRelay = form.elements.relay.value === "fit";
  const request = skeleton(form.elements.return.value, form.elements["load-kind"].value, fitsRelay);
  for (const input of form.querySelectorAll("[name^='/']")) {
    if (!input.matches(":disabled") && (input.required || input.value.trim())) put(request, input.name, valueOf(input));
  }
  const [wire, , , fuse] = request.circuit.branches;
  if (fuse.rating_a === undefined) {
    request.circuit.branches.pop();
    wire.nodes[0] = "battery post";
  }
  for (const part of [...request.circuit.branches, ...(request.proposal?.feed ?? [])]) {
    if (part.kind === "wire") part.insulation = form.elements.insulation.value;
  }
  if (fitsRelay) {
    const relay = request.proposal.relay;
    // The form asks for one voltage of the relay, and for the rating of its contact where it is.
    relay.rated_v = relay.nominal_v;
    relay.rating_ambient_c = request.cases[0].zone_ambients_c.load;
  }
  return [fitsRelay ? "relay-retrofit" : "circuit-check", request];
}

// ---- ask

function post(path, request) {
  const headers = { "Content-Type": "application/json" };
  const key = document.getElementById("key").value.trim();
  if (key) headers.Authorization = `Bearer ${key}`;
  return fetch(path, { method: "POST", headers, body: JSON.stringify(request) });
}

async function ask() {
  clearErrors();
  const [operation, request] = question();
  result.setAttribute("aria-busy", "true");
  try {
    const response = await post(`/v1/${operation}`, request);
    const answer = await response.json();
    if (!response.ok) return showProblem(response.status, answer);
    showAnswer(operation, request, answer);
    await showPicture(operation, request);
  } catch {
    spoken.textContent = "The service did not answer. Try again.";
    result.replaceChildren(make("p", spoken.textContent, { class: "notice" }));
  } finally {
    result.removeAttribute("aria-busy");
  }
}

// ---- errors, each beside its field

function clearErrors() {
  for (const input of form.querySelectorAll("[aria-invalid]")) input.removeAttribute("aria-invalid");
  for (const text of form.querySelectorAll(".error")) text.textContent = "";
}

function inputAt(pointer) {
  const path = decodeURIComponent(pointer.replace(/^#/, ""));
  const there = [...form.querySelectorAll("[name^='/']")].filter((input) => !input.matches(":disabled"));
  return path && (there.find((input) => input.name === path) ?? there.find((input) => input.name.startsWith(`${path}/`)));
}

function showProblem(status, problem) {
  const others = [];
  let first = null;
  for (const { pointer, detail } of problem.errors ?? []) {
    const input = inputAt(pointer);
    if (!input) {
      others.push(detail);
      continue;
    }
    input.setAttribute("aria-invalid", "true");
    document.getElementById(`${input.id}-error`).textContent = detail;
    first ??= input;
  }
  if (!problem.errors) others.push(problem.detail);
  const said = first ? "See the fields that are marked." : problem.title;
  spoken.textContent = `No answer yet. ${said}`;
  result.replaceChildren(make("h2", "No answer yet", { class: "verdict unknown" }), make("p", said), list(others));
  if (status === 401 || status === 403) {
    document.getElementById("key-field").hidden = false;
    first ??= document.getElementById("key");
  }
  (first ?? result).scrollIntoView({ block: "center" });
  first?.focus();
}

// ---- the answer in words

function table(caption, head, rows) {
  const cells = (texts) => texts.map((text, place) => make(place ? "td" : "th", text, place ? {} : { scope: "row" }));
  return make(
    "div", "", { class: "scroll", tabindex: "0", role: "region", "aria-label": caption },
    make(
      "table", "", {}, make("caption", caption),
      make("thead", "", {}, make("tr", "", {}, ...head.map((text) => make("th", text, { scope: "col" })))),
      make("tbody", "", {}, ...rows.map((row) => make("tr", "", {}, ...cells(row)))),
    ),
  );
}

function circuitTables({ cases: [now] }) {
  const [load] = now.loads;
  return [
    table("At the load", ["Quantity", "Value"], [
      ["voltage that arrives", amount(load.voltage_v, "V")],
      ["voltage needed", amount(load.needed_v, "V")],
      ["current", amount(load.current_a, "A")],
      ["power", amount(load.power_w, "W")],
    ]),
    table("On the way", ["Part", "Drop", "Heat", "Temperature"], now.parts.map((part) => [
      part.name, amount(part.drop_v, "V"), amount(part.power_w, "W"),
      part.temperature_c === null ? "–" : amount(part.temperature_c, "°C"),
    ])),
  ];
}

function retrofitTables({ cases: [now] }) {
  const row = (name, field, unit) => [name, amount(now.as_is[field], unit), amount(now.proposed[field], unit)];
  // What is to spare adds up with the two as they are shown.
  const spare = (way) => amount(rounded(way.load_voltage_v, "V") - rounded(way.needed_v, "V"), "V");
  return [
    table("Before and after", ["Quantity", "As it is", "With the relay"], [
      row("voltage at the load", "load_voltage_v", "V"),
      row("voltage needed", "needed_v", "V"),
      ["to spare", spare(now.as_is), spare(now.proposed)],
      row("current in the switch", "switch_current_a", "A"),
      row("heat in the switch", "switch_power_w", "W"),
    ]),
  ];
}

// A failed check elsewhere does not keep the load from working today.
function headline(verdict, voltage) {
  if (verdict === "fail" && voltage && voltage.verdict !== "fail") return "The load works, but another check fails.";
  return HEADLINES[verdict];
}

function showAnswer(operation, request, answer) {
  const isRetrofit = operation === "relay-retrofit";
  const verdict = isRetrofit ? answer.verdict : answer.cases[0].verdict;
  const checks = isRetrofit ? answer.checks : answer.cases[0].checks;
  const ranked = WORST_FIRST.flatMap((word) => checks.filter((check) => check.verdict === word));
  const version = (check) => (isRetrofit ? `${WAYS[check.way]}: ` : "");
  const told = ranked.map((check) =>
    make("li", "", { class: check.verdict }, make("strong", WORDS[check.verdict]), ` ${version(check)}${check.message}`));
  const curl = `curl ${location.origin}/v1/${operation} -H 'Content-Type: application/json' -d '${JSON.stringify(request)}'`;
  const packed = btoa(JSON.stringify(request)).replaceAll("+", "-").replaceAll("/", "_");
  const link = (form, text) => make("a", text, { href: `/v1/reports/${operation}.${form}?request=${packed}` });
  const mend = answer.mend_first.filter((part) => part.regained_v > 0).map((part) => `${part.name}: ${amount(part.regained_v, "V")}`);
  const voltage = checks.find((check) => check.code === "load_voltage");
  const said = isRetrofit ? answer.headline : headline(verdict, voltage);
  const reasons = isRetrofit ? answer.reasons.map((reason) => reason.message) : ranked.filter((check) => check.verdict === "fail" || check === voltage).map((check) => check.message);
  spoken.textContent = said;
  result.replaceChildren(
    make("h2", said, { class: `verdict ${verdict}` }),
    list(reasons),
    make("figure", "", { id: "picture", hidden: "" }),
    ...(isRetrofit ? retrofitTables(answer) : circuitTables(answer)),
    make("h3", "What was checked"),
    make("ul", "", { class: "checks" }, ...told),
    make("h3", "What mending each part would bring to the load"),
    list(mend, "ol"),
    make("h3", "Take care"),
    list([...(answer.new_risks ?? []).map((risk) => risk.message), ...answer.cautions]),
    make("h3", "To pass on", { class: "no-print" }),
    make("p", "Links that carry the whole question, for a post or a note: ", { class: "no-print" },
      link("txt", "the answer in words"), ", ", link("svg", "the picture"), "."),
    make("details", "", {}, make("summary", "What this rests on"), list(answer.basis)),
    make("details", "", { class: "no-print" }, make("summary", "Ask the same from a program"),
      make("pre", curl, { tabindex: "0", "aria-label": "Command" })),
    make("p", `Computed by lastvolt ${answer.computed_by.service}, tables ${answer.computed_by.tables}.`, { class: "quiet" }),
  );
  result.scrollIntoView({ block: "start" });
}

async function showPicture(operation, request) {
  const response = await post(`/v1/reports/${operation}.svg`, request);
  if (!response.ok) return;
  const drawn = await response.text();
  const title = new DOMParser().parseFromString(drawn, "image/svg+xml").querySelector("title, desc");
  const alt = title?.textContent || "Voltage along the path from battery to load and back";
  const place = document.getElementById("picture");
  place.replaceChildren(make("img", "", { src: `data:image/svg+xml,${encodeURIComponent(drawn)}`, alt }));
  place.hidden = false;
}

form.addEventListener("change", follow);
form.addEventListener("submit", (event) => {
  event.preventDefault();
  ask();
});
document.getElementById("example").addEventListener("click", () => {
  for (const [id, value] of Object.entries(COACH)) document.getElementById(id).value = value;
  follow();
  ask();
});
follow();
