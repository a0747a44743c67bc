import { useEffect, useState } from "preact/hooks";

/** Where the page stands: `#/tool/7f?edge=3` is the screen `tool`, of `["7f"]`, with `edge`. */
export interface Route {
  screen: string;
  of: string[];
  query: URLSearchParams;
}

function readRoute(hash: string): Route {
  const [path = "", query = ""] = hash.replace(/^#?\/?/, "").split("?", 2);
  const [screen = "", ...of] = path.split("/").map(decodeURIComponent);
  return { screen, of: of.filter((one) => one !== ""), query: new URLSearchParams(query) };
}

/** The address of a screen, for a link. */
export function hrefOf(screen: string, of: string[] = [], query: Record<string, string> = {}): string {
  const asked = new URLSearchParams(query).toString();
  return `#/${[screen, ...of].map(encodeURIComponent).join("/")}${asked && `?${asked}`}`;
}

export function useRoute(): Route {
  const [hash, setHash] = useState(location.hash);
  useEffect(() => {
    const changed = () => setHash(location.hash);
    window.addEventListener("hashchange", changed);
    return () => window.removeEventListener("hashchange", changed);
  }, []);
  return readRoute(hash);
}
