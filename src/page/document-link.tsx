import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { fetchDocument, hasKey } from "./client.js";

interface DocumentLinkProps {
  path: string;
  /** How the file is called where it is fetched with a key. */
  name: string;
  children: ComponentChildren;
}

/** A link to a document of the service; where a key is needed it is fetched with it, since a plain link carries none. */
export function DocumentLink({ path, name, children }: DocumentLinkProps) {
  const [fault, setFault] = useState("");
  const fetchIt = async () => {
    setFault("");
    try {
      const url = URL.createObjectURL(await fetchDocument(path));
      const link = Object.assign(document.createElement("a"), { href: url, download: name });
      link.click();
      setTimeout(() => URL.revokeObjectURL(url), 60_000);
    } catch (error) {
      setFault((error as Error).message);
    }
  };
  if (!hasKey())
    return (
      <a class="document" href={path} target="_blank" rel="noreferrer">
        {children}
      </a>
    );
  return (
    <>
      <button type="button" onClick={fetchIt}>
        {children}
      </button>
      {fault && <span role="alert">{fault}</span>}
    </>
  );
}
