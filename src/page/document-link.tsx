import type { ComponentChildren } from "preact";

/** A link to a document of the service; who has signed in is known by the cookie that goes with it. */
export function DocumentLink({ path, children }: { path: string; children: ComponentChildren }) {
  return (
    <a class="document" href={path} target="_blank" rel="noreferrer">
      {children}
    </a>
  );
}
