const entities: Record<string, string> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

/** A text that stays one between the tags of HTML or XML. */
export function escapeText(text: string): string {
  return text.replace(/[&<>"']/g, (character) => entities[character]!);
}
