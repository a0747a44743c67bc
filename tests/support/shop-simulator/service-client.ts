import type { components } from "../../../openapi/openapi.js";

export type Schemas = components["schemas"];

/** A request that the service did not take, with what it answered. */
class Refusal extends Error {
  constructor(
    readonly method: string,
    readonly path: string,
    readonly status: number,
    readonly text: string,
  ) {
    super(`${method} ${path}: ${status} ${text.slice(0, 600)}`);
  }
}

/** An ordinary HTTP client: JSON over connections that stay open. */
export class ServiceClient {
  requests = 0;

  constructor(private readonly address: string) {}

  get<T>(path: string): Promise<T> {
    return this.send<T>("GET", path);
  }

  post<T>(path: string, body: unknown): Promise<T> {
    return this.send<T>("POST", path, body);
  }

  private async send<T>(method: string, path: string, body?: unknown): Promise<T> {
    this.requests += 1;
    const response = await fetch(new URL(path, this.address), {
      method,
      ...(body !== undefined && {
        headers: { "content-type": "application/json" },
        body: JSON.stringify(body),
      }),
    });
    const text = await response.text();
    if (!response.ok) throw new Refusal(method, path, response.status, text);
    return JSON.parse(text) as T;
  }
}
