// A shop's software asks which wire a job needs, with nothing but the fetch of its own language:
//     node shop.mjs https://lastvolt.example
// It prints the line for the work order. In a browser the service must allow the page's origin.

const job = {
  supply_v: 12.4,
  load_current_a: 18,
  length_m: 6.2, // one way
  return_path: "body",
  ambient_c: 60,
  insulation: "GXL",
  limit_drop_percent: 3,
};

/** Ask for an operation; a refusal tells which field is wrong, and why. */
async function ask(url, operation, body) {
  const response = await fetch(new URL(`/v1/${operation}`, url), {
    method: "POST",
    headers: { "Content-Type": "application/json", Accept: "application/json" },
    body: JSON.stringify(body),
    signal: AbortSignal.timeout(10_000),
  });
  const type = response.headers.get("Content-Type") ?? "";
  if (!type.includes("json")) throw new Error(`${response.status} is no answer of the service`);
  const answer = await response.json();
  if (response.ok) return answer;
  const faults = (answer.errors ?? []).map(({ pointer, detail }) => `${pointer} ${detail}`);
  throw new Error([`${answer.title}: ${answer.detail}`, ...faults].join("\n  "));
}

try {
  const answer = await ask(process.argv[2], "wire-sizing", job);
  const failed = answer.checks.filter(({ verdict }) => verdict === "fail");
  if (answer.size === null) {
    console.log(`No size will do: ${failed.map(({ message }) => message).join(" ")}`);
  } else {
    console.log(`Wire ${answer.size}, ${job.insulation}, fuse ${answer.fuse_rating_a} A.`);
  }
  for (const caution of answer.cautions) console.log(`Mind: ${caution}`);
} catch (error) {
  console.error(error.message);
  process.exitCode = 1;
}
