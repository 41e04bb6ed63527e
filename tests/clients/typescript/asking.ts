// What a program shares that asks the service through the generated types.
import createClient from "openapi-fetch";
import type { components, paths } from "./schema.js";

declare const process: { env: Record<string, string | undefined> };

export const client = createClient<paths>({ baseUrl: process.env["LASTVOLT_URL"] ?? "" });

/** Take the answer out of what a call gave, or fail with the service's own words. */
export function answered<T>(call: { data?: T; error?: components["schemas"]["Problem"] }): T {
  if (call.data === undefined) throw new Error(call.error?.detail ?? "no answer");
  return call.data;
}

/** Ask for a size that does not exist, and tell which field the service blames. */
export async function blamed(): Promise<string[]> {
  const { error } = await client.POST("/v1/wire-resistance", {
    body: { size: "99 AWG", length_m: 1 },
  });
  return (error?.errors ?? []).map((each) => each.pointer);
}

// Wrong requests do not compile: a field is missing or of another type, or the path is unknown.
export const wrong = [
  // @ts-expect-error
  () => client.POST("/v1/wire-resistance", { body: { size: "12 AWG" } }),
  // @ts-expect-error
  () => client.POST("/v1/wire-resistance", { body: { size: "12 AWG", length_m: "1" } }),
  // @ts-expect-error
  () => client.POST("/v1/wire-resistance", { body: { size: "12 AWG", length_m: 1, material: "gold" } }),
  // @ts-expect-error
  () => client.POST("/v1/no-such-operation", { body: {} }),
];
