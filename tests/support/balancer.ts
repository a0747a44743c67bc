import { connect, createServer, type Server } from "node:net";

/** Hands each connection to the next of several services, and to another where that one does not answer. */
export function createBalancer(ports: readonly number[]): Server {
  let turn = 0;
  return createServer((client) => {
    client.on("error", () => client.destroy());
    const attempt = (left: number) => {
      const port = ports[turn++ % ports.length]!;
      const service = connect(port, "127.0.0.1");
      const refused = () => (left > 1 ? attempt(left - 1) : client.destroy());
      service.once("error", refused);
      service.once("connect", () => {
        service.off("error", refused);
        service.on("error", () => client.destroy());
        service.on("close", () => client.destroy());
        client.on("close", () => service.destroy());
        client.pipe(service).pipe(client);
      });
    };
    attempt(ports.length);
  });
}
